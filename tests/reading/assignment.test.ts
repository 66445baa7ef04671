import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { cheapestPairing, type PairOption } from '../../src/reading/assignment';

/** The least cost by trying everything. */
function byHand(left: number, options: readonly PairOption[], alone: number): number {
  const go = (l: number, used: ReadonlySet<number>): number => {
    if (l === left) return 0;
    let best = alone + go(l + 1, used);
    for (const o of options)
      if (o.left === l && !used.has(o.right))
        best = Math.min(best, o.cost + go(l + 1, new Set([...used, o.right])));
    return best;
  };
  return go(0, new Set());
}

describe('the cheapest pairing', () => {
  it('gives way when that is cheaper in all', () => {
    const options = [
      { left: 0, right: 0, cost: 1 },
      { left: 0, right: 1, cost: 2 },
      { left: 1, right: 0, cost: 1.5 },
    ];
    expect([...cheapestPairing(2, 2, options, 10)]).toEqual([1, 0]);
    expect([...cheapestPairing(2, 2, options, 1.2)]).toEqual([0, -1]);
    expect([...cheapestPairing(2, 0, [], 3)]).toEqual([-1, -1]);
  });

  it('is as cheap as trying everything, and pairs nothing twice', () => {
    const option = fc.record({
      left: fc.nat(5),
      right: fc.nat(5),
      cost: fc.integer({ min: 0, max: 40 }).map((v) => v / 10),
    });
    fc.assert(
      fc.property(
        fc.uniqueArray(option, { maxLength: 18, selector: (o) => `${o.left},${o.right}` }),
        fc.integer({ min: 1, max: 40 }),
        (options, tenth) => {
          const alone = tenth / 10;
          const mates = cheapestPairing(6, 6, options, alone);
          const taken = [...mates].filter((r) => r >= 0);
          expect(new Set(taken).size).toBe(taken.length);
          const cost = [...mates].reduce(
            (sum, r, l) => sum + (r < 0 ? alone : options.find((o) => o.left === l && o.right === r)!.cost),
            0,
          );
          expect(cost).toBeCloseTo(byHand(6, options, alone), 9);
        },
      ),
      { numRuns: 200 },
    );
  });
});
