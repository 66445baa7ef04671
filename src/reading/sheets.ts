/**
 * Which faces of the drawing are paper, and which of them hang together. A line seen as a cut separates the faces
 * beside it; any other line between two faces joins them. Faces joined by folds make one sheet, the later piece.
 *
 * Reading from the outside in: a closed part in empty space is paper, a part inside a face of paper is an opening, a
 * part inside an opening is paper again. A face that only cuts bound and that one sheet surrounds is an opening too.
 */
import Flatbush from 'flatbush';
import { distance, type Point } from '../math';
import { bridges, type StrokeGraph, type Subdivision, splitAtCrossings, subdivide } from '../plane';
import type { Mm } from '../units';
import { gapLimit, shortestSlit } from './tolerance';

/** `either`: drawn like the cuts in a drawing that draws folds like cuts; a fold wherever paper lies on both sides. */
export type LinkKind = 'cut' | 'mountain' | 'valley' | 'fold' | 'either';

export interface Sheets {
  readonly s: Subdivision;
  readonly kinds: readonly LinkKind[];
  /** For each face the number of its sheet, −1 where there is no paper. */
  readonly sheetOf: Int32Array;
  /** Faces of each sheet. */
  readonly sheets: readonly (readonly number[])[];
  /** Links left out, with the reason, as pairs of points with their strokes. */
  readonly left: readonly LeftLink[];
  /** Free ends that stop a little short of something. */
  readonly gaps: readonly Gap[];
  /** Slits that were read as cuts going into a piece. */
  readonly slits: number;
  /** Parts with folds of their own that lie inside a face. */
  readonly buried: readonly Point[];
}

export interface LeftLink {
  readonly strokes: readonly number[];
  readonly a: Point;
  readonly b: Point;
  readonly reason: 'dangling' | 'not-closed' | 'outside-all-pieces';
}

export interface Gap {
  readonly at: Point;
  readonly width: Mm;
  /** Strokes of the line that ends there. */
  readonly strokes: readonly number[];
}

/** Answers what a link is from the strokes along it and its two nodes. */
export type KindOf = (strokes: readonly number[], from: number, to: number) => LinkKind;

export function findSheets(
  graph: StrokeGraph,
  kindOf: KindOf,
  coveredByClosed: (p: Point) => boolean,
): Sheets {
  const crossed = splitAtCrossings(graph);
  const whole = subdivide(crossed.nodes, crossed.links);
  const kinds = whole.links.map((l) => kindOf(l.strokes, l.from, l.to));
  const loose = bridges(whole);
  const trees = bridgeTrees(whole, loose);
  const gaps: Gap[] = [];
  const left: LeftLink[] = [];
  const keep = loose.map((l) => !l);
  let slits = 0;
  const leave = (links: readonly number[], reason: LeftLink['reason']) => {
    for (const i of links) {
      const l = whole.links[i]!;
      left.push({ strokes: l.strokes, a: whole.nodes[l.from]!, b: whole.nodes[l.to]!, reason });
    }
  };
  const gapsOf = gapFinder(whole);
  for (const tree of trees) {
    const treeGaps = tree.freeEnds.flatMap((n) => gapsOf(n));
    gaps.push(...treeGaps);
    const length = tree.links.reduce((sum, i) => sum + linkLength(whole, i), 0);
    const isCut = tree.links.every((i) => kinds[i] === 'cut' || kinds[i] === 'either');
    const inFace = whole.faceOf[2 * tree.links[0]!]! !== 0;
    if (tree.attached && isCut && inFace && length >= shortestSlit && treeGaps.length === 0) {
      for (const i of tree.links) keep[i] = true;
      slits++;
    } else
      leave(
        tree.links,
        tree.attached ? 'dangling' : tree.links.length > 2 && isCut ? 'not-closed' : 'outside-all-pieces',
      );
  }
  const chosen = whole.links.flatMap((_, i) => (keep[i] ? [i] : []));
  const s =
    chosen.length === whole.links.length
      ? whole
      : subdivide(
          whole.nodes,
          chosen.map((i) => whole.links[i]!),
        );
  const kept = chosen.map((i) => kinds[i]!);
  const { sheetOf, sheets, buried } = paper(s, kept, coveredByClosed);
  // A slit outside all paper is only a line that hangs on something.
  for (let i = 0; i < s.links.length; i++) {
    const l = s.links[i]!;
    if (s.loopOf[2 * i] !== s.loopOf[2 * i + 1] || sheetOf[s.faceOf[2 * i]!]! >= 0) continue;
    left.push({ strokes: l.strokes, a: s.nodes[l.from]!, b: s.nodes[l.to]!, reason: 'dangling' });
  }
  return { s, kinds: kept, sheetOf, sheets, left, gaps, slits, buried };
}

const linkLength = (s: Subdivision, i: number): Mm =>
  distance(s.nodes[s.links[i]!.from]!, s.nodes[s.links[i]!.to]!);

interface BridgeTree {
  readonly links: readonly number[];
  readonly attached: boolean;
  readonly freeEnds: readonly number[];
}

/** Bridges grouped where they meet outside closed parts. */
function bridgeTrees(s: Subdivision, loose: readonly boolean[]): BridgeTree[] {
  const solid = new Uint8Array(s.nodes.length);
  s.links.forEach((l, i) => {
    if (loose[i]) return;
    solid[l.from] = 1;
    solid[l.to] = 1;
  });
  const seen = new Set<number>();
  const trees: BridgeTree[] = [];
  s.links.forEach((_, start) => {
    if (!loose[start] || seen.has(start)) return;
    const links: number[] = [];
    const freeEnds: number[] = [];
    let attached = false;
    const stack = [start];
    seen.add(start);
    while (stack.length > 0) {
      const i = stack.pop()!;
      links.push(i);
      for (const n of [s.links[i]!.from, s.links[i]!.to]) {
        if (solid[n]) {
          attached = true;
          continue;
        }
        if (s.leaving[n]!.length === 1) freeEnds.push(n);
        for (const h of s.leaving[n]!)
          if (!seen.has(h >> 1)) {
            seen.add(h >> 1);
            stack.push(h >> 1);
          }
      }
    }
    trees.push({ links: links.sort((a, b) => a - b), attached, freeEnds: freeEnds.sort((a, b) => a - b) });
  });
  return trees;
}

/** For a free end: the nearest thing beyond the join distance but within the gap limit. */
function gapFinder(s: Subdivision): (node: number) => Gap[] {
  // Most drawings have no free ends: the index is made for the first one.
  let near: ((p: Point) => readonly number[]) | null = null;
  return (node) => {
    const p = s.nodes[node]!;
    const own = s.leaving[node]![0]! >> 1;
    const far = s.origin[s.leaving[node]![0]! ^ 1]!;
    if (linkLength(s, own) <= gapLimit) return [];
    let width = Number.POSITIVE_INFINITY;
    near ??= linksNear(s, gapLimit);
    for (const i of near(p)) {
      const l = s.links[i]!;
      if (i === own) continue;
      // A neighbour at the far end would be near any short line; only what lies ahead counts.
      if (l.from === far || l.to === far) continue;
      width = Math.min(width, distanceToStretch(p, s.nodes[l.from]!, s.nodes[l.to]!));
    }
    return width <= gapLimit ? [{ at: p, width, strokes: s.links[own]!.strokes }] : [];
  };
}

/** Links that come within `reach` of a point, and some that do not. */
function linksNear(s: Subdivision, reach: Mm): (p: Point) => readonly number[] {
  const index = new Flatbush(s.links.length);
  for (const l of s.links) {
    const a = s.nodes[l.from]!;
    const b = s.nodes[l.to]!;
    index.add(Math.min(a.x, b.x), Math.min(a.y, b.y), Math.max(a.x, b.x), Math.max(a.y, b.y));
  }
  index.finish();
  return (p) => index.search(p.x - reach, p.y - reach, p.x + reach, p.y + reach);
}

export function distanceToStretch(p: Point, a: Point, b: Point): Mm {
  const dx = b.x - a.x;
  const dy = b.y - a.y;
  const square = dx * dx + dy * dy;
  const t = square === 0 ? 0 : Math.max(0, Math.min(1, ((p.x - a.x) * dx + (p.y - a.y) * dy) / square));
  return Math.hypot(p.x - a.x - dx * t, p.y - a.y - dy * t);
}

function paper(s: Subdivision, kinds: readonly LinkKind[], coveredByClosed: (p: Point) => boolean) {
  const group = joinedFaces(s, kinds);
  const members = new Map<number, number[]>();
  for (let f = 1; f < s.faces.length; f++) {
    const g = group[f]!;
    const list = members.get(g);
    if (list) list.push(f);
    else members.set(g, [f]);
  }
  const isPaper = new Int8Array(s.faces.length);
  const buried: Point[] = [];
  const partsIn: number[][] = s.faces.map(() => []);
  s.parts.forEach((p, i) => {
    partsIn[p.within]!.push(i);
  });
  const visit = (face: number) => {
    for (const p of partsIn[face]!) {
      const part = s.parts[p]!;
      if (isPaper[face]) {
        // An opening. With folds of its own it may be something else: worth a look.
        const inner =
          part.faces.length > 1 && new Set(part.faces.map((f) => group[f])).size < part.faces.length;
        if (inner) buried.push(s.nodes[s.origin[s.loops[part.outerLoop]!.halfEdges[0]!]!]!);
      } else markPaper(s, part.faces, members, group, isPaper, coveredByClosed);
      for (const f of part.faces) visit(f);
    }
  };
  visit(0);
  const sheetOf = new Int32Array(s.faces.length).fill(-1);
  const sheets: number[][] = [];
  for (const faces of members.values()) {
    const paperFaces = faces.filter((f) => isPaper[f]);
    if (paperFaces.length === 0) continue;
    for (const f of paperFaces) sheetOf[f] = sheets.length;
    sheets.push(paperFaces);
  }
  return { sheetOf, sheets, buried };
}

/** Faces joined across everything that is not a cut. */
function joinedFaces(s: Subdivision, kinds: readonly LinkKind[]): Int32Array {
  const parent = Int32Array.from(s.faces.keys());
  const rootOf = (i: number): number => {
    let r = i;
    while (parent[r] !== r) r = parent[r]!;
    while (parent[i] !== r) {
      const up = parent[i]!;
      parent[i] = r;
      i = up;
    }
    return r;
  };
  s.links.forEach((_, i) => {
    if (kinds[i] === 'cut') return;
    const a = s.loops[s.loopOf[2 * i]!]!;
    const b = s.loops[s.loopOf[2 * i + 1]!]!;
    if (a.outer || b.outer) return;
    parent[rootOf(s.faceOf[2 * i]!)] = rootOf(s.faceOf[2 * i + 1]!);
  });
  return Int32Array.from(parent.keys(), rootOf);
}

/** Marks the paper among the faces of a part that lies in empty space. */
function markPaper(
  s: Subdivision,
  faces: readonly number[],
  members: ReadonlyMap<number, readonly number[]>,
  group: Int32Array,
  isPaper: Int8Array,
  coveredByClosed: (p: Point) => boolean,
): void {
  const groups = [...new Set(faces.map((f) => group[f]!))];
  for (const f of faces) isPaper[f] = 1;
  if (groups.length < 2) return;
  // Closed outlines say which single faces are paper; a gap between pieces that touch lies in none of them.
  const covered = new Map(groups.map((g) => [g, coveredByClosed(insidePoint(s, members.get(g)![0]!))]));
  const someCovered = [...covered.values()].some((c) => c);
  for (const g of groups) {
    const own = members.get(g)!;
    if (own.length > 1) continue;
    const face = own[0]!;
    let open = false;
    const neighbours = new Set<number>();
    for (const h of s.loops[s.faces[face]!.loop]!.halfEdges) {
      const across = s.loops[s.loopOf[h ^ 1]!]!;
      if (across.outer) open = true;
      else if (s.faceOf[h ^ 1] !== face) neighbours.add(group[s.faceOf[h ^ 1]!]!);
    }
    const surrounded = !open && neighbours.size === 1;
    const between = !open && neighbours.size > 1 && !covered.get(g);
    const gap = someCovered && !covered.get(g);
    if (surrounded || between || gap) isPaper[face] = 0;
  }
}

/** A point inside a face: beside the middle of its longest link, as near as the face is narrow. */
export function insidePoint(s: Subdivision, face: number): Point {
  const walk = s.loops[s.faces[face]!.loop]!.halfEdges;
  const ring = walk.map((h) => s.nodes[s.origin[h]!]!);
  let best = 0;
  let length = -1;
  ring.forEach((p, i) => {
    const d = distance(p, ring[(i + 1) % ring.length]!);
    if (d > length) {
      length = d;
      best = i;
    }
  });
  const a = ring[best]!;
  const b = ring[(best + 1) % ring.length]!;
  const m = { x: (a.x + b.x) / 2, y: (a.y + b.y) / 2 };
  const inward = { x: -(b.y - a.y) / length, y: (b.x - a.x) / length };
  // The nearest crossing of the ray into the face, half-way.
  let reach = Number.POSITIVE_INFINITY;
  ring.forEach((p, i) => {
    if (i === best) return;
    const q = ring[(i + 1) % ring.length]!;
    const along = (v: Point) => (v.x - m.x) * -inward.y + (v.y - m.y) * inward.x;
    const up = (v: Point) => (v.x - m.x) * inward.x + (v.y - m.y) * inward.y;
    const s0 = along(p);
    const s1 = along(q);
    if (s0 > 0 === s1 > 0) return;
    const t = s0 / (s0 - s1);
    const h = up(p) + (up(q) - up(p)) * t;
    if (h > 0) reach = Math.min(reach, h);
  });
  const half = Number.isFinite(reach) ? reach / 2 : 0;
  return { x: m.x + inward.x * half, y: m.y + inward.y * half };
}
