/**
 * The strip problem of the literature: panels on a strip of given height, as short as can be found. Sheets are what
 * makers have; this is how nesting is measured against published results.
 */
import { seededRandom, type Work } from '../base';
import { boxOf, ringArea } from '../math';
import type { Mm } from '../units';
import { nestCheck, posed } from './check';
import { Budget } from './clock';
import { construct, constructOrders } from './construct';
import { makeJob, placements } from './job';
import { Shortener } from './shorten';
import type { NestPanel, NestSettings, NestSheet, PlacedPanel } from './types';

export interface StripLayout {
  readonly placed: readonly PlacedPanel[];
  /** From the strip's start to the rightmost point of a panel, mm. */
  readonly length: Mm;
  /** Area of panels over height times length. */
  readonly density: number;
  readonly seconds: number;
  readonly evaluations: number;
}

/**
 * @param panels all of one thickness
 * @param onBetter called with every shorter layout; each has passed the check on the true outlines
 */
export async function nestStrip(
  panels: readonly NestPanel[],
  height: Mm,
  settings: NestSettings,
  work: Work,
  onBetter: (layout: StripLayout) => void = () => {},
): Promise<StripLayout> {
  const started = settings.clock();
  const area = panels.reduce(
    (sum, p) => sum + p.quantity * [p.outline, ...p.holes].reduce((a, r) => a + ringArea(r), 0),
    0,
  );
  const longest = panels.reduce((sum, p) => sum + p.quantity * reachOf(p), 0) + height;
  const sheet: NestSheet = {
    id: 'strip',
    thickness: panels[0]?.thickness ?? 0,
    count: 1,
    shape: { kind: 'rectangle', width: longest, height },
  };
  const job = makeJob(panels, [{ sheet, copy: 0 }], settings.gap, settings.margin);
  const { board } = job;
  const byId = new Map(panels.map((p) => [p.id, p]));
  let best: StripLayout | null = null;
  const check = nestCheck(panels, [sheet], settings.gap, settings.margin);
  const keep = () => {
    const placed = placements(job, new Set());
    if (check(placed, []).length > 0) return false;
    const length =
      Math.max(...placed.map((p) => boxOf(posed([byId.get(p.panel)!.outline], p)[0]!).maxX)) +
      settings.margin;
    if (best && length >= best.length) return false;
    const seconds = settings.clock() - started;
    best = { placed, length, density: area / (height * length), seconds, evaluations: board.evaluations };
    onBetter(best);
    return true;
  };
  const budget = new Budget(settings.effort, settings.clock, () => board.evaluations, work, 'Nesting panels');
  let saved = board.save();
  let shortest = Number.POSITIVE_INFINITY;
  for (const order of constructOrders(board)) {
    construct(board, order);
    if (board.reachX(0) >= shortest) continue;
    shortest = board.reachX(0);
    saved = board.save();
    keep();
  }
  board.restore(saved);
  await new Shortener(board, budget, seededRandom(settings.seed), Number.NEGATIVE_INFINITY, keep).run();
  return { ...best!, evaluations: board.evaluations };
}

/** More than the panel's extent in any direction. */
function reachOf(panel: NestPanel): Mm {
  const xs = panel.outline.map((p) => p.x);
  const ys = panel.outline.map((p) => p.y);
  return Math.hypot(Math.max(...xs) - Math.min(...xs), Math.max(...ys) - Math.min(...ys)) + 50;
}
