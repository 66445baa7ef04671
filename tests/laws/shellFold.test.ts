/** Where a pattern lies on its page, and which seam is listed first, does not change the shell folded from it. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { add, type Point, rotate } from '../../src/math';
import type { Pattern } from '../../src/model';
import { foldPattern } from '../../src/shell';
import { seamsOfTruth } from '../foam/truthSeams';
import { openShell, patternFromTruth, shellPattern } from '../support/harbourWatch';

function moved(pattern: Pattern, angle: number, shift: Point): Pattern {
  const move = (p: Point) => add(rotate(p, angle), shift);
  return {
    ...pattern,
    pieces: pattern.pieces.map((piece) => ({
      ...piece,
      outline: piece.outline.map((e) => ({ ...e, points: e.points.map(move) })),
      folds: piece.folds.map((f) => ({ ...f, points: f.points.map(move) })),
      faces: piece.faces.map((f) => ({ ...f, polygon: f.polygon.map(move) })),
    })),
  };
}

describe('folding up', () => {
  const mesh = openShell({ seed: 11, faces: 60, symmetric: false, net: 'quads', jitter: 0 });
  const truth = shellPattern(mesh);
  const pattern = patternFromTruth(truth);
  const seams = seamsOfTruth(truth);

  it('gives the same bends wherever the pattern lies', async () => {
    const plain = await foldPattern(pattern, seams);
    expect(Object.keys(plain.bends).length).toBeGreaterThan(60);
    await fc.assert(
      fc.asyncProperty(
        fc.double({ min: -3, max: 3, noNaN: true }),
        fc.double({ min: -500, max: 500, noNaN: true }),
        async (angle, x) => {
          const other = await foldPattern(moved(pattern, angle, { x, y: -x / 2 }), {
            ...seams,
            seams: [...seams.seams].reverse(),
          });
          for (const [id, bend] of Object.entries(plain.bends))
            expect(Math.abs(other.bends[id]! - bend)).toBeLessThan(1e-9);
        },
      ),
      { numRuns: 4 },
    );
  });

  it('gives the same shell twice, to the last digit', async () => {
    const first = await foldPattern(pattern, seams);
    expect(await foldPattern(pattern, seams)).toEqual(first);
  });
});
