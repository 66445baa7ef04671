/** Panels as the program proposes them; figures of all members are printed by `tests/bench/dryFitFigures.ts` and `dryFitOthers.ts`. */
import { describe, expect, it } from 'vitest';
import { corpus } from '../support/harbourWatch';
import { dryFitOf, heldOf, proposedOf } from './foldedFit';

const member = (start: string) => heldOf(corpus.find(({ name }) => name.startsWith(start))!.make());

describe.each(['Bollard pauldron', 'shell 2', 'icosahedron'])('%s, sharp folds cut, 5 mm', (start) => {
  const panels = proposedOf(member(start), 'splits');

  it('meets with bevels', async () => {
    const { designed, clashes } = await dryFitOf(await panels, { preparation: 'bevel' }, true);
    const gap = designed.bevelled!;
    expect(gap.mean).toBeLessThanOrEqual(0.1);
    expect(gap.p95).toBeLessThanOrEqual(0.4);
    expect(gap.max).toBeLessThanOrEqual(1.5);
    expect(designed.overlapShare).toBeLessThanOrEqual(0.0015);
    expect(clashes).toEqual([]);
  });

  it('touches with square cuts', async () => {
    const { designed } = await dryFitOf(await panels, { preparation: 'square' }, true);
    expect(designed.square!.mean).toBeLessThanOrEqual(0.1);
    expect(designed.square!.p95).toBeLessThanOrEqual(0.5);
    expect(designed.overlapShare).toBeLessThanOrEqual(0.0003);
  });
});

describe('panels cut anew, with closed rings of faces', () => {
  it('give at their folds', async () => {
    const panels = await proposedOf(member('shell 1'), 'anew');
    const { designed } = await dryFitOf(panels, {}, true);
    expect(designed.bevelled!.mean).toBeLessThan(0.1);
    expect(designed.bevelled!.p95).toBeLessThan(0.4);
  });
});
