/**
 * Makes the used length of the last bin as short as the budget allows. In turn: the bin is made a little shorter,
 * what sticks out is pushed in, the overlaps are taken away (see separate.ts), and a success is squeezed by moving all
 * items together (see settle.ts). A failure goes to a pool of good failures; one of them, or the best layout, is shaken
 * up for the next try. The last part of the budget squeezes the best layout in ever finer steps.
 */
import type { Board, Saved } from './board';
import type { Budget } from './clock';
import { Separator } from './separate';
import { Settler } from './settle';
import { shake } from './shake';

/** Share of the budget that looks for other arrangements; the rest refines the best. */
const exploring = 0.8;
const firstStep = 0.02;
/**
 * Steps are not halved below this, at the start and at the end of exploring. Larger ones change the arrangement and not
 * only the places; squeezing finds what small ones would.
 */
const leastStepFirst = 0.004;
const leastStepLast = 0.001;
const poolSize = 10;
const idleTries = 10;
/** A step that succeeded is followed by a longer one. */
const stepGrowth = 1.5;
/** Of a try to take overlaps away; see separate.ts. */
const patience = 120;
const strikes = 1;

export class Shortener {
  private readonly settler: Settler;
  private readonly separator: Separator;
  private bestState: Saved;
  /** Where the last bin ends in the best layout. */
  private best: number;
  /** Tries in a row that ended free of overlap and yet no shorter: something cannot lie any other way. */
  private idle = 0;

  /**
   * @param board free of overlap; its last bin is the one to shorten
   * @param floor the bin need not become shorter than this x
   * @param onBetter called with the board holding a better layout; says whether it passed the check
   */
  constructor(
    private readonly board: Board,
    private readonly budget: Budget,
    private readonly random: () => number,
    private readonly floor: number,
    private readonly onBetter: () => boolean,
  ) {
    this.settler = new Settler(board);
    this.separator = new Separator(board, random, this.settler);
    this.bestState = board.save();
    this.best = board.reachX(this.last);
  }

  private get last(): number {
    return this.board.bins - 1;
  }

  private get start(): number {
    return this.board.binMinX[this.last]!;
  }

  private done(until: number): boolean {
    return this.budget.spent() >= until || this.best <= this.floor || this.idle > idleTries;
  }

  async run(): Promise<void> {
    const { board } = this;
    const full = board.binMaxX[this.last]!;
    await this.squeeze(3e-4, 1);
    await this.explore();
    await this.squeeze(1e-5, 1);
    await this.refine();
    board.binMaxX[this.last] = full;
    board.restore(this.bestState);
  }

  private async explore(): Promise<void> {
    const { board, budget, separator, random } = this;
    let step = firstStep;
    let pool: { overlap: number; state: Saved }[] = [];
    while (!this.done(exploring)) {
      const leastStep = leastStepFirst * (leastStepLast / leastStepFirst) ** (budget.spent() / exploring);
      this.pushIn(this.start + (this.best - this.start) * (1 - step));
      if (pool.length > 0) {
        const pick = pool[Math.floor(random() ** 1.5 * pool.length)]!;
        if (random() < 0.5) board.restore(pick.state);
        shake(board, this.last, random);
      }
      const result = await separator.run(budget, { patience, strikes, until: exploring });
      if (result.free && this.keep()) {
        pool = [];
        step = Math.min(firstStep, step * stepGrowth);
        await this.squeeze(3e-4, exploring);
      } else if (step > 2 * leastStep) step /= 2;
      else if (result.best) {
        step = leastStep;
        pool.push({ overlap: result.overlap, state: result.best });
        pool.sort((a, b) => a.overlap - b.overlap);
        if (pool.length > poolSize) pool.pop();
      }
    }
  }

  /** Fine steps from the best layout alone. */
  private async refine(): Promise<void> {
    while (!this.done(1)) {
      const part = (this.budget.spent() - exploring) / (1 - exploring);
      this.pushIn(this.start + (this.best - this.start) * (1 - 0.001 * 0.03 ** part));
      const result = await this.separator.run(this.budget, { patience: 60, strikes: 1, until: 1 });
      if (!result.free || !this.keep()) continue;
      await this.squeeze(1e-5, 1);
    }
  }

  /** Shortens by moving all items together, in steps that grow on success, until a step of `finest` fails. */
  private async squeeze(finest: number, until: number): Promise<void> {
    const { board } = this;
    let step = 0.002;
    while (step > finest && !this.done(until)) {
      const length = this.best;
      board.binMaxX[this.last] = this.start + (length - this.start) * (1 - step);
      if (!this.fits()) {
        board.binMaxX[this.last] = length;
        return;
      }
      board.restore(this.bestState);
      this.settler.run(150, 1e-9);
      step *= board.totalDepth() === 0 && this.keep() ? 1.5 : 0.4;
      await this.budget.breathe();
    }
    board.binMaxX[this.last] = this.best;
    board.restore(this.bestState);
  }

  /** Takes the board over when it is shorter than the best; it is known to be free of overlap. */
  private keep(): boolean {
    const reach = this.board.reachX(this.last);
    if (reach >= this.best || !this.onBetter()) {
      this.idle++;
      return false;
    }
    this.idle = 0;
    this.best = reach;
    this.bestState = this.board.save();
    return true;
  }

  /** Whether every item of the last bin can still lie there as it is turned. */
  private fits(): boolean {
    const { board, last } = this;
    for (let i = 0; i < board.n; i++)
      if (!board.fixed[i] && board.bin[i] === last && !board.fitsBin(board.form[i]!, board.turn[i]!, last))
        return false;
    return true;
  }

  /** From the best layout: what lies right of a random line is moved left by what the bin loses. */
  private pushIn(target: number): void {
    const { board, bestState, last } = this;
    const shift = this.best - target;
    const cut = this.start + this.random() * (this.best - this.start);
    board.binMaxX[last] = this.best;
    board.restore(bestState);
    board.binMaxX[last] = target;
    for (let i = 0; i < board.n; i++) {
      if (board.fixed[i] || board.bin[i] !== last) continue;
      const [f, t] = [board.form[i]!, board.turn[i]!];
      const x = board.x[i]! > cut ? board.x[i]! - shift : board.x[i]!;
      if (board.fitsBin(f, t, last)) board.put(i, board.clampX(x, f, t, last), board.y[i]!, t, f, last);
      else this.moveElsewhere(i);
    }
    board.refreshAll();
  }

  /** An item that has become too long for the last bin: another turn, or another bin. */
  private moveElsewhere(i: number): void {
    const { board, random, last } = this;
    const item = board.items[i]!;
    const choices: [number, number, number][] = [];
    for (const form of item.forms)
      for (const turn of item.turns)
        for (let bin = 0; bin <= last; bin++)
          if (board.fitsBin(form, turn, bin)) choices.push([form, turn, bin]);
    const choice = choices[Math.floor(random() * choices.length)];
    // Nowhere at all: it stays, sticks out, and the layout is rejected by the length that results.
    if (!choice) return;
    const [form, turn, bin] = choice;
    const width = board.binMaxX[bin]! - board.binMinX[bin]!;
    const height = board.binMaxY[bin]! - board.binMinY[bin]!;
    const x = board.clampX(board.binMinX[bin]! + random() * width, form, turn, bin);
    const y = board.clampY(board.binMinY[bin]! + random() * height, form, turn, bin);
    board.put(i, x, y, turn, form, bin);
  }
}
