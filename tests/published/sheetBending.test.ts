/**
 * Bends of sheet metal with published figures. DIN 6935 (bending of flat steel products): allowance φ (r + k s/2) with
 * k = 0.65 + 0.5 log10(r/s), 1 from r/s = 5 on; as about four independent public code bases quote it, the standard
 * itself not seen. So K = k/2. Machinery's Handbook, straight bends in soft metal, degrees: (0.0078 T + 0.01743 R) for
 * R < 2 T, (0.0087 T + 0.01743 R) from there, quoted by several; the training text of the US Navy for sheet-metal work
 * has 0.0173 R + 0.0078 T. Values marked "worked out" are from these formulas.
 */
import { describe, expect, it } from 'vitest';
import { bendAllowance } from '../../src/foam';
import { radians } from '../../src/units';

const sheet = (thickness: number, bendRadius: number, neutralRatio: number) => ({
  thickness,
  bendRadius,
  neutralRatio,
});
const din = (ratio: number) => (ratio >= 5 ? 1 : 0.65 + 0.5 * Math.log10(ratio));

describe('DIN 6935', () => {
  it.each([
    [0.65, 0.5565],
    [1, 0.65],
    [2, 0.8005],
    [3, 0.8886],
    [4, 0.951],
    [5, 1],
  ])('r/s = %s has k = %s and the allowance of K = k/2 (worked out)', (ratio, k) => {
    expect(din(ratio)).toBeCloseTo(k, 4);
    for (const angle of [15, 45, 90, 150])
      for (const s of [1, 2.5, 6]) {
        const r = ratio * s;
        const allowance = radians(angle) * (r + (k * s) / 2);
        expect(bendAllowance(radians(angle), sheet(s, r, k / 2))).toBeCloseTo(allowance, 12);
      }
  });
});

describe('handbook tables per degree', () => {
  // K = .4469 below R = 2 T and .4985 from there: 0.0078 and 0.0087 a degree.
  it.each([
    [0.4469, 0.0078, 1, 1.5],
    [0.4469, 0.0078, 2, 1],
    [0.4985, 0.0087, 1, 2],
    [0.4985, 0.0087, 1.5, 6],
  ])('K %s is %s T + 0.01743 R a degree', (K, perThickness, T, R) => {
    for (const degrees of [30, 90, 135]) {
      const handbook = (perThickness * T + 0.01743 * R) * degrees;
      const ours = bendAllowance(radians(degrees), sheet(T, R, K));
      // Both factors are rounded in print: two units of the last digit.
      expect(Math.abs(ours - handbook)).toBeLessThan((0.00005 * T + 0.00003 * R) * degrees);
    }
  });

  it('the Navy’s coarser figures agree within a hundredth of the allowance', () => {
    for (const [T, R] of [
      [1, 1],
      [1, 1.9],
      [2, 3],
    ] as const) {
      const ours = bendAllowance(radians(90), sheet(T, R, 0.4469));
      expect(Math.abs(ours / ((0.0173 * R + 0.0078 * T) * 90) - 1)).toBeLessThan(0.01);
    }
  });
});
