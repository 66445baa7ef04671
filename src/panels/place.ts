/** Takes lines of the drawing along with the faces that they lie on or along. */
import { alongMovedSide, distanceToSegment, type MovedSide, type Point, point } from '../math';
import type { Edge, Face, Fold, Piece, Tab } from '../model';
import type { FlatPanel } from './flat';
import { bestMotion, moved } from './procrustes';
import { type Chain, cornersOf, type Surface } from './surface';

/** Points of the drawing as seen from outside. */
export const seen = (p: Point, over: boolean): Point => (over ? point(-p.x, p.y) : p);

export function sidesOf(surface: Surface, flat: FlatPanel, chain: Chain): MovedSide[] {
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
    const far = ({ a, b }: MovedSide) => distanceToSegment(p, a, b);
    for (const side of sides) if (far(side) < far(best)) best = side;
    return alongMovedSide(p, best);
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
