import { describe, expect, it } from 'vitest';
import { letterName, readingOrder } from '../../src/reading/names';

describe('names', () => {
  it('count on after Z', () => {
    expect([0, 25, 26, 51, 52, 701, 702].map(letterName)).toEqual(['A', 'Z', 'AA', 'AZ', 'BA', 'ZZ', 'AAA']);
  });

  it('go by rows from the top', () => {
    const box = (x: number, y: number, w = 10, h = 10) => ({ minX: x, minY: y, maxX: x + w, maxY: y + h });
    expect(readingOrder([box(0, 0), box(30, 20), box(0, 18), box(60, 23)])).toEqual([2, 1, 3, 0]);
    expect(readingOrder([])).toEqual([]);
  });
});
