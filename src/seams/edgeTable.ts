import { boxOf, type Point, pointAlong, polylineLength } from '../math';
import type { Edge, Pattern, Piece } from '../model';
import type { Mm } from '../units';

/** An edge in its place: which loop of which piece, and where in the reading order of the whole pattern. */
export interface EdgePlace {
  readonly id: string;
  readonly piece: string;
  readonly pieceName: string;
  readonly edge: Edge;
  readonly length: Mm;
  /** Half-way along the edge, mm. */
  readonly middle: Point;
  /** 0, 1, 2 … in reading order. */
  readonly order: number;
}

/**
 * All edges of a pattern in reading order: pieces in rows from the top, each loop from its top-left corner on. The
 * order depends on positions alone, not on the order of pieces or the first corner of an outline.
 */
export interface EdgeTable {
  readonly inOrder: readonly EdgePlace[];
  get(id: string): EdgePlace | undefined;
  /** The next (1) or previous (−1) edge on the same loop. A loop of one edge is its own neighbour. */
  neighbour(id: string, step: 1 | -1): EdgePlace;
}

export function tabulateEdges(pattern: Pattern): EdgeTable {
  const inOrder: EdgePlace[] = [];
  const byId = new Map<string, EdgePlace>();
  const loops = new Map<string, { readonly loop: readonly Edge[]; readonly index: number }>();
  for (const piece of inReadingOrder(pattern.pieces)) {
    const holes = piece.holes.map(fromTopLeft).sort((p, q) => compareReading(cornerOf(p), cornerOf(q)));
    for (const loop of [fromTopLeft(piece.outline), ...holes]) {
      loop.forEach((edge, index) => {
        const length = polylineLength(edge.points);
        const place: EdgePlace = {
          id: edge.id,
          piece: piece.id,
          pieceName: piece.name,
          edge,
          length,
          middle: pointAlong(edge.points, length / 2).at,
          order: inOrder.length,
        };
        inOrder.push(place);
        byId.set(edge.id, place);
        loops.set(edge.id, { loop, index });
      });
    }
  }
  return {
    inOrder,
    get: (id) => byId.get(id),
    neighbour: (id, step) => {
      const { loop, index } = loops.get(id)!;
      return byId.get(loop[(index + step + loop.length) % loop.length]!.id)!;
    },
  };
}

/**
 * Pieces in rows from the top, each row from the left. A piece belongs to the row of the highest piece that is left
 * when its middle lies above that piece's lower end.
 */
function inReadingOrder(pieces: readonly Piece[]): Piece[] {
  const left = pieces
    .map((piece) => ({ piece, box: boxOf(piece.outline.flatMap((e) => e.points)) }))
    .sort(
      (p, q) => q.box.maxY - p.box.maxY || p.box.minX - q.box.minX || compareText(p.piece.id, q.piece.id),
    );
  const sorted: Piece[] = [];
  while (left.length > 0) {
    const first = left[0]!;
    const inRow = left.filter(({ box }) => (box.minY + box.maxY) / 2 > first.box.minY || box === first.box);
    const row = [...inRow].sort((p, q) => p.box.minX - q.box.minX || compareText(p.piece.id, q.piece.id));
    sorted.push(...row.map((r) => r.piece));
    for (const r of inRow) left.splice(left.indexOf(r), 1);
  }
  return sorted;
}

/** The same loop started at its highest corner, the leftmost of equals. */
function fromTopLeft(loop: readonly Edge[]): readonly Edge[] {
  let first = 0;
  for (let i = 1; i < loop.length; i++)
    if (compareReading(loop[i]!.points[0]!, loop[first]!.points[0]!) < 0) first = i;
  return [...loop.slice(first), ...loop.slice(0, first)];
}

const cornerOf = (loop: readonly Edge[]): Point => loop[0]?.points[0] ?? { x: 0, y: 0 };
const compareReading = (p: Point, q: Point): number => q.y - p.y || p.x - q.x;

/** Order of texts by code units, the same on every machine. */
export const compareText = (a: string, b: string): number => (a < b ? -1 : a > b ? 1 : 0);
