/** Panels that are not neighbours and still take the same foam. */
import { expect, it } from 'vitest';
import { shellPattern } from '../support/harbourWatch';
import { hookedWall, hookReach } from './hookedWall';
import { dryFitOfTruth } from './truthFit';

const truth = shellPattern(hookedWall(), { maxFaces: 1 });
const t = 5;

/**
 * The first wall's foam reaches from 0 to t, the last wall's begins at `near` and is t thick. At the floor both are
 * bevelled, so that they begin as high as they are deep: ∫∫ wall − max(x, y) over 0 ≤ x ≤ t, near ≤ y ≤ t.
 */
const shared = (near: number, wall: number) =>
  t * (t - near) * wall - (t * t * (t - near) + (t ** 3 - near ** 3) / 3) / 2;

it('clashes are found with their volume and place, and thinner foam clears them', async () => {
  const { clashes, seams } = await dryFitOfTruth(truth, { thickness: t, standsFor: 'outside' });
  expect(clashes).toHaveLength(1);
  const [{ panels, volume, at, vertex }] = clashes as [(typeof clashes)[number]];
  const glued = new Set(seams.map((s) => [...s.panels].sort().join(' ')));
  expect(glued).not.toContain([...panels].sort().join(' '));
  expect(Math.abs(volume / shared(hookReach.near, hookReach.wall) - 1)).toBeLessThan(1e-9);
  // Where the last wall comes near the first: at x from 30 to 35, y from 3 to 5.
  expect(at.x).toBeCloseTo(32.5, 0);
  expect(at.y).toBeCloseTo(4, 0);
  const corner = truth.shell.vertices[vertex]!;
  expect(Math.hypot(corner.x - 30, corner.y - hookReach.near)).toBeLessThan(1e-9);
  // The remedy that is offered, thinner foam for both, leaves them apart: 3 mm is as far as they are.
  const thinner = { thicknessOf: Object.fromEntries(panels.map((id) => [id, 3])) };
  const after = await dryFitOfTruth(truth, { thickness: t, standsFor: 'outside', ...thinner });
  expect(after.clashes).toEqual([]);
});

it('foam on the other side of the paper does not clash', async () => {
  const { clashes } = await dryFitOfTruth(truth, { thickness: t, standsFor: 'inside' });
  expect(clashes).toEqual([]);
});
