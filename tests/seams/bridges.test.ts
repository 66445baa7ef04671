import { expect, test } from 'vitest';
import { unwatched } from '../../src/base';
import { defaultDecisions } from '../../src/model';
import { type FoldProbe, matchSeams, seamIdOf, verifySeams } from '../../src/seams';
import { bridgedDome } from '../support/bridgedDome';
import { openShell, shellPattern } from '../support/harbourWatch';
import { hullMeshOf } from '../support/solids';
import { drawn } from './matchFamily';
import { recall, scoreMatch } from './matchScore';

const usual = defaultDecisions.seams;
const flat: FoldProbe = async () => ({ endsOf: () => null, residual: { rms: 0, max: 0 } });

// The chin of this dome is joined by one edge at either end. Its ends fit each other's places, and on the flat pieces
// nothing tells the two ways apart.
test('a bridge that fits two ways stays open, and each edge lists both mates with scores', async () => {
  const made = shellPattern(bridgedDome(245, 6, 16), { seed: 245, mirrored: false, maxFaces: 9 });
  const { pattern, seams } = drawn(made, 'clean');
  const result = await verifySeams(pattern, usual, flat, unwatched);
  const score = scoreMatch(result, seams);
  expect(score.right).toBe(score.found);
  expect(score.truth - score.right).toBe(2);
  const said = result.issues.find((i) => i.code === 'seams-fit-otherwise')!;
  expect(said.place.ids).toHaveLength(4);
  for (const edge of said.place.ids!) {
    const open = result.open.find((o) => o.edge === edge)!;
    const weighed = open.candidates.filter((c, i) => said.place.ids!.includes(c) && open.scores![i]! > 0.2);
    expect(weighed.length).toBeGreaterThanOrEqual(2);
    expect(weighed.some((c) => seams.includes(seamIdOf(edge, c)))).toBe(true);
    expect([...open.scores!].sort((p, q) => q - p)).toEqual(open.scores);
  }
});

// The person pairs one of its edges; the other end follows, and nothing is asked any more.
test('one end of such a bridge paired by hand settles the other', async () => {
  const made = shellPattern(bridgedDome(245, 6, 16), { seed: 245, mirrored: false, maxFaces: 9 });
  const { pattern, seams } = drawn(made, 'clean');
  const found = new Set((await verifySeams(pattern, usual, flat, unwatched)).seams.map((s) => s.id));
  const [a, b] = seams.find((s) => !found.has(s))!.split('+') as [string, string];
  const told = { ...usual, made: [{ a, b, direction: 'opposed' as const }] };
  const result = await verifySeams(pattern, told, flat, unwatched);
  expect(scoreMatch(result, seams)).toEqual({
    truth: seams.length,
    found: seams.length,
    right: seams.length,
  });
  expect(result.issues.map((i) => i.code)).not.toContain('seams-fit-otherwise');
});

// A seam along the middle that runs into a rim agrees with its own mirror image, as the rim does: both were sewn up and
// both taken apart. The seam begins at a closed end, and zips up again.
test.each([
  ['clean', 600],
  ['loose', 612],
] as const)('slits of the middle zip up again, and rims stay open: drawn %s, #%s', (manner, seed) => {
  const shell = openShell({ seed, faces: 60, symmetric: true, net: 'triangles', jitter: 0.05 });
  const { pattern, seams } = drawn(shellPattern(shell, { seed, mirrored: false, maxFaces: 6 }), manner);
  const result = matchSeams(pattern, usual);
  const score = scoreMatch(result, seams);
  expect(score.right).toBe(score.found);
  expect(recall(score)).toBeGreaterThanOrEqual(0.97);
  expect(result.open.length).toBeGreaterThan(5);
});

// All edges of an icosahedron are equally long: corners suggest seams of the flat net, and most of them are wrong. All
// corners of the net are gone through: seconds on a busy core.
test('a regular solid that does not come together as a whole is left open, and the maker is told', {
  timeout: 180_000,
}, async () => {
  const golden = (1 + Math.sqrt(5)) / 2;
  const corners = [-1, 1].flatMap((x) =>
    [-golden, golden].flatMap((y) => [
      [0, x, y],
      [x, y, 0],
      [y, 0, x],
    ]),
  );
  const told: string[] = [];
  for (const seed of [1, 2, 3]) {
    const made = shellPattern(hullMeshOf('icosahedron', corners, 40), {
      seed,
      mirrored: false,
      maxFaces: 30,
    });
    const { pattern, seams } = drawn(made, 'clean');
    const result = await verifySeams(pattern, usual, flat, unwatched);
    const whole = result.seams.length === seams.length;
    if (!whole) expect(result.seams).toEqual([]);
    told.push(...result.issues.map((i) => i.code));
  }
  expect(told).toContain('all-edges-alike');
});
