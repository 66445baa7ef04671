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
import { fillGaps, lockedReach, maySaveSheet, saveSheets } from './saveSheets';
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

/** Share of a thickness' effort for saving sheets; what is not needed goes to the last sheet. */
const savingShare = 0.5;
/** … and at the end, once more, where that is not hopeless. */
const endShare = 0.15;

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

/** One way to make a first layout. */
interface Attempt {
  readonly order: readonly number[];
  readonly everyTurn: number;
}

/** A first layout while orders of panels are tried. */
interface Begun {
  readonly job: Job;
  readonly attempts: readonly Attempt[];
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
    const begun: Begun = { job, attempts: attemptsFor(job.board), best: null };
    this.begun = begun;
    this.attempt(begun, begun.attempts[0]!);
    if (begun.best) this.take(begun);
  }

  /** The other orders, and fewer turns. @returns whether one of them gives a better layout, or the first one. */
  otherOrders(): boolean {
    const { begun } = this;
    if (!begun) return false;
    this.begun = null;
    const before = begun.best;
    for (const attempt of begun.attempts.slice(1)) this.attempt(begun, attempt);
    if (!begun.best) begun.best = this.withoutFaults(begun.job);
    begun.job.board.restore(begun.best.saved);
    if (begun.best === before) return false;
    this.take(begun);
    return true;
  }

  /** Keeps the layout of an attempt when it is better and sound: what the check refuses is not built upon. */
  private attempt(begun: Begun, { order, everyTurn }: Attempt): void {
    const { board } = begun.job;
    const left = construct(board, order, { everyTurn });
    const waiting = new Set(left);
    const used = Math.max(-1, ...order.filter((i) => !waiting.has(i)).map((i) => board.bin[i]!));
    const reach = used < 0 ? 0 : board.reachX(used);
    const { best } = begun;
    const better =
      !best ||
      left.length < best.left.length ||
      (left.length === best.left.length && (used < best.used || (used === best.used && reach < best.reach)));
    if (better && this.faulty(begun.job, left).length === 0)
      begun.best = { left, used, reach, saved: board.save() };
  }

  /** Movable items that the check objects to. */
  private faulty(job: Job, left: readonly number[]): number[] {
    const waiting = new Set(left);
    const ids = left.map((i) => job.copies[i]!.panel.id);
    const named = new Set(this.check(placements(job, waiting), ids).flatMap((f) => f.panels));
    return job.copies.flatMap((copy, i) =>
      copy && !copy.locked && !waiting.has(i) && named.has(`${copy.panel.id}#${copy.copy}`) ? [i] : [],
    );
  }

  /** No attempt was sound: of the last one, what is. The rest is left, and reported. */
  private withoutFaults({ board, ...job }: Job): NonNullable<Begun['best']> {
    const left: number[] = [];
    for (;;) {
      const faulty = this.faulty({ board, ...job }, left);
      if (faulty.length === 0) return { left, used: 0, reach: 0, saved: board.save() };
      left.push(faulty[faulty.length - 1]!);
    }
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
    const budgetOf = (share: number) =>
      new Budget(
        shareOf(effort, share),
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
    const whole = budgetOf(1);
    const most = budgetOf(1 - endShare);
    await saveSheets(job, whole, savingShare, random, better);
    const floor = lockedReach(job, board.bins - 1);
    await new Shortener(board, maySaveSheet(job) ? most : whole, random, floor, better).run();
    // The last sheet carries less by now.
    fillGaps(job, better);
    await saveSheets(job, whole, 1, random, better);
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

/** The last bin that carries a panel. */
function lastUsed(job: Job): number {
  return job.copies.reduce((last, copy, i) => (copy ? Math.max(last, job.board.bin[i]!) : last), 0);
}

/** Three orders, each with all turns, then with fewer and fewer of them. */
function attemptsFor(board: Board): Attempt[] {
  const { turns } = board.table;
  const steps = [1, turns / 4, turns / 2, turns].filter((s, k, all) => s >= 1 && all.indexOf(s) === k);
  const orders = constructOrders(board);
  return steps.flatMap((everyTurn) => orders.map((order) => ({ order, everyTurn })));
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
