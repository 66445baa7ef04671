import { describe, expect, it } from 'vitest';
import { bendAllowance, bendLengthChange, setback } from '../../src/foam';
import { radians } from '../../src/units';

// Sheet-metal bending: BA = A (R + K T), OSSB = (R + T) tan(A/2), BD = 2 OSSB − BA, flat = legs − BD with the legs
// measured to the outer mould lines. Formula as printed on an engineering consultancy's calculator page.
const outerMould = (thickness: number) => ({ outside: 0, inside: thickness });
const sheet = (thickness: number, bendRadius: number, neutralRatio: number) => ({
  thickness,
  bendRadius,
  neutralRatio,
});

describe('bend allowance', () => {
  // A trade calculator page: 90°, R 0.125 in, T 0.125 in, K 0.44 gives 0.2827 in.
  it('trade example in inches', () => {
    expect(bendAllowance(radians(90), sheet(0.125, 0.125, 0.44))).toBeCloseTo(0.2827, 4);
  });

  // A public code base's test, citing a sheet-metal reference page: 90°, T 0.036, R 0.039 in, K 0.446.
  it('reference page example', () => {
    expect(bendAllowance(radians(90), sheet(0.036, 0.039, 0.446))).toBeCloseTo(0.086482, 6);
  });

  // The same test's further values, mm.
  it.each([
    [90, 1, 1, 0.44, 2.261947],
    [45, 1, 1, 0.44, 1.130973],
    [120, 2, 3, 0.42, 8.042477],
    [90, 1.5, 1.5, 0.5, 3.534292],
  ])('%s° T %s R %s K %s', (angle, thickness, radius, ratio, length) => {
    expect(bendAllowance(radians(angle), sheet(thickness, radius, ratio))).toBeCloseTo(length, 6);
  });

  // FAA-H-8083-31, chapter 4, U-channel of figure 4-124: T 0.040, R 0.16 in, 90° gives a setback of 0.20 in and flats of
  // 0.8, 1.6 and 0.8 in from outer dimensions of 1, 2 and 1 in.
  it('setback of the FAA channel', () => {
    const back = setback(radians(90), 0.16, 0.04);
    expect(back).toBeCloseTo(0.2, 12);
    expect([1 - back, 2 - 2 * back, 1 - back]).toEqual([
      expect.closeTo(0.8, 12),
      expect.closeTo(1.6, 12),
      expect.closeTo(0.8, 12),
    ]);
  });

  // Its developed width by the half-thickness rule, worked out here: 0.8 + 1.6 + 0.8 + 2 × 0.2827 = 3.7655 in.
  it('developed width of the FAA channel', () => {
    const change = bendLengthChange(radians(90), sheet(0.04, 0.16, 0.5), outerMould(0.04));
    expect(1 + 2 + 1 + 2 * change).toBeCloseTo(3.7655, 4);
  });

  // Groover, Fundamentals of Modern Manufacturing, bending example, from memory: T 3.2, R 4.75 mm, 60°, K 0.33.
  it('textbook example', () => {
    expect(bendAllowance(radians(60), sheet(3.2, 4.75, 0.33))).toBeCloseTo(6.08, 2);
  });
});

describe('the change of flat length', () => {
  // Worked out by hand from the published formulas: foam of 10 mm scored on its inner skin, K 0.5, 90°:
  // BA 7.854, OSSB 10, BD 12.146.
  it('is minus the bend deduction when the paper is the outside', () => {
    expect(bendLengthChange(radians(90), sheet(10, 0, 0.5), outerMould(10))).toBeCloseTo(-12.146, 3);
  });

  it('is BA − 2 OSSB for any figures with the paper outside', () => {
    for (const [angle, t, r, k] of [
      [20, 5, 0, 0.5],
      [35, 8, 2, 0.4],
      [90, 3, 6, 0.33],
    ] as const) {
      const foam = sheet(t, r, k);
      const deduction = 2 * setback(radians(angle), r, t) - bendAllowance(radians(angle), foam);
      expect(bendLengthChange(radians(angle), foam, outerMould(t))).toBeCloseTo(-deduction, 12);
    }
  });

  it('takes the outer depth for a concave bend', () => {
    const foam = sheet(5, 1, 0.5);
    expect(bendLengthChange(-radians(30), foam, { outside: 5, inside: 0 })).toBeCloseTo(
      bendLengthChange(radians(30), foam, { outside: 0, inside: 5 }),
      12,
    );
  });

  // First order in the angle: φ (K t − b) whatever the radius.
  it('tends to φ (K t − b) for small bends', () => {
    const foam = sheet(5, 3, 0.5);
    const angle = 1e-4;
    expect(bendLengthChange(angle, foam, { outside: 1, inside: 4 }) / angle).toBeCloseTo(2.5 - 4, 6);
  });
});
