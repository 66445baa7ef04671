/** What is drawn on a piece, where it lies once the piece is flat. */
import { alongMovedSide, dot, type Point, subtract } from '../math';
import type { Edge, Piece } from '../model';
import { drawnPart, orderAlong } from './drawnLines';
import type { Nodes } from './flatNodes';
import type { DrawnStretch, NeutralStretch } from './neutralOutline';
import { type FoamNet, innerNeighbour } from './surface';

/** The piece where it lies now; what has no place in the net (a fold that ends inside a face) goes with its ends. */
export function flatPiece(
  net: FoamNet,
  faces: readonly number[],
  nodes: Nodes,
  flat: readonly Point[],
  drawn: Piece,
  target: Piece,
  loops: readonly (readonly NeutralStretch[])[],
  over: boolean,
): Piece {
  const byEdge = new Map<string, Point[]>();
  for (const { edge, points } of loops.flat()) {
    const line = byEdge.get(edge);
    if (line) line.push(...points.slice(1));
    else byEdge.set(edge, [...points]);
  }
  const edge = (e: Edge): Edge => ({ ...e, points: byEdge.get(e.id) ?? e.points });
  const foldLines = new Map<string, DrawnStretch[]>();
  for (const f of faces) {
    const { flat: drawnRing, vertices } = net.patches[f]!;
    const ring = nodes.of.get(f)!;
    for (const side of net.sides[f]!) {
      const other = innerNeighbour(net, side);
      if (!other || other.face < f || drawn.folds.every((fold) => fold.id !== side.id)) continue;
      const i = side.corner;
      const j = (i + 1) % vertices.length;
      const one = {
        edge: side.id,
        side,
        startVertex: vertices[i]!,
        endVertex: vertices[j]!,
        startNode: ring[i]!,
        endNode: ring[j]!,
        from: drawnRing[i]!,
        to: drawnRing[j]!,
        between: [],
      };
      foldLines.set(side.id, [...(foldLines.get(side.id) ?? []), one]);
    }
  }
  const mapFold = (id: string, points: readonly Point[]): readonly Point[] => {
    const list = foldLines.get(id);
    if (!list) return points;
    const forward = list.map((s) => {
      const ahead = dot(subtract(s.to, s.from), subtract(points.at(-1)!, points[0]!)) >= 0;
      return ahead
        ? { ...s, newA: flat[s.startNode]!, newB: flat[s.endNode]! }
        : { ...s, from: s.to, to: s.from, newA: flat[s.endNode]!, newB: flat[s.startNode]! };
    });
    return orderAlong(points, forward).flatMap((s, k) => {
      const ends = { a: s.from, b: s.to, newA: s.newA, newB: s.newB };
      const between = points.length > 2 ? drawnPart(points, s.from, s.to) : [];
      return [...(k === 0 ? [s.newA] : []), ...between.map((p) => alongMovedSide(p, ends)), s.newB];
    });
  };
  const ringsOfFace = new Map<string, Point[]>();
  for (const f of faces) {
    const { face } = net.patches[f]!;
    const ring = nodes.of.get(f)!.map((n) => flat[n]!);
    ringsOfFace.set(face, [...(ringsOfFace.get(face) ?? []), ...(over ? [...ring].reverse() : ring)]);
  }
  return {
    ...target,
    outline: drawn.outline.map(edge),
    holes: drawn.holes.map((hole) => hole.map(edge)),
    folds: drawn.folds.map((fold) => ({ ...fold, points: mapFold(fold.id, fold.points) })),
    faces: drawn.faces.map((face) => ({
      ...face,
      polygon: ringsOfFace.get(face.id) ?? face.polygon,
      holes: [],
    })),
  };
}
