import { describe, expect, it } from 'vitest';
import { leastSquares } from '../../src/foam/leastSquares';

describe('least squares of linear misses', () => {
  it('finds the mean that weights ask for', () => {
    const [x] = leastSquares(
      [
        { constant: -1, terms: [[0, 1]], weight: 1 },
        { constant: -5, terms: [[0, 1]], weight: 2 },
      ],
      1,
    );
    expect(x).toBeCloseTo((1 + 4 * 5) / 5, 12);
  });

  it('counts an unknown that comes up twice as their sum', () => {
    const [x, y] = leastSquares(
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
    expect(leastSquares(misses(1), 1)[0]).toBeCloseTo(0, 12);
    expect(leastSquares(misses(4), 1)[0]).toBeCloseTo(3 / 5, 2);
  });
});
