import { describe, expect, it } from 'vitest';
import { leastSquares } from '../../src/foam/leastSquares';

describe('least squares of linear misses', () => {
  it('finds the mean that weights ask for', () => {
    const {
      unknowns: [x],
    } = leastSquares(
      [
        { constant: -1, terms: [[0, 1]], weight: 1 },
        { constant: -5, terms: [[0, 1]], weight: 2 },
      ],
      1,
    );
    expect(x).toBeCloseTo((1 + 4 * 5) / 5, 12);
  });

  it('counts an unknown that comes up twice as their sum', () => {
    const {
      unknowns: [x, y],
    } = leastSquares(
      [
        {
          constant: -6,
          terms: [
            [0, 1],
            [0, 2],
          ],
          weight: 1,
        },
        { constant: 3, terms: [[1, 1]], weight: 1 },
      ],
      2,
    );
    expect(x).toBeCloseTo(2, 12);
    expect(y).toBeCloseTo(-3, 12);
  });

  it('leans away from misses below zero when they count more', () => {
    const misses = (belowZero: number) => [
      { constant: 1, terms: [[0, 1]] as const, weight: 1, belowZero },
      { constant: -1, terms: [[0, 1]] as const, weight: 1, belowZero },
    ];
    expect(leastSquares(misses(1), 1).unknowns[0]).toBeCloseTo(0, 12);
    expect(leastSquares(misses(4), 1).unknowns[0]).toBeCloseTo(3 / 5, 2);
  });

  it('goes on from a solution as if it had never stopped', () => {
    const misses = [0.4, -0.1, 1.3].map((constant, k) => ({
      constant,
      terms: [[0, 1]] as const,
      weight: 1,
      belowZero: 3,
      group: k % 2,
    }));
    const whole = leastSquares(misses, 1, null, 30).unknowns[0]!;
    const rest = leastSquares(misses, 1, leastSquares(misses, 1, null, 15), 15).unknowns[0]!;
    expect(rest).toBeCloseTo(whole, 3);
    expect(leastSquares(misses, 1, leastSquares(misses, 1, null, 15), 1).unknowns[0]).toBeCloseTo(whole, 1);
  });

  it('keeps single misses from being far where they are told what is far', () => {
    // The mean of squares is smallest at 1/4, where one miss is 1.5; with 1 as far the largest becomes smaller.
    const misses = (far: number) =>
      [0, 0, 0, 2].map((goal) => ({ constant: -goal, terms: [[0, 1]] as const, weight: 1, group: 0, far }));
    const [even, held] = [0, 1].map((far) => 2 - leastSquares(misses(far), 1).unknowns[0]!);
    expect(even).toBeCloseTo(1.5, 12);
    expect(held).toBeLessThan(1.35);
  });
});
