/**
 * The items around a place, with all that their overlaps with one item depend on written out in one table: a descent
 * asks for the same few overlaps at many places.
 */
import type { Board } from './board';
import { freeDepth } from './tolerance';

/** Per item: x, y, cosine and sine of the frame of its no-fit polygon (with sign), weight. */
const stride = 5;

export class Near {
  private readonly at: Float64Array;
  private readonly pair: Int32Array;
  private count = 0;

  constructor(private readonly board: Board) {
    this.at = new Float64Array(board.n * stride);
    this.pair = new Int32Array(board.n);
  }

  /** Lists the items other than i whose boxes reach into the given box, ready for {@link cost}. */
  gather(
    i: number,
    turn: number,
    form: number,
    minX: number,
    minY: number,
    maxX: number,
    maxY: number,
    x: number,
    y: number,
    reach: number,
  ): void {
    const { board, at } = this;
    const { n, table, boxMinX, boxMinY, boxMaxX, boxMaxY } = board;
    const { turns } = table;
    const row = i * n;
    let count = 0;
    for (let j = 0; j < n; j++) {
      if (boxMaxX[j]! <= minX || boxMinX[j]! >= maxX || boxMaxY[j]! <= minY || boxMinY[j]! >= maxY || j === i)
        continue;
      const formJ = board.form[j]!;
      const turnJ = board.turn[j]!;
      const isFirst = form <= formJ;
      const base = isFirst ? turn : turnJ;
      let relative = isFirst ? turnJ - turn : turn - turnJ;
      if (relative < 0) relative += turns;
      const a = isFirst ? form : formJ;
      const b = isFirst ? formJ : form;
      let k = table.pairAt[(a * table.forms.length + b) * turns + relative]!;
      if (k < 0) k = table.pair(a, b, relative);
      const sign = isFirst ? 1 : -1;
      const c = sign * table.cos[base]!;
      const s = sign * table.sin[base]!;
      const dx = board.x[j]! - x;
      const dy = board.y[j]! - y;
      if (table.pool.isClear(k, c * dx + s * dy, c * dy - s * dx, reach)) continue;
      const o = count * stride;
      at[o] = board.x[j]!;
      at[o + 1] = board.y[j]!;
      at[o + 2] = c;
      at[o + 3] = s;
      at[o + 4] = board.weight[row + j]!;
      this.pair[count++] = k;
    }
    this.count = count;
  }

  /** As the board's cost, against the items gathered: right as long as no other can be reached. */
  cost(x: number, y: number, limit: number): number {
    this.board.evaluations++;
    const { at, pair, count } = this;
    const pool = this.board.table.pool;
    let sum = 0;
    for (let k = 0, o = 0; k < count; k++, o += stride) {
      const dx = at[o]! - x;
      const dy = at[o + 1]! - y;
      const c = at[o + 2]!;
      const s = at[o + 3]!;
      const d = pool.depth(pair[k]!, c * dx + s * dy, c * dy - s * dx);
      if (d > freeDepth) {
        sum += d * at[o + 4]!;
        if (sum >= limit) {
          if (k > 0) this.forward(k);
          return sum;
        }
      }
    }
    return sum;
  }

  /** The item that ended a sum comes earlier the next time. */
  private forward(k: number): void {
    const { at, pair } = this;
    for (let o = k * stride, end = o + stride; o < end; o++) {
      const held = at[o]!;
      at[o] = at[o - stride]!;
      at[o - stride] = held;
    }
    const held = pair[k]!;
    pair[k] = pair[k - 1]!;
    pair[k - 1] = held;
  }
}
