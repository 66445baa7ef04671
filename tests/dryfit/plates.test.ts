/** Two plates of different thickness along one seam: what closed geometry says of their square cuts. */
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
