import { expect, it } from 'vitest';
import { freshDryFit } from '../../app/commands';
import { noResults } from '../../app/document';
import { dryFitRows, remedyOf, worstPlace } from '../../app/steps/foam/dryFitRows';
import type { DryFit, DryFitSeam } from '../../src/model';
import { dryFitOfTruth } from '../dryfit/truthFit';
import { panelsOfTruth } from '../foam/shellFigures';
import { corpus } from '../support/harbourWatch';

const seam = (part: Partial<DryFitSeam>): DryFitSeam => ({
  seam: 's',
  panels: ['a', 'b'],
  preparation: 'bevel',
  touches: ['inside', 'middle', 'outside'],
  model: 'rigid',
  inside: { min: -0.7, mean: 0, max: 0.2 },
  middle: { min: 0, mean: 0, max: 0 },
  outside: { min: 0, mean: 0.3, max: 0.6 },
  worst: 0.7,
  sides: [],
  ...part,
});

it('says where a seam presses or gapes, and what to do about it', () => {
  expect(worstPlace(seam({}))).toMatchObject({ where: 'inside', open: false });
  expect(worstPlace(seam({ touches: ['outside'] }))).toMatchObject({ where: 'outside', open: true });
  expect(remedyOf(seam({ worst: 0.2 }), true)).toMatch(/press together/);
  expect(remedyOf(seam({ panels: ['a', 'a'] }), true)).toMatch(/Split/);
  expect(remedyOf(seam({ preparation: 'square' }), true)).toMatch(/bevel/);
  expect(remedyOf(seam({}), true)).toMatch(/larger scale/);
});

it('names the seams of a real dry fit, worst first', async () => {
  const truth = corpus.find(({ name }) => name === 'dodecahedron')!.make();
  const fit = await dryFitOfTruth(truth);
  const rows = dryFitRows(fit, panelsOfTruth(truth), null);
  expect(rows).toHaveLength(fit.seams.length);
  expect(rows[0]!.worst).toBe(Math.max(...rows.map((r) => r.worst)));
  expect(new Set(rows.map((r) => r.name)).size).toBe(rows.length);
});

it('is older as soon as there are other panels', () => {
  const made = {} as DryFit;
  const foam = panelsOfTruth(corpus.find(({ name }) => name === 'cube')!.make());
  const results = { ...noResults, foam };
  expect(freshDryFit({ dryFit: null, results })).toBeNull();
  expect(freshDryFit({ dryFit: { made, of: foam }, results })).toEqual({ made, fresh: true });
  expect(freshDryFit({ dryFit: { made, of: { ...foam } }, results })?.fresh).toBe(false);
});
