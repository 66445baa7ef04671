/** Two plates along one seam: what closed geometry says of square cuts at different thickness, and of a deep bevel. */
import { expect, it } from 'vitest';
import { MeshBuilder, shellPattern, vec } from '../support/harbourWatch';
import { dryFitOfTruth } from './truthFit';

/** Two plates of 80 × 60 mm that meet at a bend. */
function plates(degrees: number) {
  const [c, s] = [Math.cos((degrees * Math.PI) / 180), Math.sin((degrees * Math.PI) / 180)];
  const builder = new MeshBuilder();
  builder.face(vec(0, -60, 0), vec(80, -60, 0), vec(80, 0, 0), vec(0, 0, 0));
  builder.face(vec(0, 0, 0), vec(80, 0, 0), vec(80, 60 * c, -60 * s), vec(0, 60 * c, -60 * s));
  return shellPattern(builder.build('plates'), { maxFaces: 1 });
}

it.each([
  [30, 'outside'],
  [90, 'outside'],
  [90, 'middle'],
  [90, 'inside'],
  [-60, 'outside'],
  [-60, 'inside'],
] as const)(
  'square plates of 10 and 5 mm at %i°, flush %s, touch and do not overlap',
  async (bend, flush) => {
    const truth = plates(bend);
    const thicknessOf = { [truth.pieces[0]!.id]: 10 };
    const { designed } = await dryFitOfTruth(truth, {
      thickness: 5,
      preparation: 'square',
      standsFor: flush,
      flush,
      thicknessOf,
    });
    expect(designed.square!.max).toBeLessThan(1e-9);
    expect(designed.overlapShare).toBeLessThan(1e-9);
  },
);

it('a bevel deeper than the strip beside it goes on beyond a fold that bends nowhere', async () => {
  const [half, strip, far, length, thickness] = [(50 * Math.PI) / 180, 4, 64, 80, 5];
  const at = (x: number, away: number) => vec(x, away * Math.cos(half), -Math.abs(away) * Math.sin(half));
  const builder = new MeshBuilder();
  for (const [from, to] of [
    [-far, -strip],
    [-strip, 0],
    [0, strip],
    [strip, far],
  ] as const)
    builder.face(at(0, from), at(length, from), at(length, to), at(0, to));
  const truth = shellPattern(builder.build('roof'), { maxFaces: 2 });
  expect(truth.pieces.map((piece) => piece.folds.map((fold) => Math.abs(fold.bend) < 1e-9))).toEqual([
    [true],
    [true],
  ]);
  const { designed, foamVolume } = await dryFitOfTruth(truth, { thickness, preparation: 'bevel' });
  expect(designed.bevelled!.max).toBeLessThan(1e-9);
  expect(designed.overlapShare).toBeLessThan(1e-6);
  // At the inside each plate is shorter by t tan(φ/2), which is more than the strip.
  const back = thickness * Math.tan(half);
  expect(back).toBeGreaterThan(strip);
  expect(foamVolume / (2 * length * thickness * (far - back / 2))).toBeCloseTo(1, 5);
});
