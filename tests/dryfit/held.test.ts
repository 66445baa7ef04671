/**
 * Figures of panels on shells that were held back: bounds are what was reached, rounded up, and may only improve. The
 * whole family is printed by `npx tsx tests/bench/dryFitFigures.ts 5 held`.
 */
import { describe, expect, it } from 'vitest';
import { unwatched } from '../../src/base';
import { dryFit } from '../../src/dryfit';
import { panelsOfTruth, shellFigures, surfaceOfTruth } from '../foam/shellFigures';
import { foamOfTruth } from '../foam/truthSeams';
import { heldShells } from '../support/heldShells';

/** Gap mean, 95th percentile and most, overlap as a part of the foam, bent lengths of mates at the most. */
const reached = [
  ['held 9101', { mean: 0.056, p95: 0.24, max: 1.07, overlap: 0.0007, bent: 0.005 }],
  ['held 9109', { mean: 0.074, p95: 0.24, max: 0.61, overlap: 0.0005, bent: 0.005 }],
  ['held 9112', { mean: 0.053, p95: 0.18, max: 0.67, overlap: 0.0007, bent: 0.005 }],
] as const;

describe.each(reached)('%s, bevelled at 5 mm', (start, most) => {
  it('fits as well as it did', async () => {
    const truth = heldShells.find(({ name }) => name.startsWith(start))!.make();
    const { shell, places } = surfaceOfTruth(truth);
    const foam = panelsOfTruth(truth);
    const fit = await dryFit(
      { foam, decisions: foamOfTruth(truth), shell, places, brow: null, brief: true },
      unwatched,
    );
    const gap = fit.designed.bevelled!;
    expect(gap.mean).toBeLessThan(most.mean);
    expect(gap.p95).toBeLessThan(most.p95);
    expect(gap.max).toBeLessThan(most.max);
    expect(fit.designed.overlapShare).toBeLessThan(most.overlap);
    expect(shellFigures(truth).bent.max).toBeLessThan(most.bent);
  });
});
