/**
 * How well the sides of all seams agree over the generated family, foam of 5 mm: figures on record, mm, that may only
 * become smaller. Whoever makes them smaller writes the new ones down; none is ever raised.
 */
import { describe, expect, it } from 'vitest';
import { corpus } from '../support/harbourWatch';
import { shellFigures } from './shellFigures';

/** Difference of bent lengths, whole seams: 95th percentile and largest. */
const onRecord: Readonly<Record<string, readonly [p95: number, max: number]>> = {
  'Gannet helm': [0.057, 0.095],
  'Bollard pauldron': [0.032, 0.032],
  tetrahedron: [0.001, 0.001],
  cube: [0.001, 0.001],
  octahedron: [0.003, 0.003],
  dodecahedron: [0.001, 0.001],
  icosahedron: [0.057, 0.057],
  'prism of 7': [0.001, 0.001],
  'open prism of 12': [0.001, 0.001],
  'shell 1': [0.013, 0.013],
  'shell 2': [0.041, 0.041],
  'shell 3': [0.009, 0.032],
  'shell 4': [0.022, 0.065],
  'shell 5': [0.02, 0.047],
  'shell 6': [0.321, 0.638],
};
/** At the neutral layer, where both sides are unfolded from the same lengths: rounding of quads that are not quite plane. */
const neutralOnRecord = 1e-6;

/** Aims for single stretches, as for whole seams: notches are put between their ends. */
const stretchAims = { p95: 0.03, max: 0.3 };

describe.each(Object.entries(onRecord))('%s', (start, [p95, max]) => {
  it('agrees as well as ever', () => {
    const truth = corpus.find(({ name }) => name.startsWith(start))!.make();
    const { neutral, bent, stretches, seams, overlapping } = shellFigures(truth);
    expect(seams).toBeGreaterThan(0);
    expect(neutral.max).toBeLessThanOrEqual(neutralOnRecord);
    expect(bent.p95).toBeLessThanOrEqual(p95);
    expect(bent.max).toBeLessThanOrEqual(max);
    expect(stretches.p95).toBeLessThanOrEqual(stretchAims.p95);
    expect(stretches.max).toBeLessThanOrEqual(stretchAims.max);
    expect(overlapping).toBe(0);
  });
});
