/**
 * Takes overlaps away: guided local search on the weighted sum of depths. In every pass each item that overlaps is
 * moved once, in random order, to the best of a few places (where it is, random ones, ones nearby), each improved by a
 * descent (see descent.ts). Pairs that go on overlapping gain weight, so that the search climbs out of dead ends. The
 * scheme is that of Egeblad, Nielsen and Odgaard (2007) and of Gardeyn, Vanden Berghe and Wauters (2025).
 */
import type { Board, Saved } from './board';
import type { Budget } from './clock';
import { Descent } from './descent';
import type { Settler } from './settle';
import { freeDepth } from './tolerance';

export interface SeparateOptions {
  /** Passes without a gain that end one try. */
  readonly patience: number;
  /** Tries without a gain, each from the best state so far, that end the whole. */
  readonly strikes: number;
  /** Stops when this part of the budget is used up. */
  readonly until: number;
}

export interface Separated {
  readonly free: boolean;
  /** Overlap of the best state; 0 when free. */
  readonly overlap: number;
  /** The best state; null when the board itself is free. */
  readonly best: Saved | null;
}

/** Passes between two tries to part all items at once, and the depth in all up to which that is worth trying. */
const settleEvery = 8;
const settleSteps = 60;
const settleDepth = 0.03;
const randomPlaces = 10;
const nearPlaces = 6;
const keptPlaces = 2;
/** A descent ends at steps of this share of the deepest overlap: finer ones are undone by others. */
const fineShare = 0.02;
/** The longest step of a descent, in shares of the item's size. */
const stepShare = 0.2;

export class Separator {
  private readonly descent: Descent;
  private readonly order: Int32Array;
  private readonly candCost = new Float64Array(keptPlaces + 1);
  private readonly candX = new Float64Array(keptPlaces + 1);
  private readonly candY = new Float64Array(keptPlaces + 1);
  private readonly candTurn = new Int32Array(keptPlaces + 1);
  private readonly candForm = new Int32Array(keptPlaces + 1);
  private readonly candBin = new Int32Array(keptPlaces + 1);
  private candCount = 0;
  passes = 0;
  private deepest = 0;

  constructor(
    private readonly board: Board,
    private readonly random: () => number,
    private readonly settler: Settler,
  ) {
    this.descent = new Descent(board);
    this.order = new Int32Array(board.n);
  }

  /**
   * Until nothing overlaps, or patience or budget end. Leaves the board at the last state, free or not.
   * @returns whether nothing overlaps
   */
  async run(budget: Budget, options: SeparateOptions): Promise<Separated> {
    const { board } = this;
    board.weight.set(board.size);
    this.deepest = 0;
    let best = board.totalOverlap();
    if (best === 0) return { free: true, overlap: 0, best: null };
    const saved = board.save();
    const beforeSettling = board.save();
    let sinceSettle = 0;
    // The side of a square of the mean item, times the root of their number.
    const unit = Math.sqrt(board.items.reduce((sum, i) => sum + i.area, 0));
    for (let strike = 0; strike < options.strikes; ) {
      const before = best;
      for (let idle = 0; idle < options.patience; idle++) {
        this.pass();
        const now = board.totalOverlap();
        if (now === 0) return { free: true, overlap: 0, best: null };
        if (++sinceSettle >= settleEvery && board.totalDepth() < settleDepth * unit) {
          sinceSettle = 0;
          board.save(beforeSettling);
          this.settler.run(settleSteps, 1e-9);
          if (board.totalDepth() === 0) return { free: true, overlap: 0, best: null };
          board.restore(beforeSettling);
        }
        if (now < best) {
          if (now < best * 0.98) idle = -1;
          best = now;
          board.save(saved);
        }
        this.reweigh();
        await budget.breathe();
        if (budget.spent() >= options.until) return { free: false, overlap: best, best: saved };
      }
      strike = best < before * 0.98 ? 0 : strike + 1;
      if (strike < options.strikes) board.restore(saved);
    }
    return { free: false, overlap: best, best: saved };
  }

  /** Moves every overlapping item once. */
  pass(): void {
    const { board, order, random } = this;
    this.passes++;
    let count = 0;
    for (let i = 0; i < board.n; i++) if (!board.fixed[i] && board.overlaps(i)) order[count++] = i;
    for (let k = count - 1; k > 0; k--) {
      const other = (random() * (k + 1)) | 0;
      const held = order[k]!;
      order[k] = order[other]!;
      order[other] = held;
    }
    for (let k = 0; k < count; k++) {
      const i = order[k]!;
      if (board.overlaps(i)) this.move(i, randomPlaces, nearPlaces);
    }
  }

  /** Moves one item to the best place found, which may be where it is. */
  move(i: number, randoms: number, nears: number): void {
    const { board, descent, random, candX, candY, candTurn, candForm, candBin } = this;
    const item = board.items[i]!;
    const table = board.table;
    const x0 = board.x[i]!;
    const y0 = board.y[i]!;
    const turn0 = board.turn[i]!;
    const form0 = board.form[i]!;
    const bin0 = board.bin[i]!;
    const here = board.presentCost(i);
    this.candCount = 0;
    const size = Math.max(board.boxMaxX[i]! - board.boxMinX[i]!, board.boxMaxY[i]! - board.boxMinY[i]!);
    this.offer(here, x0, y0, turn0, form0, bin0);
    for (let s = 0; s < nears + randoms; s++) {
      // The near ones first: they are seldom bad, and the others can then be given up sooner.
      const isNear = s < nears;
      let turn = turn0;
      let form = form0;
      let bin = bin0;
      if (!isNear || random() < 0.4) {
        turn = item.turns[(random() * item.turns.length) | 0]!;
        form = item.forms[(random() * item.forms.length) | 0]!;
      }
      if (!isNear && board.bins > 1) bin = (random() * board.bins) | 0;
      if (!board.fitsBin(form, turn, bin)) continue;
      const at = form * table.turns + turn;
      let x: number;
      let y: number;
      if (isNear) {
        x = board.clampX(x0 + (random() - 0.5) * size * 0.5, form, turn, bin);
        y = board.clampY(y0 + (random() - 0.5) * size * 0.5, form, turn, bin);
      } else {
        const lowX = board.binMinX[bin]! - table.minX[at]!;
        const lowY = board.binMinY[bin]! - table.minY[at]!;
        x = lowX + random() * (board.binMaxX[bin]! - table.maxX[at]! - lowX);
        y = lowY + random() * (board.binMaxY[bin]! - table.maxY[at]! - lowY);
      }
      const worst =
        this.candCount < keptPlaces ? Number.POSITIVE_INFINITY : this.candCost[this.candCount - 1]!;
      const cost = board.cost(i, x, y, turn, form, worst);
      if (cost < worst) this.offer(cost, x, y, turn, form, bin);
    }
    let bestCost = here;
    let bx = x0;
    let by = y0;
    let bt = turn0;
    let bf = form0;
    let bb = bin0;
    const least = Math.max(freeDepth, fineShare * this.deepest);
    for (let c = 0; c < this.candCount; c++) {
      const cost = descent.run(
        i,
        candX[c]!,
        candY[c]!,
        candTurn[c]!,
        candForm[c]!,
        candBin[c]!,
        size * stepShare,
        least,
      );
      if (cost < bestCost) {
        bestCost = cost;
        bx = descent.x;
        by = descent.y;
        bt = candTurn[c]!;
        bf = candForm[c]!;
        bb = candBin[c]!;
      }
      if (cost === 0) break;
    }
    if (bestCost < here) {
      board.put(i, bx, by, bt, bf, bb);
      board.refresh(i);
    }
  }

  /** Keeps a place if it is among the best. */
  private offer(cost: number, x: number, y: number, turn: number, form: number, bin: number): void {
    const { candCost, candX, candY, candTurn, candForm, candBin } = this;
    let c = this.candCount < keptPlaces ? this.candCount++ : keptPlaces - 1;
    while (c > 0 && candCost[c - 1]! > cost) {
      candCost[c] = candCost[c - 1]!;
      candX[c] = candX[c - 1]!;
      candY[c] = candY[c - 1]!;
      candTurn[c] = candTurn[c - 1]!;
      candForm[c] = candForm[c - 1]!;
      candBin[c] = candBin[c - 1]!;
      c--;
    }
    candCost[c] = cost;
    candX[c] = x;
    candY[c] = y;
    candTurn[c] = turn;
    candForm[c] = form;
    candBin[c] = bin;
  }

  /** Pairs that overlap gain weight, the deepest most; the others lose some. */
  private reweigh(): void {
    const { n, depth, weight, size } = this.board;
    let deepest = 0;
    for (let k = 0; k < n * n; k++) if (depth[k]! > deepest) deepest = depth[k]!;
    this.deepest = deepest;
    if (deepest === 0) return;
    for (let k = 0; k < n * n; k++) {
      if (depth[k]! > 0) weight[k] = weight[k]! * (1.2 + (0.8 * depth[k]!) / deepest);
      else if (weight[k]! > size[k]!) weight[k] = Math.max(size[k]!, weight[k]! * 0.95);
    }
  }
}
