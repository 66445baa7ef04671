import { expect, test } from 'vitest';
import { unwatched } from '../../src/base';
import { defaultDecisions } from '../../src/model';
import { type FoldProbe, matchSeams, verifySeams } from '../../src/seams';
import { bridgedDome } from '../support/bridgedDome';
import { shellPattern } from '../support/harbourWatch';
import { drawn } from './matchFamily';
import { scoreMatch } from './matchScore';

const usual = defaultDecisions.seams;
const flat: FoldProbe = async () => ({ endsOf: () => null, residual: { rms: 0, max: 0 } });
const dome = (seed: number, rows: number, columns: number, maxFaces: number) =>
  shellPattern(bridgedDome(seed, rows, columns), { seed, mirrored: false, maxFaces });

// Pieces of these domes cross the middle. By corners and lengths alone rims are sewn to their own mirror image, and seams
// of the middle stay open.
test.each([
  ['clean', 32, 5, 12, 6],
  ['loose', 118, 7, 12, 12],
] as const)(
  'rims and seams of the middle are told apart: drawn %s, #%s',
  async (manner, seed, rows, columns, max) => {
    const { pattern, seams } = drawn(dome(seed, rows, columns, max), manner);
    const all = { truth: seams.length, found: seams.length, right: seams.length };
    expect(scoreMatch(matchSeams(pattern, usual), seams)).not.toEqual(all);
    expect(scoreMatch(await verifySeams(pattern, usual, flat, unwatched), seams)).toEqual(all);
  },
);

test('a seam of the middle that the person rejects is not made again', async () => {
  const { pattern, seams } = drawn(dome(32, 5, 12, 6), 'clean');
  const before = new Set(matchSeams(pattern, usual).seams.map((s) => s.id));
  const ofMiddle = seams.filter((id) => !before.has(id));
  expect(ofMiddle.length).toBeGreaterThan(0);
  const result = await verifySeams(pattern, { ...usual, rejected: [ofMiddle[0]!] }, flat, unwatched);
  expect(result.seams.map((s) => s.id)).not.toContain(ofMiddle[0]);
});
