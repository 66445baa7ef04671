/**
 * Moves all items together until nothing overlaps any more: minimises the sum of squared depths, and of squared
 * distances that items stick out of their bins, over all places at once (turns stay). Small overlaps that would have to
 * travel through a row of items one by one are gone in a few steps. Minimised with a limited-memory quasi-Newton method
 * (Nocedal 1980), as Imamichi, Yagiura and Nagamochi (2009) do.
 */
import type { Board } from './board';

const memory = 8;

export class Settler {
  private readonly dim: number;
  private readonly at: Float64Array;
  private readonly trial: Float64Array;
  private readonly slope: Float64Array;
  private readonly nextSlope: Float64Array;
  private readonly way: Float64Array;
  private readonly moves: Float64Array;
  private readonly changes: Float64Array;
  private readonly rho = new Float64Array(memory);
  private readonly alpha = new Float64Array(memory);

  constructor(private readonly board: Board) {
    this.dim = board.n * 2;
    this.at = new Float64Array(this.dim);
    this.trial = new Float64Array(this.dim);
    this.slope = new Float64Array(this.dim);
    this.nextSlope = new Float64Array(this.dim);
    this.way = new Float64Array(this.dim);
    this.moves = new Float64Array(this.dim * memory);
    this.changes = new Float64Array(this.dim * memory);
  }

  /**
   * Settles the board from where it is. Returns whether the sum of squares came below `enough`; the board is left at
   * the best places found, pushed into the bins and measured.
   */
  run(steps: number, enough: number): boolean {
    const { board, dim, at, trial, slope, nextSlope, way } = this;
    const n = board.n;
    for (let i = 0; i < n; i++) {
      at[2 * i] = board.x[i]!;
      at[2 * i + 1] = board.y[i]!;
    }
    let value = this.measure(at, slope);
    let kept = 0;
    for (let step = 0; step < steps && value > enough; step++) {
      this.direction(kept, step);
      let down = 0;
      for (let k = 0; k < dim; k++) down += way[k]! * slope[k]!;
      if (down >= 0) {
        kept = 0;
        for (let k = 0; k < dim; k++) way[k] = -slope[k]!;
        down = 0;
        for (let k = 0; k < dim; k++) down -= slope[k]! * slope[k]!;
        if (down === 0) break;
      }
      // The first step: squared depths of a pair fall to nothing when each item goes a quarter of the slope.
      let length = kept === 0 ? 0.25 : 1;
      let next = value;
      let tries = 0;
      for (; tries < 12; tries++) {
        for (let k = 0; k < dim; k++) trial[k] = at[k]! + length * way[k]!;
        next = this.measure(trial, nextSlope);
        if (next <= value + 1e-4 * length * down) break;
        length *= tries === 0 ? 0.5 : 0.3;
      }
      if (tries === 12) {
        if (kept === 0) break;
        kept = 0;
        continue;
      }
      const row = (step % memory) * dim;
      let sy = 0;
      for (let k = 0; k < dim; k++) {
        const s = trial[k]! - at[k]!;
        const y = nextSlope[k]! - slope[k]!;
        this.moves[row + k] = s;
        this.changes[row + k] = y;
        sy += s * y;
        at[k] = trial[k]!;
        slope[k] = nextSlope[k]!;
      }
      this.rho[step % memory] = sy > 1e-12 ? 1 / sy : 0;
      kept = Math.min(memory, kept + 1);
      value = next;
    }
    for (let i = 0; i < n; i++) {
      if (board.fixed[i]) continue;
      const [f, t, b] = [board.form[i]!, board.turn[i]!, board.bin[i]!];
      board.put(i, board.clampX(at[2 * i]!, f, t, b), board.clampY(at[2 * i + 1]!, f, t, b), t, f, b);
    }
    board.refreshAll();
    return value <= enough;
  }

  /** Two-loop recursion. */
  private direction(kept: number, step: number): void {
    const { dim, way, slope, moves, changes, rho, alpha } = this;
    for (let k = 0; k < dim; k++) way[k] = -slope[k]!;
    if (kept === 0) return;
    for (let m = 1; m <= kept; m++) {
      const slot = (step - m + memory * 1024) % memory;
      let a = 0;
      for (let k = 0; k < dim; k++) a += moves[slot * dim + k]! * way[k]!;
      a *= rho[slot]!;
      alpha[slot] = a;
      for (let k = 0; k < dim; k++) way[k] = way[k]! - a * changes[slot * dim + k]!;
    }
    const last = (step - 1 + memory * 1024) % memory;
    let yy = 0;
    for (let k = 0; k < dim; k++) yy += changes[last * dim + k]! ** 2;
    const gamma = rho[last]! > 0 && yy > 0 ? 1 / (rho[last]! * yy) : 0.25;
    for (let k = 0; k < dim; k++) way[k] = way[k]! * gamma;
    for (let m = kept; m >= 1; m--) {
      const slot = (step - m + memory * 1024) % memory;
      let b = 0;
      for (let k = 0; k < dim; k++) b += changes[slot * dim + k]! * way[k]!;
      b *= rho[slot]!;
      const c = alpha[slot]! - b;
      for (let k = 0; k < dim; k++) way[k] = way[k]! + c * moves[slot * dim + k]!;
    }
  }

  /** The sum of squares at the places, and its slope. */
  private measure(places: Float64Array, slope: Float64Array): number {
    const { board } = this;
    const { n, table } = board;
    board.evaluations += n;
    slope.fill(0);
    let sum = 0;
    for (let i = 0; i < n; i++) {
      const t = board.form[i]! * table.turns + board.turn[i]!;
      const x = places[2 * i]!;
      const y = places[2 * i + 1]!;
      const minX = x + table.minX[t]!;
      board.boxMinX[i] = minX;
      const minY = y + table.minY[t]!;
      board.boxMinY[i] = minY;
      const maxX = x + table.maxX[t]!;
      board.boxMaxX[i] = maxX;
      const maxY = y + table.maxY[t]!;
      board.boxMaxY[i] = maxY;
      board.x[i] = x;
      board.y[i] = y;
      if (board.fixed[i]) continue;
      const b = board.bin[i]!;
      let out = minX - board.binMinX[b]!;
      if (out > 0) out = Math.min(0, board.binMaxX[b]! - maxX) * -1;
      if (out !== 0) {
        sum += out * out;
        slope[2 * i] = slope[2 * i]! + 2 * out;
      }
      out = minY - board.binMinY[b]!;
      if (out > 0) out = Math.min(0, board.binMaxY[b]! - maxY) * -1;
      if (out !== 0) {
        sum += out * out;
        slope[2 * i + 1] = slope[2 * i + 1]! + 2 * out;
      }
      for (let j = 0; j < i; j++) {
        if (
          board.boxMaxX[j]! <= minX ||
          board.boxMinX[j]! >= maxX ||
          board.boxMaxY[j]! <= minY ||
          board.boxMinY[j]! >= maxY
        )
          continue;
        const d = board.depthAndWay(i, j);
        if (d === 0) continue;
        sum += d * d;
        // The way moves i out of j.
        slope[2 * i] = slope[2 * i]! - 2 * board.wayX;
        slope[2 * i + 1] = slope[2 * i + 1]! - 2 * board.wayY;
        slope[2 * j] = slope[2 * j]! + 2 * board.wayX;
        slope[2 * j + 1] = slope[2 * j + 1]! + 2 * board.wayY;
      }
    }
    for (let i = 0; i < n; i++)
      if (board.fixed[i]) {
        slope[2 * i] = 0;
        slope[2 * i + 1] = 0;
      }
    return sum;
  }
}
