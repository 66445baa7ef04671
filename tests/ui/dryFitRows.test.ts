import { expect, it } from 'vitest';
import { freshDryFit } from '../../app/commands';
import { noResults } from '../../app/document';
import {
  clashRemedy,
  dryFitRows,
  type RemedyContext,
  remedyContext,
  remedyOf,
} from '../../app/steps/foam/dryFitRows';
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
  worstBy: { rigid: 0.7, mitre: 0.1 },
  worstOther: [],
  place: { vertices: [0, 1], part: 0, depth: 'inside', gap: -0.7 },
  sides: [],
  fold: null,
  ...part,
});

const cube = corpus.find(({ name }) => name === 'cube')!.make();

it('offers what helps, as a change that can be made at once', () => {
  const foam = panelsOfTruth(cube);
  const context = (part: Partial<RemedyContext> = {}): RemedyContext => ({
    ...remedyContext(foam, null, { thickness: 5, thicknessOf: {} }),
    ...part,
  });
  expect(remedyOf(seam({ worst: 0.2 }), context())).toMatchObject({ act: null });
  expect(remedyOf(seam({ preparation: 'square' }), context({ runOf: () => ['s', 't'] })).act?.mend).toEqual({
    kind: 'bevel',
    seams: ['s', 't'],
  });
  const sharp = { id: 'f', panel: 'a', bend: -0.9 };
  expect(remedyOf(seam({ fold: sharp }), context()).act?.mend).toEqual({ kind: 'split', fold: 'f' });
  expect(remedyOf(seam({ fold: { ...sharp, bend: 0.2 } }), context()).act?.mend).toEqual({
    kind: 'thinner',
    panels: ['a', 'b'],
    thickness: 3,
  });
  // A square cut that stands for colliding bevels is not to be bevelled again.
  const collides = {
    ...foam,
    issues: [{ code: 'bevel-collides', place: { ids: ['s'] } } as unknown as (typeof foam.issues)[number]],
  };
  expect(remedyOf(seam({ preparation: 'square' }), context({ foam: collides })).act?.mend.kind).toBe(
    'thinner',
  );
  // The thinnest sheet: words alone.
  const thin = context({ decisions: { thickness: 2, thicknessOf: {} } });
  expect(remedyOf(seam({}), thin).act).toBeNull();
  const clash = { panels: ['a', 'b'] as const, volume: 90, at: { x: 0, y: 0, z: 0 }, vertex: 0 };
  expect(clashRemedy(clash, context()).act?.mend).toMatchObject({ kind: 'thinner', thickness: 3 });
});

it('names the seams of a real dry fit, worst first', async () => {
  const truth = corpus.find(({ name }) => name === 'dodecahedron')!.make();
  const fit = await dryFitOfTruth(truth);
  const rows = dryFitRows(fit, panelsOfTruth(truth), null, { thickness: 5, thicknessOf: {} });
  expect(rows).toHaveLength(fit.seams.length);
  expect(rows[0]!.worst).toBe(Math.max(...rows.map((r) => r.worst)));
  expect(new Set(rows.map((r) => r.name)).size).toBe(rows.length);
  for (const { what, measured } of rows) {
    const { place, worst, worstBy, sides, model, worstOther } = measured;
    expect(Math.abs(place.gap)).toBe(worst);
    expect(worst).toBe(Math.max(worstBy.rigid, worstBy.mitre));
    expect(worstBy[model]).toBe(worst);
    expect(Math.max(...sides.flatMap((s) => [s.open, s.pressed]))).toBe(worst);
    expect(what).toBe(place.gap < 0 ? 'pressed' : 'open');
    expect(sides.some(({ vertices }) => vertices === place.vertices)).toBe(true);
    expect(worstOther).toHaveLength(2);
  }
});

it('is older as soon as there are other panels', () => {
  const made = {} as DryFit;
  const foam = panelsOfTruth(corpus.find(({ name }) => name === 'cube')!.make());
  const results = { ...noResults, foam };
  expect(freshDryFit({ dryFit: null, results })).toBeNull();
  expect(freshDryFit({ dryFit: { made, of: foam }, results })).toEqual({ made, fresh: true });
  expect(freshDryFit({ dryFit: { made, of: { ...foam } }, results })?.fresh).toBe(false);
});
