import { describe, expect, it } from 'vitest';
import { nestOverlap } from '../../src/nest';
import { makeJob, placements } from '../../src/nest/job';
import { fillGaps } from '../../src/nest/saveSheets';
import { box, panel, rectangle } from './support';

/** Large panels on the first of two sheets, small ones on the second. */
function twoSheets(large: number, small: number) {
  const panels = [
    panel('large', box(90, 190), { quantity: large, turns: 'fixed' }),
    panel('small', box(40, 40), { quantity: small, turns: 'fixed' }),
  ];
  const sheets = [rectangle('s', 310, 210, 2)];
  const copies = [0, 1].map((copy) => ({ sheet: sheets[0]!, copy }));
  const job = makeJob(panels, copies, 3, 5);
  const { board } = job;
  let [x, far] = [0, 0];
  job.copies.forEach((copy, i) => {
    const bin = copy!.panel.id === 'large' ? 0 : 1;
    const form = board.form[i]!;
    // Pushed into the bin: each at the lower rim, to the right of the one before.
    const at = board.binMinX[bin]! + (bin === 0 ? 100 * x++ : 50 * far++);
    board.put(
      i,
      board.clampX(at - board.table.minX[form]!, form, 0, bin),
      board.clampY(-1e6, form, 0, bin),
      0,
      form,
      bin,
    );
  });
  board.refreshAll();
  const sound = () => nestOverlap(panels, sheets, placements(job, new Set()), [], 3, 5).length === 0;
  expect(sound()).toBe(true);
  return { job, board, sound };
}

describe('the panels of the last sheet', () => {
  it('go into room on the others, and the sheet is saved', () => {
    const { job, board, sound } = twoSheets(2, 4);
    let times = 0;
    fillGaps(job, () => {
      times++;
      return sound();
    });
    expect(times).toBe(1);
    expect(board.bins).toBe(1);
    expect([...board.bin]).toEqual([0, 0, 0, 0, 0, 0]);
    expect(sound()).toBe(true);
  });

  it('make it shorter where not all find room', () => {
    const { job, board, sound } = twoSheets(2, 6);
    const before = board.reachX(1);
    board.items.forEach((_, i) => {
      if (board.bin[i] === 0)
        board.put(i, board.x[i]! + (i === 1 ? 30 : 0), board.y[i]!, 0, board.form[i]!, 0);
    });
    board.refreshAll();
    // Now one column of four goes beside the large panels, and the two at the left stay.
    fillGaps(job, sound);
    expect([...board.bin]).toEqual([0, 0, 1, 1, 0, 0, 0, 0]);
    expect(board.reachX(1)).toBeLessThan(before);
    expect(sound()).toBe(true);
  });

  it('stay where they are when the check objects, or when there is no room', () => {
    const refused = twoSheets(2, 4);
    const was = refused.board.save();
    fillGaps(refused.job, () => false);
    expect(refused.board.save()).toEqual(was);
    const full = twoSheets(3, 4);
    const lay = full.board.save();
    fillGaps(full.job, () => {
      throw new Error('nothing is better');
    });
    expect(full.board.save()).toEqual(lay);
  });
});
