import { expect, test } from 'vitest';
import { unwatched } from '../../src/base';
import { defaultDecisions } from '../../src/model';
import { type FoldProbe, matchSeams, verifySeams } from '../../src/seams';
import { drawn, members } from './matchFamily';
import { scoreMatch } from './matchScore';
import { patternOf, polygonPiece } from './patterns';

const usual = defaultDecisions.seams;
const flat: FoldProbe = async () => ({ endsOf: () => null, residual: { rms: 0, max: 0 } });

/** Beside the chin of the helm hang a strip and what it joins, each by single edges. */
test('the chin of a helm is joined by single edges, with the ways that are as good said', async () => {
  const { pattern, seams } = drawn(members.find((m) => m.name === 'Gannet helm')!.make(), 'tabs');
  const before = scoreMatch(matchSeams(pattern, usual), seams);
  expect(before.found).toBeLessThan(seams.length);
  const result = await verifySeams(pattern, usual, flat, unwatched);
  expect(scoreMatch(result, seams)).toEqual({ truth: 331, found: 331, right: 331 });
  const joined = result.seams.filter((s) => s.reason?.includes('hang loose'));
  expect(joined.length).toBe(4);
  const said = result.issues.find((i) => i.code === 'loose-parts-joined')!;
  expect(said.message).toMatch(/^3 parts hung loose .*either way makes the same shell/);
});

// A plate with two edges of 60 mm, mirror images of each other, and a flap with one such edge.
test('a flap that fits as well in two places hangs loose', async () => {
  const plate = polygonPiece('a', [
    [0, 0],
    [36, 0],
    [36 + 36, 48],
    [-36, 48],
  ]);
  const flap = polygonPiece('flap', [
    [200, 0],
    [260, 0],
    [224, 29],
  ]);
  const result = await verifySeams(patternOf([plate, flap], {}), usual, flat, unwatched);
  expect(result.seams).toEqual([]);
  expect(result.open.find((o) => o.edge === 'flap1')?.candidates).toEqual(
    expect.arrayContaining(['a2', 'a4']),
  );
});
