/**
 * Panels on sheets of foam: thickness by thickness, offcuts first, as few sheets as can be found within the effort,
 * then the last sheet as short as can be found. The first layout is there at once; better ones follow until the effort
 * is used up or the work is cancelled. No layout is handed out unless it passes the check on the true outlines.
 */
import { GirthwiseError, type Issue, seededRandom, type Work } from '../base';
import { boxOf, ringArea } from '../math';
import type { Board } from './board';
import { nestCheck, sheetOutline } from './check';
import { Budget, type Effort } from './clock';
import { construct, constructOrders } from './construct';
import { doesNotFit, lockedFault } from './issues';
import { type Job, makeJob, placements, type SheetCopy, usedSheets } from './job';
import { Separator } from './separate';
import { Settler } from './settle';
import { Shortener } from './shorten';
import {
  type NestLayout,
  type NestPanel,
  type NestSettings,
  type NestSheet,
  type PlacedPanel,
  sameFoam,
} from './types';

type Foam = Pick<NestSheet, 'thickness' | 'material'>;

/** A sheet cannot be saved when the panels would have to fill the others to more than this (published records: 0.93). */
const hopelessDensity = 0.92;
/** Share of a thickness' effort for saving sheets; what is not needed goes to the last sheet. */
const savingShare = 0.5;

/**
 * Places panels on sheets.
 * @param onBetter called with every layout that is better than the one before, the first included
 * @returns the best layout found
 * @throws Cancelled through `work`; GirthwiseError `nest-input` for lengths that are not lengths
 */
export async function nestPanels(
  panels: readonly NestPanel[],
  sheets: readonly NestSheet[],
  settings: NestSettings,
  work: Work,
  onBetter: (layout: NestLayout) => void = () => {},
): Promise<NestLayout> {
  if (!(settings.gap >= 0) || !(settings.margin >= 0))
    throw new GirthwiseError(
      'nest-input',
      `Gap ${settings.gap} and margin ${settings.margin} must be 0 or more.`,
    );
  const foams = panels.filter((p, k) => panels.findIndex((q) => sameFoam(p, q)) === k);
  foams.sort((a, b) => a.thickness - b.thickness);
  const groups = foams.map((foam) => new Group(panels, sheets, foam, settings));
  const area = groups.reduce((sum, g) => sum + g.panelArea, 0);
  for (const group of groups) group.first();
  const report = () => {
    const layout = joined(groups, settings);
    onBetter(layout);
    return layout;
  };
  let layout = report();
  for (const group of groups) {
    await work.step(0, 1, 'Nesting panels');
    if (group.otherOrders()) layout = report();
  }
  for (const group of groups) {
    await group.improve(shareOf(settings.effort, area > 0 ? group.panelArea / area : 1), work, () => {
      layout = report();
    });
  }
  return layout;
}

function shareOf(effort: Effort, share: number): Effort {
  return effort.kind === 'seconds'
    ? { kind: 'seconds', seconds: effort.seconds * share }
    : { kind: 'evaluations', evaluations: effort.evaluations * share };
}

function joined(groups: readonly Group[], settings: NestSettings): NestLayout {
  const sheets = groups.flatMap((g) => usedSheets(g.panels, g.sheets, g.placed, settings.margin));
  let used = 0;
  let filled = 0;
  for (const group of groups) {
    const mine = usedSheets(group.panels, group.sheets, group.placed, settings.margin);
    mine.forEach((s, k) => {
      const box = boxOf(
        sheetOutline(group.sheets.find((c) => c.sheet.id === s.sheet && c.copy === s.copy)!.sheet),
      );
      used += k === mine.length - 1 ? s.area * (s.usedWidth / (box.maxX - box.minX)) : s.area;
      filled += s.panelArea;
    });
  }
  return {
    placed: groups.flatMap((g) => g.placed),
    sheets,
    left: groups.flatMap((g) => g.left),
    density: used > 0 ? filled / used : 0,
    issues: groups.flatMap((g) => g.issues),
  };
}

/** A first layout while orders of panels are tried. */
interface Begun {
  readonly job: Job;
  readonly orders: readonly (readonly number[])[];
  best: { left: number[]; used: number; reach: number; saved: ReturnType<Board['save']> } | null;
}

/** All panels and sheets of one foam. */
class Group {
  readonly panels: readonly NestPanel[];
  readonly sheets: readonly SheetCopy[];
  readonly panelArea: number;
  placed: readonly PlacedPanel[] = [];
  left: readonly string[] = [];
  issues: readonly Issue[] = [];
  private job: Job | null = null;
  private leftItems: ReadonlySet<number> = new Set();
  private begun: Begun | null = null;
  private readonly check: ReturnType<typeof nestCheck>;

  constructor(
    panels: readonly NestPanel[],
    private readonly stock: readonly NestSheet[],
    foam: Foam,
    private readonly settings: NestSettings,
  ) {
    this.panels = panels.filter((p) => sameFoam(p, foam));
    this.panelArea = this.panels.reduce(
      (sum, p) => sum + p.quantity * [p.outline, ...p.holes].reduce((a, r) => a + ringArea(r), 0),
      0,
    );
    const count = this.panels.reduce((sum, p) => sum + p.quantity, 0);
    this.check = nestCheck(this.panels, stock, settings.gap, settings.margin);
    this.sheets = sheetOrder(stock, foam, this.panels, count);
  }

  /** The first layout, without any search: one order of panels only, so that something is there to be seen. */
  first(): void {
    const { gap, margin } = this.settings;
    const job = makeJob(this.panels, this.sheets, gap, margin);
    const begun = { job, orders: constructOrders(job.board), best: null };
    this.begun = begun;
    this.tryOrder(begun, 0);
    this.take(begun);
  }

  /** The other orders. @returns whether one of them gives a better layout. */
  otherOrders(): boolean {
    const { begun } = this;
    if (!begun) return false;
    this.begun = null;
    const before = begun.best;
    for (let k = 1; k < begun.orders.length; k++) this.tryOrder(begun, k);
    if (begun.best) begun.job.board.restore(begun.best.saved);
    if (begun.best === before) return false;
    this.take(begun);
    return true;
  }

  private tryOrder(begun: Begun, k: number): void {
    const { board } = begun.job;
    const order = begun.orders[k]!;
    const left = construct(board, order);
    const waiting = new Set(left);
    const used = Math.max(-1, ...order.filter((i) => !waiting.has(i)).map((i) => board.bin[i]!));
    const reach = used < 0 ? 0 : board.reachX(used);
    const { best } = begun;
    const better =
      !best ||
      left.length < best.left.length ||
      (left.length === best.left.length && (used < best.used || (used === best.used && reach < best.reach)));
    if (better) begun.best = { left, used, reach, saved: board.save() };
  }

  /** What the board holds becomes the layout, when it is sound. */
  private take({ job, best }: Begun): void {
    const { gap, margin } = this.settings;
    const left = best?.left ?? [];
    this.leftItems = new Set(left);
    this.left = left.map((i) => job.copies[i]!.panel.id);
    const locked = lockedFault(this.panels, this.stock, placements(job, this.leftItems), gap, margin);
    this.issues = [...locked, ...doesNotFit(this.panels, this.left, this.sheets.length === 0)];
    // Nothing to search for while panels wait for a sheet or locked ones collide: what fits is shown.
    if (left.length > 0 || locked.length > 0) this.placed = placements(job, this.leftItems);
    else this.accept(job);
  }

  async improve(effort: Effort, work: Work, onBetter: () => void): Promise<void> {
    const job = this.job;
    if (!job) return;
    const { board } = job;
    const before = board.evaluations;
    const budget = new Budget(
      effort,
      this.settings.clock,
      () => board.evaluations - before,
      work,
      'Nesting panels',
    );
    const random = seededRandom(this.settings.seed);
    const better = () => {
      const accepted = this.accept(job);
      if (accepted) onBetter();
      return accepted;
    };
    board.bins = 1 + lastUsed(job);
    await this.saveSheets(job, budget, random, better);
    const last = board.bins - 1;
    const floor = lockedReach(job, last);
    await new Shortener(board, budget, random, floor, better).run();
  }

  /** Tries to do with one sheet less, again and again. */
  private async saveSheets(
    job: Job,
    budget: Budget,
    random: () => number,
    better: () => boolean,
  ): Promise<void> {
    const { board } = job;
    const separator = new Separator(board, random, new Settler(board));
    for (;;) {
      const last = board.bins - 1;
      if (last === 0 || lockedReach(job, last) > Number.NEGATIVE_INFINITY) return;
      const room = job.sheets.slice(0, last).reduce((sum, s) => sum + ringArea(sheetOutline(s.sheet)), 0);
      if (this.panelArea > room * hopelessDensity) return;
      const kept = board.save();
      board.bins = last;
      const homeless = (i: number) => !board.fixed[i] && board.bin[i] === last;
      const fitting = board.items.map((_, i) => i).filter(homeless);
      if (!fitting.every((i) => scatterInto(job, i, random))) {
        board.bins = last + 1;
        board.restore(kept);
        return;
      }
      board.refreshAll();
      const until = budget.spent() + (savingShare - budget.spent()) / 2;
      const result = await separator.run(budget, { patience: 150, strikes: 4, until });
      if (!result.free) {
        board.bins = last + 1;
        board.restore(kept);
        return;
      }
      better();
      while (board.bins > 1 && board.reachX(board.bins - 1) === Number.NEGATIVE_INFINITY) board.bins--;
    }
  }

  /** Takes the board's layout over when it passes the check; the search's own word is not enough. */
  private accept(job: Job): boolean {
    const placed = placements(job, this.leftItems);
    if (this.check(placed, this.left).length > 0) return false;
    this.placed = placed;
    this.job = job;
    return true;
  }
}

/** Puts an item at a random place of any bin that is in use. */
function scatterInto(job: Job, i: number, random: () => number): boolean {
  const { board } = job;
  const item = board.items[i]!;
  const choices: [number, number, number][] = [];
  for (const form of item.forms)
    for (const turn of item.turns)
      for (let bin = 0; bin < board.bins; bin++)
        if (board.fitsBin(form, turn, bin)) choices.push([form, turn, bin]);
  const choice = choices[Math.floor(random() * choices.length)];
  if (!choice) return false;
  const [form, turn, bin] = choice;
  const x = board.binMinX[bin]! + random() * (board.binMaxX[bin]! - board.binMinX[bin]!);
  const y = board.binMinY[bin]! + random() * (board.binMaxY[bin]! - board.binMinY[bin]!);
  board.put(i, board.clampX(x, form, turn, bin), board.clampY(y, form, turn, bin), turn, form, bin);
  return true;
}

/** The last bin that carries a panel. */
function lastUsed(job: Job): number {
  return job.copies.reduce((last, copy, i) => (copy ? Math.max(last, job.board.bin[i]!) : last), 0);
}

/** How far locked panels reach in a bin; −∞ when there are none. */
function lockedReach(job: Job, bin: number): number {
  return job.copies.reduce(
    (reach, copy, i) =>
      copy?.locked && job.board.bin[i] === bin ? Math.max(reach, job.board.boxMaxX[i]!) : reach,
    Number.NEGATIVE_INFINITY,
  );
}

/** Sheets that carry locked panels, then offcuts, small ones first, then whole sheets as they were given. */
function sheetOrder(
  stock: readonly NestSheet[],
  foam: Foam,
  panels: readonly NestPanel[],
  count: number,
): SheetCopy[] {
  const isLocked = (s: SheetCopy) =>
    panels.some((p) =>
      p.locked.slice(0, p.quantity).some((l) => l.sheet === s.sheet.id && l.sheetCopy === s.copy),
    );
  const highest = Math.max(0, ...panels.flatMap((p) => p.locked.map((l) => l.sheetCopy + 1)));
  const all = stock
    .filter((s) => sameFoam(s, foam))
    .flatMap((sheet) =>
      // More sheets than panels are never used.
      Array.from({ length: Math.min(sheet.count, Math.max(count, highest)) }, (_, copy) => ({ sheet, copy })),
    );
  const rank = (s: SheetCopy) => (isLocked(s) ? 0 : s.sheet.shape.kind === 'offcut' ? 1 : 2);
  const size = (s: SheetCopy) => (rank(s) === 1 ? ringArea(sheetOutline(s.sheet)) : 0);
  return all
    .map((s, k) => ({ s, k }))
    .sort((a, b) => rank(a.s) - rank(b.s) || size(a.s) - size(b.s) || a.k - b.k)
    .map(({ s }) => s);
}
