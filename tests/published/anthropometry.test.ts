import { describe, expect, it } from 'vitest';
import { adultGirths, childGirths, headContext, percentileIn } from '../../src/fit';

// ANSUR II (US Army, 2012; public release, report NATICK/TR-15/007), head circumference, mm: number of people, mean and
// standard deviation worked out from the released data, as the percentiles were.
const moments = {
  men: { count: 4082, mean: 574.37, sd: 16.05 },
  women: { count: 1986, mean: 561.12, sd: 19.36 },
};

describe.each(['men', 'women'] as const)('head girths of %s', (who) => {
  const table = adultGirths[who];
  const { count, mean, sd } = moments[who];

  it('come from as many people', () => {
    expect(table.count).toBe(count);
  });

  it('are read at the table and in between', () => {
    for (const [percentile, girth] of table.percentiles)
      expect(percentileIn(table, girth)).toBeCloseTo(percentile, 9);
    const [p50, p75] = [table.percentiles[4]!, table.percentiles[5]!];
    expect(percentileIn(table, (p50[1] + p75[1]) / 2)).toBeCloseTo(62.5, 9);
    expect(percentileIn(table, table.percentiles[0]![1] - 0.1)).toBeNull();
    expect(percentileIn(table, table.percentiles.at(-1)![1] + 0.1)).toBeNull();
  });

  // Independent of the table: mean and spread put a normal curve within a few percent of it.
  it('lie about the published mean and spread', () => {
    for (const [percentile, girth] of table.percentiles)
      expect(Math.abs(100 * normal((girth - mean) / sd) - percentile)).toBeLessThan(4);
  });
});

// WHO Child Growth Standards, head circumference for age: M and S in cm, L = 1, so the percentile with z is M (1 + S z);
// z = ±1.8808 for the 3rd and 97th. (The table in use is rounded to 1 mm.)
it.each([
  [0, 34.4618, 0.03686, 33.8787, 0.03496],
  [12, 46.0637, 0.02789, 44.894, 0.03027],
  [24, 48.2494, 0.02821, 47.1799, 0.02958],
  [36, 49.4619, 0.02871, 48.5106, 0.02912],
  [60, 50.7372, 0.02945, 49.9225, 0.0285],
])('WHO at %s months', (months, boysM, boysS, girlsM, girlsS) => {
  const row = childGirths.find((r) => r.months === months)!;
  [-1.8808, 0, 1.8808].forEach((z, k) => {
    expect(Math.abs(row.boys[k]! - 10 * boysM * (1 + boysS * z))).toBeLessThan(1);
    expect(Math.abs(row.girls[k]! - 10 * girlsM * (1 + girlsS * z))).toBeLessThan(1);
  });
});

describe('what is said about a head', () => {
  it('names both groups for adults', () => {
    const context = headContext(580);
    expect(context.unusual).toBe(false);
    expect(context.sentence).toBe(
      'About the 64th percentile of 4,082 men and about the 83rd percentile of 1,986 women measured.',
    );
    expect(context.source).toContain('ANSUR II');
  });

  it('names the group that it falls outside of', () => {
    expect(headContext(530).sentence).toBe(
      'Below 99 % of 4,082 men and about the 4th percentile of 1,986 women measured.',
    );
    expect(headContext(613).sentence).toContain('above 99 % of 1,986 women');
  });

  it('is unusual outside the 1st to 99th percentile of both', () => {
    expect(headContext(521).unusual).toBe(false);
    expect(headContext(614.2).unusual).toBe(false);
    expect(headContext(520.9).unusual).toBe(true);
    expect(headContext(614.3).unusual).toBe(true);
  });

  it('brings in children for small heads', () => {
    expect(headContext(500).sentence).toContain('children of 5 years');
    expect(headContext(450).sentence).toContain('children of 12 months to 2 years');
    expect(headContext(450).source).toContain('WHO');
    expect(headContext(250).sentence).not.toContain('children');
  });
});

/** Standard normal distribution, Abramowitz and Stegun 26.2.17 (error below 7.5e-8). */
function normal(z: number): number {
  const t = 1 / (1 + 0.2316419 * Math.abs(z));
  const poly =
    t * (0.31938153 + t * (-0.356563782 + t * (1.781477937 + t * (-1.821255978 + t * 1.330274429))));
  const tail = (Math.exp((-z * z) / 2) / Math.sqrt(2 * Math.PI)) * poly;
  return z >= 0 ? 1 - tail : tail;
}
