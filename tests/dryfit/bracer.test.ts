/** Panels of bent sheets: strips between rulings, one of which crosses a seam 0.15 mm from a corner of the curve. */
import { describe, expect, it } from 'vitest';
import { nothingKnown } from '../../src/model';
import { foldPattern } from '../../src/shell';
import { bendsOfTruth, seamsOfTruth } from '../foam/truthSeams';
import { keelPattern, patternFromTruth } from '../support/harbourWatch';
import { dryFitOf } from './foldedFit';

describe('the Keel bracer, its ridge typed', () => {
  it('meets all round: every fold is a ruling that runs on across its seam', async () => {
    const truth = keelPattern();
    const [pattern, seams] = [patternFromTruth(truth), seamsOfTruth(truth)];
    const bends = { 'P1.f1': bendsOfTruth(truth)['P1.f1']! };
    const shell = await foldPattern(pattern, seams, { ...nothingKnown, bends });
    const { designed, leftOut } = await dryFitOf({ pattern, seams, shell }, {}, true);
    expect(leftOut).toEqual([]);
    // Both models can be met exactly.
    expect(designed.bevelled!.max).toBeLessThan(0.005);
    expect(designed.overlapShare).toBeLessThan(1e-4);
  });
});
