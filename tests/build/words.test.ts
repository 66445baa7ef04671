/** Lines of the build sheet in the words that are on the panels too. */
import { describe, expect, it } from 'vitest';
import { runLine } from '../../src/build';
import type { BuildRun } from '../../src/model';
import { radians } from '../../src/units';

const run = (low: number, high: number): BuildRun => ({
  number: 4,
  panels: ['P1', 'P2'],
  seams: ['s'],
  lengthA: 100,
  lengthB: 102,
  mismatch: 0,
  preparations: ['bevel'],
  bevel: [radians(low), radians(high)],
  openWedge: 0,
  notches: 3,
});

describe('the line of a seam', () => {
  it.each([
    [0.4, -0.4, 'cut square'],
    [12, 12.3, 'bevel 12° in'],
    [12, 18, 'bevel 12° to 18° in'],
    [-3, -2, 'bevel 2° to 3° out'],
    [-3, 2, 'bevel 3° out to 2° in'],
    [0, 5, 'bevel square to 5° in'],
  ])('says which way a bevel from %d° to %d° leans', (low, high, words) => {
    expect(runLine(run(low, high), (id) => `Panel ${id}`, 'mm')).toBe(
      `Seam 4, Panel P1 and Panel P2: 101 mm, ${words}, 3 notches`,
    );
  });
});
