/**
 * Sheets turned into outlines, edges, folds and faces, still without names and ids.
 *
 * An outline walks the paper's boundary with the paper to its left: counter-clockwise outside, clockwise round
 * openings, along both sides of a slit. A corner between two edges stands wherever a line was drawn to end there,
 * even when the outline runs straight on, and wherever a fold ends; only curves that run on smoothly are one edge.
 */
import { distance, dot, type Point, ringArea } from '../math';
import { comparePoints, type Subdivision } from '../plane';
import type { Mm, Mm2 } from '../units';
import { turnAt } from './blocks';
import type { Ink } from './ink';
import type { LinkKind, Sheets } from './sheets';
import { smoothTurn } from './tolerance';

export interface RawEdge {
  readonly points: readonly Point[];
  readonly curved: boolean;
  readonly halfEdges: readonly number[];
}

export interface RawFold {
  readonly points: readonly Point[];
  readonly kind: LinkKind;
  /** Faces of the subdivision to the left and right. */
  readonly left: number;
  readonly right: number;
  readonly halfEdges: readonly number[];
}

export interface RawFace {
  readonly face: number;
  readonly sides: readonly RawSide[];
  readonly polygon: readonly Point[];
  readonly holes: readonly (readonly Point[])[];
}

export type RawSide =
  | { readonly kind: 'edge'; readonly edge: RawEdge }
  | { readonly kind: 'fold'; readonly fold: RawFold; readonly forward: boolean };

export interface RawPiece {
  readonly outline: readonly RawEdge[];
  readonly holes: readonly (readonly RawEdge[])[];
  readonly folds: readonly RawFold[];
  readonly faces: readonly RawFace[];
  /** Area of the paper. */
  readonly area: Mm2;
  /** Length of outline along lines that were drawn as folds, tab bases left out. */
  readonly foldOutline: Mm;
}

/** Strokes whose ends at a tab's foot are no corners, see tab insets in `readPattern`. */
export type IsNoCorner = (node: number) => boolean;

/** Builds all pieces, in the order of sheets. */
export function assemblePieces(
  sheets: Sheets,
  ink: Ink,
  isNoCorner: IsNoCorner,
  isTabBase: (link: number) => boolean,
): RawPiece[] {
  const { s, kinds, sheetOf } = sheets;
  const boundary = new Uint8Array(s.origin.length);
  for (let h = 0; h < s.origin.length; h++) {
    const own = sheetOf[s.faceOf[h]!]!;
    if (own < 0) continue;
    const across = sheetOf[s.faceOf[h ^ 1]!]!;
    const outerSide = s.loops[s.loopOf[h]!]!.outer || s.loops[s.loopOf[h ^ 1]!]!.outer;
    if (kinds[h >> 1] === 'cut' || across !== own || outerSide) boundary[h] = 1;
  }
  const runs = new Continuity(s, ink, isNoCorner);
  const loopsOf: number[][][] = sheets.sheets.map(() => []);
  const seen = new Uint8Array(s.origin.length);
  for (let start = 0; start < s.origin.length; start++) {
    if (!boundary[start] || seen[start]) continue;
    const loop: number[] = [];
    for (let h = start; !seen[h]; h = nextBoundary(s, boundary, h)) {
      seen[h] = 1;
      loop.push(h);
    }
    loopsOf[sheetOf[s.faceOf[start]!]!]!.push(loop);
  }
  return sheets.sheets.map((faces, i) => {
    const loops = loopsOf[i]!.map((halfEdges) => ({
      halfEdges,
      area: ringArea(halfEdges.map((h) => s.nodes[s.origin[h]!]!)),
    }));
    loops.sort((a, b) => b.area - a.area);
    const edgeOf = new Map<number, RawEdge>();
    const rings = loops.map((l) => edgesOfLoop(s, runs, l.halfEdges, edgeOf, boundary));
    const foldOf = new Map<number, RawFold>();
    const folds = foldsOf(s, kinds, faces, runs, boundary, foldOf);
    const rawFaces = faces.map((f) => faceFrom(s, f, edgeOf, foldOf));
    let foldOutline = 0;
    for (const h of loops[0]?.halfEdges ?? [])
      if (kinds[h >> 1] !== 'cut' && kinds[h >> 1] !== 'either' && !isTabBase(h >> 1))
        foldOutline += distance(s.nodes[s.origin[h]!]!, s.nodes[s.origin[h ^ 1]!]!);
    return {
      outline: rings[0] ?? [],
      holes: sortHoles(rings.slice(1)),
      folds,
      faces: rawFaces,
      area: loops.reduce((sum, l) => sum + l.area, 0),
      foldOutline,
    };
  });
}

/** The next boundary half-edge: round the end of h through the paper, over folds. */
function nextBoundary(s: Subdivision, boundary: Uint8Array, h: number): number {
  let n = s.next[h]!;
  while (!boundary[n]) n = s.next[n ^ 1]!;
  return n;
}

/** Knows whether one half-edge continues another as the same drawn line. */
class Continuity {
  private readonly keys: readonly (readonly number[])[];

  constructor(
    private readonly s: Subdivision,
    private readonly ink: Ink,
    readonly isNoCorner: IsNoCorner,
  ) {
    this.keys = s.links.map((l) => l.strokes.map((k) => keyOf(ink, k >> 1)));
  }

  curved(h: number): boolean {
    const strokes = this.s.links[h >> 1]!.strokes;
    return strokes.every((k) => this.ink.strokes[k >> 1]!.curved);
  }

  /** True when `b`, which follows `a`, is drawn as one line with it. */
  runsOn(a: number, b: number): boolean {
    if ((a ^ 1) === b) return false;
    const node = this.s.origin[b]!;
    if (this.isNoCorner(node) && this.straightOn(a, b)) return true;
    const own = this.keys[a >> 1]!;
    if (this.keys[b >> 1]!.some((k) => own.includes(k))) return this.curved(a) || this.straightOn(a, b);
    return this.curved(a) && this.curved(b) && this.smooth(a, b);
  }

  private straightOn(a: number, b: number): boolean {
    const p = this.s.nodes[this.s.origin[a]!]!;
    const q = this.s.nodes[this.s.origin[b]!]!;
    const r = this.s.nodes[this.s.origin[b ^ 1]!]!;
    return Math.abs(turnAt(p, q, r)) < Math.PI / 4;
  }

  /** Compares the curves' own directions where they meet: chords of a tight curve turn even where it is smooth. */
  private smooth(a: number, b: number): boolean {
    const arriving = this.directions(a, 'in');
    const leaving = this.directions(b, 'out');
    const most = Math.cos(smoothTurn);
    return arriving.some((p) => leaving.some((q) => dot(p, q) >= most));
  }

  private directions(h: number, end: 'in' | 'out'): Point[] {
    return this.s.links[h >> 1]!.strokes.flatMap((k) => {
      const stroke = this.ink.strokes[k >> 1]!;
      const t = this.ink.lines[stroke.line]!.tangents.get(stroke.segment);
      if (!t) return [];
      // Along the stroke's own direction, or against it.
      const along = ((k ^ h) & 1) === 0;
      const d = end === 'in' ? (along ? t.in : t.out) : along ? t.out : t.in;
      return [along ? d : { x: -d.x, y: -d.y }];
    });
  }
}

/** One number for a line's segment. */
function keyOf(ink: Ink, stroke: number): number {
  const s = ink.strokes[stroke]!;
  return s.line * 65536 + s.segment;
}

function edgesOfLoop(
  s: Subdivision,
  runs: Continuity,
  loop: readonly number[],
  edgeOf: Map<number, RawEdge>,
  boundary: Uint8Array,
): RawEdge[] {
  // A fold ends between two boundary half-edges that do not follow each other in their face.
  const breaks = loop.map((h, i) => {
    const before = loop[(i + loop.length - 1) % loop.length]!;
    return s.next[before] !== h || !boundary[s.next[before]!] || !runs.runsOn(before, h);
  });
  const chains = chainsOf(loop, breaks, (h) => s.nodes[s.origin[h]!]!);
  const edges = chains.map((halfEdges): RawEdge => {
    const curved = halfEdges.some((h) => runs.curved(h));
    const edge = { points: chainPoints(s, halfEdges, curved), curved, halfEdges };
    for (const h of halfEdges) edgeOf.set(h, edge);
    return edge;
  });
  return startAtSmallest(edges);
}

/** Splits a closed walk at its breaks; a walk without breaks starts at its smallest point. */
function chainsOf(loop: readonly number[], breaks: readonly boolean[], at: (h: number) => Point): number[][] {
  let first = breaks.indexOf(true);
  if (first < 0) {
    first = 0;
    loop.forEach((h, i) => {
      if (compareRounded(at(h), at(loop[first]!)) < 0) first = i;
    });
    return [[...loop.slice(first), ...loop.slice(0, first)]];
  }
  const chains: number[][] = [];
  for (let k = 0; k < loop.length; k++) {
    const i = (first + k) % loop.length;
    if (breaks[i]) chains.push([]);
    chains[chains.length - 1]!.push(loop[i]!);
  }
  return chains;
}

/** Points of a chain; a straight one keeps its two ends only. */
function chainPoints(s: Subdivision, halfEdges: readonly number[], curved: boolean): Point[] {
  const first = s.nodes[s.origin[halfEdges[0]!]!]!;
  const last = s.nodes[s.origin[halfEdges[halfEdges.length - 1]! ^ 1]!]!;
  if (!curved) return [first, last];
  return [...halfEdges.map((h) => s.nodes[s.origin[h]!]!), last];
}

/** Places closer than this are in order by y alone: rounding must not decide which corner comes first. */
const orderGrid: Mm = 0.001;

export function compareRounded(a: Point, b: Point): number {
  return (
    Math.round(a.x / orderGrid) - Math.round(b.x / orderGrid) ||
    Math.round(a.y / orderGrid) - Math.round(b.y / orderGrid) ||
    comparePoints(a, b)
  );
}

function startAtSmallest(edges: readonly RawEdge[]): RawEdge[] {
  let first = 0;
  edges.forEach((e, i) => {
    if (compareRounded(e.points[0]!, edges[first]!.points[0]!) < 0) first = i;
  });
  return [...edges.slice(first), ...edges.slice(0, first)];
}

function sortHoles(holes: readonly RawEdge[][]): RawEdge[][] {
  return [...holes].sort((a, b) => compareRounded(a[0]!.points[0]!, b[0]!.points[0]!));
}

function foldsOf(
  s: Subdivision,
  kinds: readonly LinkKind[],
  faces: readonly number[],
  runs: Continuity,
  boundary: Uint8Array,
  foldOf: Map<number, RawFold>,
): RawFold[] {
  const folds: RawFold[] = [];
  const done = new Set<number>();
  const isFold = (h: number) => !boundary[h] && !boundary[h ^ 1];
  const follow = (h: number): number | null => {
    const node = s.origin[h ^ 1]!;
    if (s.leaving[node]!.length !== 2) return null;
    const n = s.next[h]!;
    return isFold(n) && kinds[n >> 1] === kinds[h >> 1] && runs.runsOn(h, n) ? n : null;
  };
  for (const f of faces)
    for (const start of s.loops[s.faces[f]!.loop]!.halfEdges) {
      if (!isFold(start) || done.has(start >> 1)) continue;
      const chain = [start];
      done.add(start >> 1);
      for (let n = follow(start); n !== null && !done.has(n >> 1); n = follow(n)) {
        chain.push(n);
        done.add(n >> 1);
      }
      for (let n = follow(start ^ 1); n !== null && !done.has(n >> 1); n = follow(n)) {
        chain.unshift(n ^ 1);
        done.add(n >> 1);
      }
      const first = s.nodes[s.origin[chain[0]!]!]!;
      const last = s.nodes[s.origin[chain[chain.length - 1]! ^ 1]!]!;
      const walk = compareRounded(first, last) <= 0 ? chain : chain.map((h) => h ^ 1).reverse();
      const fold: RawFold = {
        points: chainPoints(
          s,
          walk,
          walk.some((h) => runs.curved(h)),
        ),
        kind: kinds[start >> 1]!,
        left: s.faceOf[walk[0]!]!,
        right: s.faceOf[walk[0]! ^ 1]!,
        halfEdges: walk,
      };
      for (const h of walk) foldOf.set(h, fold);
      folds.push(fold);
    }
  return folds.sort(
    (a, b) =>
      compareRounded(a.points[0]!, b.points[0]!) ||
      compareRounded(a.points[a.points.length - 1]!, b.points[b.points.length - 1]!),
  );
}

function faceFrom(
  s: Subdivision,
  face: number,
  edgeOf: ReadonlyMap<number, RawEdge>,
  foldOf: ReadonlyMap<number, RawFold>,
): RawFace {
  const sideOf = (h: number): RawSide => {
    const edge = edgeOf.get(h);
    if (edge) return { kind: 'edge', edge };
    const forward = foldOf.get(h);
    if (forward) return { kind: 'fold', fold: forward, forward: true };
    return { kind: 'fold', fold: foldOf.get(h ^ 1)!, forward: false };
  };
  const same = (a: RawSide, b: RawSide) =>
    a.kind === 'edge'
      ? b.kind === 'edge' && a.edge === b.edge
      : b.kind === 'fold' && a.fold === b.fold && a.forward === b.forward;
  const walk = s.loops[s.faces[face]!.loop]!.halfEdges;
  const all = walk.map(sideOf);
  let start = all.findIndex((side, i) => !same(side, all[(i + all.length - 1) % all.length]!));
  if (start < 0) start = Math.max(0, walk.indexOf(all[0]!.kind === 'edge' ? all[0]!.edge.halfEdges[0]! : -1));
  const sides: RawSide[] = [];
  for (let k = 0; k < all.length; k++) {
    const side = all[(start + k) % all.length]!;
    const last = sides[sides.length - 1];
    if (!last || !same(last, side)) sides.push(side);
  }
  const polygon = sides.flatMap((side) => {
    const points =
      side.kind === 'edge'
        ? side.edge.points
        : side.forward
          ? side.fold.points
          : [...side.fold.points].reverse();
    return points.slice(0, -1);
  });
  const smallest = smallestSide(sides);
  const turned = [...sides.slice(smallest), ...sides.slice(0, smallest)];
  const skipped = sides.slice(0, smallest).reduce((n, side) => n + pointCount(side) - 1, 0);
  const holes = s.faces[face]!.inner.map((l) => s.loops[l]!.halfEdges.map((h) => s.nodes[s.origin[h]!]!));
  return {
    face,
    sides: turned,
    polygon: [...polygon.slice(skipped), ...polygon.slice(0, skipped)],
    holes: holes.filter((ring) => ring.length > 2),
  };
}

const pointCount = (side: RawSide) =>
  side.kind === 'edge' ? side.edge.points.length : side.fold.points.length;

function smallestSide(sides: readonly RawSide[]): number {
  const startOf = (side: RawSide): Point => {
    if (side.kind === 'edge') return side.edge.points[0]!;
    return side.forward ? side.fold.points[0]! : side.fold.points[side.fold.points.length - 1]!;
  };
  let best = 0;
  sides.forEach((side, i) => {
    if (compareRounded(startOf(side), startOf(sides[best]!)) < 0) best = i;
  });
  return best;
}
