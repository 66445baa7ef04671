import { expect, it } from 'vitest';
import { cssUnits, paperSizes } from '../../src/units';

// A sizes: ISO 216, mm. US sizes in inches 8.5 × 11, 8.5 × 14, 11 × 17, and in points 612 × 792, 612 × 1008, 792 × 1224:
// the values in general use; the standards themselves were not read.
it.each([
  ['A4', 210, 297],
  ['A3', 297, 420],
  ['Letter', 8.5 * 25.4, 11 * 25.4],
  ['Legal', 8.5 * 25.4, 14 * 25.4],
  ['Tabloid', 11 * 25.4, 17 * 25.4],
] as const)('%s', (name, width, height) => {
  expect(paperSizes[name].width).toBeCloseTo(width, 9);
  expect(paperSizes[name].height).toBeCloseTo(height, 9);
});

it('agrees with the sizes in points', () => {
  const points = (mm: number) => (mm * 72) / 25.4;
  expect(points(paperSizes.Letter.width)).toBeCloseTo(612, 9);
  expect(points(paperSizes.Legal.height)).toBeCloseTo(1008, 9);
  expect(points(paperSizes.Tabloid.height)).toBeCloseTo(1224, 9);
  expect(points(paperSizes.A4.width)).toBeCloseTo(595.276, 3);
});

// CSS Values and Units Level 4, section 5.2: 1 in = 2.54 cm = 96 px = 72 pt = 6 pc, 1 Q = 1/40 cm.
it('CSS absolute units', () => {
  expect(cssUnits.in).toBeCloseTo(2.54 * cssUnits.cm, 12);
  expect(96 * cssUnits.px).toBeCloseTo(cssUnits.in, 12);
  expect(72 * cssUnits.pt).toBeCloseTo(cssUnits.in, 12);
  expect(6 * cssUnits.pc).toBeCloseTo(cssUnits.in, 12);
  expect(40 * cssUnits.q).toBeCloseTo(cssUnits.cm, 12);
});
