/** Takes lines of the drawing along with the faces that they lie on or along. */
import { type Point, point } from '../math';
import type { Edge, Face, Fold, Piece, Tab } from '../model';
import type { FlatPanel } from './flat';
import { bestMotion, moved } from './procrustes';
import { type Chain, cornersOf, type Surface } from './surface';

/** A straight side before and after. */
interface Side {
  readonly a: Point;
  readonly b: Point;
  readonly newA: Point;
  readonly newB: Point;
}

/** Points of the drawing as seen from outside. */
export const seen = (p: Point, over: boolean): Point => (over ? point(-p.x, p.y) : p);

/** The similarity that takes a side to its new place. */
export function alongSide(p: Point, { a, b, newA, newB }: Side): Point {
  const dx = b.x - a.x;
  const dy = b.y - a.y;
  const size = dx * dx + dy * dy;
  if (size === 0) return newA;
  const t = ((p.x - a.x) * dx + (p.y - a.y) * dy) / size;
  const u = ((p.y - a.y) * dx - (p.x - a.x) * dy) / size;
  const ex = newB.x - newA.x;
  const ey = newB.y - newA.y;
  return point(newA.x + t * ex - u * ey, newA.y + t * ey + u * ex);
}

function far(p: Point, { a, b }: Side): number {
  const dx = b.x - a.x;
  const dy = b.y - a.y;
  const size = dx * dx + dy * dy;
  const t = size === 0 ? 0 : Math.min(1, Math.max(0, ((p.x - a.x) * dx + (p.y - a.y) * dy) / size));
  return Math.hypot(p.x - a.x - t * dx, p.y - a.y - t * dy);
}

export function sidesOf(surface: Surface, flat: FlatPanel, chain: Chain): Side[] {
  const corners = cornersOf(surface, chain);
  const { flat: was } = surface.faces[chain.face]!;
  const now = flat.corners.get(chain.face)!;
  return corners.slice(1).map((j, k) => {
    const i = corners[k]!;
    return { a: was[i]!, b: was[j]!, newA: now[i]!, newB: now[j]! };
  });
}

/**
 * A drawn line that runs along chains, in their direction. Its ends lie exactly on the corners.
 * @param points as drawn, or none: straight from corner to corner
 */
export function lineAlong(
  surface: Surface,
  flat: FlatPanel,
  chains: readonly Chain[],
  points: readonly Point[] | null,
): Point[] {
  const sides = chains.flatMap((c) => sidesOf(surface, flat, c));
  const first = sides[0]!;
  const last = sides.at(-1)!;
  if (points === null || points.length === 2) {
    if (points !== null) return [first.newA, last.newB];
    return [first.newA, ...sides.map((s) => s.newB)];
  }
  const { over } = surface.faces[chains[0]!.face]!;
  const line = points.map((p) => seen(p, over));
  const start = line[0]!;
  const back =
    Math.hypot(start.x - first.a.x, start.y - first.a.y) > Math.hypot(start.x - last.b.x, start.y - last.b.y);
  if (back) line.reverse();
  return line.map((p, i) => {
    if (i === 0) return first.newA;
    if (i === line.length - 1) return last.newB;
    let best = first;
    for (const side of sides) if (far(p, side) < far(p, best)) best = side;
    return alongSide(p, best);
  });
}

/** Holes and folds that end inside a face go as the face goes. */
export function faceMotion(surface: Surface, flat: FlatPanel, face: number): (p: Point) => Point {
  const { flat: was, over } = surface.faces[face]!;
  const m = bestMotion(was, flat.corners.get(face)!);
  return (p) => moved(seen(p, over), m);
}

/** A piece moved as a whole. */
export function movePiece(piece: Piece, dx: number, dy: number): Piece {
  const at = (p: Point) => point(p.x + dx, p.y + dy);
  const loop = (edges: readonly Edge[]) => edges.map((e) => ({ ...e, points: e.points.map(at) }));
  return {
    ...piece,
    outline: loop(piece.outline),
    holes: piece.holes.map(loop),
    folds: piece.folds.map((f): Fold => ({ ...f, points: f.points.map(at) })),
    faces: piece.faces.map(
      (f): Face => ({ ...f, polygon: f.polygon.map(at), holes: f.holes.map((h) => h.map(at)) }),
    ),
    tabs: piece.tabs.map((t): Tab => ({ ...t, polygon: t.polygon.map(at) })),
  };
}
