/** Small hand-made patterns: polygons with given ids, edges numbered from 1 along the outline. */
import type { EdgeLabel, Pattern, Piece } from '../../src/model';

/** A piece from its corners, counter-clockwise; edge i runs from corner i to the next and is called `<id><i + 1>`. */
export function polygonPiece(id: string, corners: readonly (readonly [number, number])[]): Piece {
  const points = corners.map(([x, y]) => ({ x, y }));
  const outline = points.map((p, i) => ({
    id: `${id}${i + 1}`,
    points: [p, points[(i + 1) % points.length]!],
    curved: false,
  }));
  const face = {
    id: `${id}.face`,
    polygon: points,
    sides: outline.map((e) => ({ kind: 'edge' as const, id: e.id, forward: true })),
    holes: [],
  };
  return { id, name: id.toUpperCase(), outline, holes: [], folds: [], faces: [face], tabs: [] };
}

/** A pattern of these pieces with labels given as edge id → texts. */
export function patternOf(
  pieces: readonly Piece[],
  numbers: Readonly<Record<string, string | readonly string[]>>,
): Pattern {
  const labels = Object.entries(numbers).flatMap(([edge, texts]): EdgeLabel[] =>
    [texts]
      .flat()
      .map((text, i) => ({ edge, text, at: { x: 0, y: 0 }, size: 3, angle: 0, source: `t${edge}${i}` })),
  );
  return {
    size: { width: 1000, height: 1000, from: { kind: 'physical' } },
    pieces,
    groups: [],
    roleOfLine: {},
    labels,
    unread: [],
    issues: [],
  };
}

/** A rectangle; edge 1 below, 2 right, 3 above, 4 left. */
export const rectangle = (id: string, x: number, y: number, width: number, height: number): Piece =>
  polygonPiece(id, [
    [x, y],
    [x + width, y],
    [x + width, y + height],
    [x, y + height],
  ]);
