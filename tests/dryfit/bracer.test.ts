/** Panels of bent sheets: strips between rulings, one of which crosses a seam 0.15 mm from a corner of the curve. */
import { describe, expect, it } from 'vitest';
import { keelPattern } from '../support/harbourWatch';
import { dryFitOf, foldedOf } from './foldedFit';

describe('the Keel bracer, its ridge typed', () => {
  it('meets all round: every fold is a ruling that runs on across its seam', async () => {
    const held = await foldedOf(keelPattern(), ['P1.f1']);
    const { designed, leftOut } = await dryFitOf(held, {}, true);
    expect(leftOut).toEqual([]);
    // Both models can be met exactly.
    expect(designed.bevelled!.max).toBeLessThan(0.005);
    expect(designed.overlapShare).toBeLessThan(1e-4);
  });
});
