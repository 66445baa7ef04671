/** Assembled pieces in reading order, with ids, names, tabs and numbers. */
import { boxOf, type Point, ringArea } from '../math';
import {
  type Edge,
  type EdgeLabel,
  type Face,
  type FaceSide,
  type Fold,
  type Piece,
  stableId,
  type Tab,
} from '../model';
import type { Subdivision } from '../plane';
import type { Mm, Rad } from '../units';
import type { RawEdge, RawFace, RawFold, RawPiece } from './assemble';
import type { Ink } from './ink';
import { namePieces, readingOrder } from './names';
import { bindNumbers, halfWay, insideRing, type TabArea } from './numbers';
import { distanceToStretch } from './sheets';
import type { PlannedTab, TabPlan } from './tabPlan';

export interface Finished {
  readonly pieces: readonly Piece[];
  readonly labels: readonly EdgeLabel[];
  /** Codes beside no edge (indices of texts) that did not become names. */
  readonly unbound: readonly number[];
  /** Tabs whose edge could not be found. */
  readonly strayTabs: readonly PlannedTab[];
}

/** `captions` are texts with another meaning; `reach` the longer side of the drawing. */
export function finishPieces(
  raw: readonly RawPiece[],
  s: Subdivision,
  tabs: TabPlan,
  ink: Ink,
  reach: Mm,
  captions: ReadonlySet<number>,
): Finished {
  const order = readingOrder(raw.map((p) => boxOf(ringOf(p))));
  const sorted = order.map((i) => raw[i]!);
  const taken = new Set<string>(tabs.tabs.map((t) => t.id));
  const id = (prefix: string, at: Point) => stableId(prefix, ink.home(at), reach, taken);
  const edges = new Map<RawEdge, Edge>();
  const parts = sorted.map((piece) => {
    const make = (e: RawEdge): Edge => {
      const edge = { id: id('e', halfWay(e.points)), points: e.points, curved: e.curved };
      edges.set(e, edge);
      return edge;
    };
    const pieceId = id('p', centroid(ringOf(piece)));
    const outline = piece.outline.map(make);
    const holes = piece.holes.map((h) => h.map(make));
    const faceId = new Map(piece.faces.map((f) => [f.face, id('f', centroid(f.polygon))]));
    const foldIds = new Map(piece.folds.map((f) => [f, id('k', halfWay(f.points))]));
    const folds = piece.folds.map((f) => foldFrom(f, foldIds, faceId, givenBend(f, s, ink)));
    const faces = [...piece.faces]
      .map((f) => faceFrom(f, faceId, edges, foldIds))
      .sort((a, b) => centroidOrder(a.polygon, b.polygon));
    return { pieceId, outline, holes, folds, faces };
  });
  const { tabsOf, strayTabs } = placeTabs(sorted, edges, s, tabs);
  const numbered = parts.flatMap((p) => [...p.outline, ...p.holes.flat()]);
  const areas = tabsOf.flatMap((list) => list.map((t): TabArea => ({ polygon: t.polygon, edge: t.edge })));
  const numbers = bindNumbers(ink.texts, numbered, areas, captions, pieceFinder(sorted));
  const boundTexts = new Set(numbers.labels.map((l) => l.source));
  const usable = ink.texts.flatMap((t, i) => (!captions.has(i) && !boundTexts.has(t.id) ? [i] : []));
  const names = namePieces(
    sorted.map((p) => ({ ring: ringOf(p) })),
    ink.texts,
    usable,
  );
  const nameTexts = new Set(names);
  const pieces = parts.map(
    (p, i): Piece => ({
      id: p.pieceId,
      name: names[i]!,
      outline: p.outline,
      holes: p.holes,
      folds: p.folds,
      faces: p.faces,
      tabs: tabsOf[i]!,
    }),
  );
  return {
    pieces,
    labels: numbers.labels,
    unbound: numbers.unbound.filter((t) => !nameTexts.has(ink.texts[t]!.text.trim())),
    strayTabs,
  };
}

const ringOf = (p: RawPiece): Point[] => p.outline.flatMap((e) => e.points.slice(0, -1));

/** The bend that the file gives for the lines along a fold; none where they differ. */
function givenBend(f: RawFold, s: Subdivision, ink: Ink): Rad | null {
  const given = f.halfEdges
    .flatMap((h) => s.links[h >> 1]!.strokes)
    .map((k) => ink.lines[ink.strokes[k >> 1]!.line]!.line.bend ?? null);
  const first = given[0] ?? null;
  return given.every((bend) => bend === first) ? first : null;
}

function foldFrom(
  f: RawFold,
  ids: ReadonlyMap<RawFold, string>,
  faceId: ReadonlyMap<number, string>,
  given: Rad | null,
): Fold {
  return {
    id: ids.get(f)!,
    points: f.points,
    role: f.kind === 'mountain' || f.kind === 'valley' ? f.kind : 'unknown',
    ...(given === null ? {} : { givenBend: given }),
    left: faceId.get(f.left)!,
    right: faceId.get(f.right)!,
  };
}

function faceFrom(
  f: RawFace,
  faceId: ReadonlyMap<number, string>,
  edges: ReadonlyMap<RawEdge, Edge>,
  foldIds: ReadonlyMap<RawFold, string>,
): Face {
  return {
    id: faceId.get(f.face)!,
    polygon: f.polygon,
    sides: f.sides.map(
      (side): FaceSide =>
        side.kind === 'edge'
          ? { kind: 'edge', id: edges.get(side.edge)!.id, forward: true }
          : { kind: 'fold', id: foldIds.get(side.fold)!, forward: side.forward },
    ),
    holes: f.holes,
  };
}

/** Centre of area of a ring. */
export function centroid(ring: readonly Point[]): Point {
  const area = ringArea(ring);
  const o = ring[0] ?? { x: 0, y: 0 };
  if (area === 0) return o;
  let x = 0;
  let y = 0;
  for (let i = 1; i + 1 < ring.length; i++) {
    const p = ring[i]!;
    const q = ring[i + 1]!;
    const a = ((p.x - o.x) * (q.y - o.y) - (p.y - o.y) * (q.x - o.x)) / 2;
    x += (a * (p.x + q.x - 2 * o.x)) / 3;
    y += (a * (p.y + q.y - 2 * o.y)) / 3;
  }
  return { x: o.x + x / area, y: o.y + y / area };
}

/** From the top down, then left to right. */
function centroidOrder(a: readonly Point[], b: readonly Point[]): number {
  const p = centroid(a);
  const q = centroid(b);
  return q.y - p.y || p.x - q.x;
}

/** The piece whose outline holds a point, −1 for none. */
function pieceFinder(pieces: readonly RawPiece[]): (p: Point) => number {
  const rings = pieces.map(ringOf);
  const boxes = rings.map((r) => boxOf(r));
  return (p) =>
    rings.findIndex((ring, i) => {
      const b = boxes[i]!;
      return p.x >= b.minX && p.x <= b.maxX && p.y >= b.minY && p.y <= b.maxY && insideRing(p, ring);
    });
}

/** Gives each tab to the piece whose edge it stands on. */
function placeTabs(
  raw: readonly RawPiece[],
  edges: ReadonlyMap<RawEdge, Edge>,
  s: Subdivision,
  plan: TabPlan,
) {
  const tabsOf: Tab[][] = raw.map(() => []);
  const strayTabs: PlannedTab[] = [];
  const touching = new Map<number, { edge: RawEdge; piece: number }[]>();
  raw.forEach((piece, i) => {
    for (const edge of [...piece.outline, ...piece.holes.flat()])
      for (const h of edge.halfEdges)
        for (const n of [s.origin[h]!, s.origin[h ^ 1]!]) {
          const list = touching.get(n) ?? [];
          if (!list.some((t) => t.edge === edge)) list.push({ edge, piece: i });
          touching.set(n, list);
        }
  });
  for (const t of plan.tabs) {
    const [a, b] = [t.flap.nodes[0]!, t.flap.nodes[1]!];
    const at = (n: number) => touching.get(n) ?? [];
    // A kept tab is part of the outline: its own outer side stands for it.
    const [p, q] = t.kept ? [t.flap.nodes[2]!, t.flap.nodes[t.flap.nodes.length - 1]!] : [a, b];
    const shared = at(p).filter((x) => at(q).some((y) => y.edge === x.edge));
    // A base drawn in parts has become several edges: the one nearest to the tab's middle stands for them.
    const both = shared.length > 0 ? shared : [...at(p), ...at(q)];
    const m = { x: (s.nodes[p]!.x + s.nodes[q]!.x) / 2, y: (s.nodes[p]!.y + s.nodes[q]!.y) / 2 };
    both.sort((x, y) => farFrom(m, x.edge) - farFrom(m, y.edge));
    const best = both[0];
    if (!best) {
      strayTabs.push(t);
      continue;
    }
    tabsOf[best.piece]!.push({
      id: t.id,
      polygon: t.flap.polygon,
      edge: edges.get(best.edge)!.id,
      kept: t.kept,
    });
  }
  return { tabsOf, strayTabs };
}

function farFrom(p: Point, edge: RawEdge): Mm {
  let best = Number.POSITIVE_INFINITY;
  for (let i = 1; i < edge.points.length; i++)
    best = Math.min(best, distanceToStretch(p, edge.points[i - 1]!, edge.points[i]!));
  return best;
}
