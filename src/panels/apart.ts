/** Room on the bench: panels that changed go to the free place nearest to where they were. */
import { type Box, boxOf } from '../math';
import type { Piece } from '../model';
import type { Mm } from '../units';
import { movePiece } from './place';
import { standApart } from './tolerance';

const boxOfPiece = (piece: Piece): Box => boxOf(piece.outline.flatMap((e) => [...e.points]));

/** Grid of the search; a tenth of a usual panel. Panels move by whole cells. */
const cell: Mm = 8;
const mostRings = 600;

/** Cells that a box with room round it covers. */
interface Cells {
  readonly x0: number;
  readonly x1: number;
  readonly y0: number;
  readonly y1: number;
}

const cellsOf = (b: Box): Cells => ({
  x0: Math.floor((b.minX - standApart / 2) / cell),
  x1: Math.floor((b.maxX + standApart / 2) / cell),
  y0: Math.floor((b.minY - standApart / 2) / cell),
  y1: Math.floor((b.maxY + standApart / 2) / cell),
});

const key = (x: number, y: number) => x * 1_000_003 + y;

/** @param kept panels that stay where they are */
export function standAside(pieces: readonly Piece[], kept: (piece: Piece) => boolean): Piece[] {
  const taken = new Set<number>();
  const take = (c: Cells, dx: number, dy: number) => {
    for (let x = c.x0; x <= c.x1; x++) for (let y = c.y0; y <= c.y1; y++) taken.add(key(x + dx, y + dy));
  };
  for (const piece of pieces.filter(kept)) take(cellsOf(boxOfPiece(piece)), 0, 0);
  const order = pieces
    .map((piece, i) => ({ piece, i, cells: cellsOf(boxOfPiece(piece)) }))
    .filter(({ piece }) => !kept(piece))
    .sort((p, q) => sizeOf(q.cells) - sizeOf(p.cells) || p.i - q.i);
  const out = [...pieces];
  for (const { piece, i, cells } of order) {
    const { dx, dy } = freePlace(cells, taken);
    take(cells, dx, dy);
    out[i] = dx === 0 && dy === 0 ? piece : movePiece(piece, dx * cell, dy * cell);
  }
  return out;
}

const sizeOf = (c: Cells) => (c.x1 - c.x0 + 1) * (c.y1 - c.y0 + 1);

/** The nearest free place, ring by ring. */
function freePlace(c: Cells, taken: ReadonlySet<number>): { dx: number; dy: number } {
  const free = (dx: number, dy: number) => {
    for (let x = c.x0; x <= c.x1; x++)
      for (let y = c.y0; y <= c.y1; y++) if (taken.has(key(x + dx, y + dy))) return false;
    return true;
  };
  for (let ring = 0; ring < mostRings; ring++) {
    let best: { dx: number; dy: number } | null = null;
    for (let k = -ring; k <= ring; k++) {
      for (const [dx, dy] of [
        [k, -ring],
        [k, ring],
        [ring, k],
        [-ring, k],
      ] as const) {
        if (best && Math.hypot(dx, dy) >= Math.hypot(best.dx, best.dy)) continue;
        if (free(dx, dy)) best = { dx, dy };
      }
    }
    if (best) return best;
  }
  return { dx: 0, dy: 0 };
}
