/** How much ink lies where on a page: coarse cells with weights, and sums over boxes in constant time. */
import { type Box, boxOf, type Point } from '../math';
import type { Mm } from '../units';

export interface InkMap {
  addLine(a: Point, b: Point, weight: number): void;
  addBox(box: Box, weight: number): void;
  /** Weighted ink in the box; changes after the first call are not seen until `refresh`. */
  inkIn(box: Box): number;
  refresh(): void;
}

const cellSize: Mm = 2;

/** A map of the area; ink outside is ignored. */
export function inkMapOf(area: Box): InkMap {
  const columns = Math.max(1, Math.ceil((area.maxX - area.minX) / cellSize));
  const rows = Math.max(1, Math.ceil((area.maxY - area.minY) / cellSize));
  const weights = new Float64Array(columns * rows);
  const sums = new Float64Array((columns + 1) * (rows + 1));
  let fresh = false;
  const put = (x: Mm, y: Mm, weight: number) => {
    const c = Math.floor((x - area.minX) / cellSize);
    const r = Math.floor((y - area.minY) / cellSize);
    if (c < 0 || r < 0 || c >= columns || r >= rows) return;
    weights[r * columns + c] = Math.max(weights[r * columns + c]!, weight);
  };
  const refresh = () => {
    for (let r = 0; r < rows; r++) {
      for (let c = 0; c < columns; c++) {
        sums[(r + 1) * (columns + 1) + c + 1] =
          weights[r * columns + c]! +
          sums[r * (columns + 1) + c + 1]! +
          sums[(r + 1) * (columns + 1) + c]! -
          sums[r * (columns + 1) + c]!;
      }
    }
    fresh = true;
  };
  return {
    refresh,
    addLine: (a, b, weight) => {
      const steps = Math.ceil(Math.hypot(b.x - a.x, b.y - a.y) / (cellSize / 2)) + 1;
      for (let i = 0; i <= steps; i++)
        put(a.x + ((b.x - a.x) * i) / steps, a.y + ((b.y - a.y) * i) / steps, weight);
    },
    addBox: (box, weight) => {
      for (let y = box.minY; y < box.maxY + cellSize; y += cellSize) {
        for (let x = box.minX; x < box.maxX + cellSize; x += cellSize)
          put(Math.min(x, box.maxX), Math.min(y, box.maxY), weight);
      }
    },
    inkIn: (box) => {
      if (!fresh) refresh();
      const cell = (v: Mm, from: Mm, most: number, round: (n: number) => number) =>
        Math.min(most, Math.max(0, round((v - from) / cellSize)));
      const c0 = cell(box.minX, area.minX, columns, Math.floor);
      const c1 = cell(box.maxX, area.minX, columns, Math.ceil);
      const r0 = cell(box.minY, area.minY, rows, Math.floor);
      const r1 = cell(box.maxY, area.minY, rows, Math.ceil);
      const sum = (r: number, c: number) => sums[r * (columns + 1) + c]!;
      return sum(r1, c1) - sum(r0, c1) - sum(r1, c0) + sum(r0, c0);
    },
  };
}

/** Bounds of lettering. */
export const letteringBox = (rings: readonly (readonly Point[])[]): Box => boxOf(rings.flat());
