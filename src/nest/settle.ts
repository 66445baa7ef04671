/**
 * Moves all items together until nothing overlaps any more: minimises the sum of squared depths, and of squared
 * distances that items stick out of their bins, over all places at once (turns stay). Small overlaps that would have to
 * travel through a row of items one by one are gone in a few steps. Minimised with a limited-memory quasi-Newton method
 * (Nocedal 1980), as Imamichi, Yagiura and Nagamochi (2009) do.
 */
import type { Board } from './board';

const memory = 8;
/** What does not fall below this share of itself in so many steps does not come to nothing any more. */
const stallSteps = 15;
const stallShare = 0.7;
/** Pairs are listed that come nearer than this share of an item's size: a longer list, or one made more often. */
const slackShare = 0.06;

export class Settler {
  private readonly dim: number;
  private readonly at: Float64Array;
  private readonly trial: Float64Array;
  private readonly slope: Float64Array;
  private readonly nextSlope: Float64Array;
  private readonly way: Float64Array;
  private readonly moves: Float64Array;
  private readonly changes: Float64Array;
  /** Per pair that can meet: where its places begin, and its no-fit polygon; cosine and sine of that one's frame. */
  private readonly pairs: Int32Array;
  private readonly ways: Float64Array;
  private pairCount = 0;
  /** Where everything was when the pairs were listed, and how far two items may have come nearer since. */
  private readonly gathered: Float64Array;
  private readonly slack: number;
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
    const most = (board.n * (board.n - 1)) / 2;
    this.pairs = new Int32Array(3 * most);
    this.ways = new Float64Array(2 * most);
    this.gathered = new Float64Array(this.dim);
    this.slack =
      slackShare * Math.sqrt(board.items.reduce((sum, i) => sum + i.area, 0) / Math.max(1, board.n));
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
    this.gather(at);
    let value = this.measure(at, slope);
    let kept = 0;
    let before = Number.POSITIVE_INFINITY;
    for (let step = 0; step < steps && value > enough; step++) {
      if (step % stallSteps === 0) {
        if (value > stallShare * before) break;
        before = value;
      }
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
    const { board, pairs, ways, gathered } = this;
    const { n, table } = board;
    board.evaluations += n;
    for (let k = 0; k < this.dim; k++)
      if (Math.abs(places[k]! - gathered[k]!) > this.slack / 2) {
        this.gather(places);
        break;
      }
    slope.fill(0);
    let sum = 0;
    for (let i = 0; i < n; i++) {
      if (board.fixed[i]) continue;
      const t = board.form[i]! * table.turns + board.turn[i]!;
      const b = board.bin[i]!;
      const x = places[2 * i]!;
      const y = places[2 * i + 1]!;
      let out = x + table.minX[t]! - board.binMinX[b]!;
      if (out > 0) out = Math.min(0, board.binMaxX[b]! - x - table.maxX[t]!) * -1;
      if (out !== 0) {
        sum += out * out;
        slope[2 * i] = slope[2 * i]! + 2 * out;
      }
      out = y + table.minY[t]! - board.binMinY[b]!;
      if (out > 0) out = Math.min(0, board.binMaxY[b]! - y - table.maxY[t]!) * -1;
      if (out !== 0) {
        sum += out * out;
        slope[2 * i + 1] = slope[2 * i + 1]! + 2 * out;
      }
    }
    const { pool } = table;
    for (let p = 0; p < this.pairCount; p++) {
      const a = pairs[3 * p]!;
      const b = pairs[3 * p + 1]!;
      const c = ways[2 * p]!;
      const s = ways[2 * p + 1]!;
      const dx = places[b]! - places[a]!;
      const dy = places[b + 1]! - places[a + 1]!;
      const d = pool.line(pairs[3 * p + 2]!, c * dx + s * dy, c * dy - s * dx, 0);
      if (d <= 0) continue;
      sum += d * d;
      // The way moves b out of a.
      const wayX = 2 * d * (c * pool.wayX - s * pool.wayY);
      const wayY = 2 * d * (s * pool.wayX + c * pool.wayY);
      slope[b] = slope[b]! - wayX;
      slope[b + 1] = slope[b + 1]! - wayY;
      slope[a] = slope[a]! + wayX;
      slope[a + 1] = slope[a + 1]! + wayY;
    }
    for (let i = 0; i < n; i++)
      if (board.fixed[i]) {
        slope[2 * i] = 0;
        slope[2 * i + 1] = 0;
      }
    return sum;
  }

  /** Lists the pairs that can meet while no item is further than half the slack from where it is now. */
  private gather(places: Float64Array): void {
    const { board, pairs, ways, slack } = this;
    const { table, form, turn } = board;
    const { turns, minX, minY, maxX, maxY } = table;
    this.gathered.set(places);
    let count = 0;
    for (let i = 0; i < board.n; i++)
      for (let j = 0; j < i; j++) {
        const atI = form[i]! * turns + turn[i]!;
        const atJ = form[j]! * turns + turn[j]!;
        const gapX = places[2 * j]! - places[2 * i]!;
        const gapY = places[2 * j + 1]! - places[2 * i + 1]!;
        if (
          gapX + minX[atJ]! >= maxX[atI]! + slack ||
          gapX + maxX[atJ]! <= minX[atI]! - slack ||
          gapY + minY[atJ]! >= maxY[atI]! + slack ||
          gapY + maxY[atJ]! <= minY[atI]! - slack ||
          (board.fixed[i] && board.fixed[j])
        )
          continue;
        // a is the one whose frame the no-fit polygon is in.
        const [a, b] = form[i]! <= form[j]! ? [i, j] : [j, i];
        const relative = (turn[b]! - turn[a]! + turns) % turns;
        const k = table.pair(form[a]!, form[b]!, relative);
        const c = table.cos[turn[a]!]!;
        const s = table.sin[turn[a]!]!;
        const dx = a === i ? gapX : -gapX;
        const dy = a === i ? gapY : -gapY;
        if (table.pool.isClear(k, c * dx + s * dy, c * dy - s * dx, slack * Math.SQRT2)) continue;
        pairs[3 * count] = 2 * a;
        pairs[3 * count + 1] = 2 * b;
        pairs[3 * count + 2] = k;
        ways[2 * count] = c;
        ways[2 * count + 1] = s;
        count++;
      }
    this.pairCount = count;
  }
}
