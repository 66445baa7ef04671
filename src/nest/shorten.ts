/**
 * Makes the used length of the last bin as short as the budget allows. In turn: the bin is made a little shorter,
 * what sticks out is pushed in, the overlaps are taken away (see separate.ts), and a success is squeezed by moving all
 * items together (see settle.ts). When even small steps fail, the best layout or a good failure is shaken up for the next
 * tries; and when some of those have failed too, the search wanders for a while: layouts that are longer than the best
 * by no more than a little follow one another, each made from the one before by shaking it up, so that what is reached
 * by several changes is found although none of them alone is a gain.
 * The last part of the budget squeezes the best layout in ever finer steps.
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
const idleTries = 10;
/** A step that succeeded is followed by a longer one. */
const stepGrowth = 1.5;
/** Of a try to take overlaps away; see separate.ts. */
const patience = 120;
/** Wandering: a shaken layout that does not come apart soon is given up; there are many others. */
const wanderPatience = 40;
/** By how much the layouts of a walk may be longer than the best, at the start and at the end of exploring. */
const slackFirst = 0.005;
const slackLast = 0.0005;
/** Tries in a row that came to nothing, after which a walk starts from the best layout again. */
const wanderTries = 6;
/** Layouts of a walk. */
const wanderSteps = 20;
/** Hard tries between two walks, and how many good failures are remembered for them. */
const hardTries = 12;
const poolSize = 10;

/** A layout free of overlap. */
interface Layout {
  readonly state: Saved;
  /** Where the last bin ends. */
  readonly reach: number;
}

/** A state that some overlap was left in. */
interface Failure {
  readonly overlap: number;
  readonly state: Saved;
}

export class Shortener {
  private readonly settler: Settler;
  private readonly separator: Separator;
  private best: Layout;
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
    this.best = this.present();
  }

  private get last(): number {
    return this.board.bins - 1;
  }

  private get start(): number {
    return this.board.binMinX[this.last]!;
  }

  private present(): Layout {
    return { state: this.board.save(), reach: this.board.reachX(this.last) };
  }

  private done(until: number): boolean {
    return this.budget.spent() >= until || this.best.reach <= this.floor || this.idle > idleTries;
  }

  /** The x that is `share` of the best layout's length from the bin's start. */
  private lengthAt(share: number, of = this.best): number {
    return this.start + (of.reach - this.start) * share;
  }

  async run(): Promise<void> {
    const { board } = this;
    const full = board.binMaxX[this.last]!;
    await this.squeezeBest(3e-4, 1);
    await this.explore();
    await this.squeezeBest(1e-5, 1);
    await this.refine();
    board.binMaxX[this.last] = full;
    board.restore(this.best.state);
  }

  /** Ever smaller steps from the best layout; where none succeeds, walks and hard tries in turn until one does. */
  private async explore(): Promise<void> {
    const { budget, separator } = this;
    let step = firstStep;
    while (!this.done(exploring)) {
      this.pushIn(this.lengthAt(1 - step));
      const { free } = await separator.run(budget, { patience, strikes: 1, until: exploring });
      if (free && this.keep()) {
        step = Math.min(firstStep, step * stepGrowth);
        await this.squeezeBest(3e-4, exploring);
      } else if (step > 2 * this.leastStep()) step /= 2;
      else {
        const pool: Failure[] = [];
        while (!this.done(exploring) && !(await this.tryHard(pool)) && !(await this.wander()));
        step = stepGrowth * this.leastStep();
      }
    }
  }

  private leastStep(): number {
    return this.sliding(leastStepFirst, leastStepLast);
  }

  /** A few shaken layouts, the best one or good failures, on a bin that is shorter. @returns whether one came free */
  private async tryHard(pool: Failure[]): Promise<boolean> {
    const { board, budget, separator, random, last } = this;
    for (let k = 0; k < hardTries && !this.done(exploring); k++) {
      this.pushIn(this.lengthAt(1 - this.leastStep()));
      const pick = pool[Math.floor(random() ** 1.5 * pool.length)];
      if (pick && random() < 0.5) board.restore(pick.state);
      shake(board, last, random);
      const result = await separator.run(budget, { patience, strikes: 1, until: exploring });
      if (result.free && this.keep()) {
        await this.squeezeBest(3e-4, exploring);
        return true;
      }
      if (!result.best) continue;
      pool.push({ overlap: result.overlap, state: result.best });
      pool.sort((a, b) => a.overlap - b.overlap);
      if (pool.length > poolSize) pool.pop();
    }
    return false;
  }

  /** From one value at the start of exploring to another at its end. */
  private sliding(first: number, last: number): number {
    return first * (last / first) ** Math.min(1, this.budget.spent() / exploring);
  }

  /** From layout to layout, none much longer than the best, until one is shorter. @returns whether there was one */
  private async wander(): Promise<boolean> {
    const { board, budget, separator, random, last } = this;
    let here = this.best;
    let failures = 0;
    for (let step = 0; step < wanderSteps && !this.done(exploring); step++) {
      board.binMaxX[last] = this.lengthAt(1 + this.sliding(slackFirst, slackLast));
      board.restore(here.state);
      shake(board, last, random);
      await budget.breathe();
      const { free } = await separator.run(budget, {
        patience: wanderPatience,
        strikes: 1,
        until: exploring,
      });
      if (free) {
        here = await this.squeeze(this.present(), 1e-3, exploring, () => true);
        if (here.reach < this.best.reach && this.keep()) return true;
      } else if (++failures > wanderTries) {
        failures = 0;
        here = this.best;
      }
    }
    return false;
  }

  /** Fine steps from the best layout alone. */
  private async refine(): Promise<void> {
    while (!this.done(1)) {
      const part = (this.budget.spent() - exploring) / (1 - exploring);
      this.pushIn(this.lengthAt(1 - 0.001 * 0.03 ** part));
      const { free } = await this.separator.run(this.budget, { patience: 60, strikes: 1, until: 1 });
      if (free && this.keep()) await this.squeezeBest(1e-5, 1);
    }
  }

  private async squeezeBest(finest: number, until: number): Promise<void> {
    await this.squeeze(this.best, finest, until, () => this.keep());
  }

  /**
   * Shortens a layout by moving all items together, in steps that grow on success, until a step of `finest` fails.
   * @param accept whether the board, which holds a shorter layout, is to be gone on from
   * @returns the shortest; the board is left with it
   */
  private async squeeze(from: Layout, finest: number, until: number, accept: () => boolean): Promise<Layout> {
    const { board } = this;
    let at = from;
    let step = 0.002;
    while (step > finest && !this.done(until)) {
      board.binMaxX[this.last] = this.lengthAt(1 - step, at);
      if (!this.fits()) break;
      board.restore(at.state);
      this.settler.run(150, 1e-9);
      if (board.totalDepth() === 0 && board.reachX(this.last) < at.reach && accept()) {
        at = this.present();
        step *= 1.5;
      } else step *= 0.4;
      await this.budget.breathe();
    }
    board.binMaxX[this.last] = at.reach;
    board.restore(at.state);
    return at;
  }

  /** Takes the board over when it is shorter than the best; it is known to be free of overlap. */
  private keep(): boolean {
    const now = this.present();
    if (now.reach >= this.best.reach || !this.onBetter()) {
      this.idle++;
      return false;
    }
    this.idle = 0;
    this.best = now;
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
    const { board, last } = this;
    const { state, reach } = this.best;
    const shift = reach - target;
    const cut = this.start + this.random() * (reach - this.start);
    board.binMaxX[last] = reach;
    board.restore(state);
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
