/**
 * Does without the last sheet where that can be: its panels go into room that the other sheets have left, as they are
 * or by pushing others aside.
 */
import { ringArea } from '../math';
import { sheetOutline } from './check';
import type { Budget } from './clock';
import { construct } from './construct';
import type { Job } from './job';
import { Separator } from './separate';
import { Settler } from './settle';

/** A sheet cannot be saved when the panels would have to fill the others to more than this (published records: 0.93). */
const hopelessDensity = 0.92;

/** Whether the last bin in use might be saved: nothing is locked there, and the others are large enough. */
export function maySaveSheet(job: Job): boolean {
  const { board, sheets } = job;
  const last = board.bins - 1;
  if (last === 0 || lockedReach(job, last) > Number.NEGATIVE_INFINITY) return false;
  const room = sheets.slice(0, last).reduce((sum, s) => sum + ringArea(sheetOutline(s.sheet)), 0);
  let area = 0;
  job.copies.forEach((copy, i) => {
    if (copy) area += board.table.forms[board.form[i]!]!.area;
  });
  return area <= room * hopelessDensity;
}

/**
 * Tries to do with one sheet less, again and again, by searching. The board keeps its layout when that fails.
 * @param until share of the budget for all tries together; each gets half of what is left
 * @param better takes the board's layout over; says whether it passed the check
 */
export async function saveSheets(
  job: Job,
  budget: Budget,
  until: number,
  random: () => number,
  better: () => boolean,
): Promise<void> {
  const { board } = job;
  const separator = new Separator(board, random, new Settler(board));
  while (maySaveSheet(job)) {
    const last = board.bins - 1;
    const kept = board.save();
    board.bins = last;
    const homeless = itemsIn(job, last);
    let saved = homeless.every((i) => scatterInto(job, i, random));
    if (saved) {
      board.refreshAll();
      const end = budget.spent() + (until - budget.spent()) / 2;
      saved = (await separator.run(budget, { patience: 150, strikes: 4, until: end })).free && better();
    }
    if (!saved) {
      board.bins = last + 1;
      board.restore(kept);
      return;
    }
    dropEmptyBins(job);
  }
}

/**
 * Moves panels of the last sheet into gaps of the others, largest first, of equal ones the last, without moving anything else. Kept when the
 * sheet is empty or shorter after it.
 */
export function fillGaps(job: Job, better: () => boolean): void {
  const { board } = job;
  while (maySaveSheet(job)) {
    const last = board.bins - 1;
    const kept = board.save();
    const reach = board.reachX(last);
    const { boxMaxX, items } = board;
    const homeless = itemsIn(job, last).sort(
      (a, b) => items[b]!.area - items[a]!.area || boxMaxX[b]! - boxMaxX[a]! || a - b,
    );
    const moving = new Set(homeless);
    const lying = board.items.map((_, i) => i).filter((i) => !moving.has(i));
    board.bins = last;
    construct(board, homeless, { lying });
    board.bins = last + 1;
    board.refreshAll();
    if (!(board.reachX(last) < reach && better())) {
      board.restore(kept);
      return;
    }
    if (board.reachX(last) > Number.NEGATIVE_INFINITY) return;
    dropEmptyBins(job);
  }
}

/** How far locked panels reach in a bin; −∞ when there are none. */
export function lockedReach(job: Job, bin: number): number {
  return job.copies.reduce(
    (reach, copy, i) =>
      copy?.locked && job.board.bin[i] === bin ? Math.max(reach, job.board.boxMaxX[i]!) : reach,
    Number.NEGATIVE_INFINITY,
  );
}

function itemsIn({ board }: Job, bin: number): number[] {
  return board.items.map((_, i) => i).filter((i) => !board.fixed[i] && board.bin[i] === bin);
}

function dropEmptyBins(job: Job): void {
  const { board } = job;
  const isEmpty = (bin: number) =>
    board.reachX(bin) === Number.NEGATIVE_INFINITY && lockedReach(job, bin) === Number.NEGATIVE_INFINITY;
  while (board.bins > 1 && isEmpty(board.bins - 1)) board.bins--;
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
