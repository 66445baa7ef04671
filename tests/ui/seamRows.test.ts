import { describe, expect, it } from 'vitest';
import { nameEdges } from '../../app/steps/names';
import { countSeams, filterRows, matesFor, runRows } from '../../app/steps/seams/seamRows';
import { open, patternOf, rectangle, seam, seamsOf } from './shapes';

const pattern = patternOf([rectangle('A', 0, 50, 20), rectangle('B', 100, 50, 30)]);
const edges = nameEdges(pattern);

describe('rows of the seam table', () => {
  const seams = seamsOf(
    [
      seam('s1', 'A-below', 'B-above', { lengthA: 50, lengthB: 50.2 }),
      seam('s2', 'A-right', 'B-left', { lengthA: 20, lengthB: 30, evidence: 'geometry', confidence: 0.6 }),
      seam('s3', 'A-above', 'B-below', { direction: 'along', evidence: 'person' }),
    ],
    {
      runs: [
        { id: 'run1', number: 1, seams: ['s1', 's2'] },
        { id: 'run2', number: 2, seams: ['s3'] },
      ],
    },
  );
  const rows = runRows(seams, edges);

  it('add the lengths of a run and keep its worst difference and confidence', () => {
    expect(rows[0]).toMatchObject({
      number: 1,
      pieces: 'A – B',
      lengthA: 70,
      lengthB: 80.2,
      difference: 10,
      evidence: 'several',
      confidence: 0.6,
      along: false,
    });
    expect(rows[1]).toMatchObject({ evidence: 'person', along: true });
  });

  it('filter by what deserves a look and by evidence', () => {
    const numbers = (filter: 'all' | 'differ' | 'lengths' | 'mine') =>
      filterRows(rows, filter).map((row) => row.number);
    expect(numbers('all')).toEqual([1, 2]);
    expect(numbers('differ')).toEqual([1, 2]);
    expect(numbers('lengths')).toEqual([1]);
    expect(numbers('mine')).toEqual([2]);
  });
});

describe('counting seams', () => {
  it('tells open, ambiguous and border edges apart', () => {
    const counts = countSeams(
      seamsOf([seam('s1', 'A-below', 'B-above', { lengthA: 50, lengthB: 49 })], {
        open: [
          open('A-right'),
          open('A-above', { candidates: ['B-left', 'B-right'] }),
          open('A-left', { why: 'number-repeated', label: '4' }),
          open('B-below', { why: 'border', candidates: ['A-left', 'A-right'] }),
        ],
      }),
    );
    expect(counts).toEqual({ paired: 1, open: 1, ambiguous: 2, borders: 1, largestDifference: 1 });
  });
});

describe('mates on offer', () => {
  it('come candidates first, then the nearest in length, without the edge itself', () => {
    const all = [...edges.values()];
    const first = edges.get('A-below');
    if (!first) throw new Error('The pattern has lost an edge.');
    const mates = matesFor(first, all, ['B-right']).map((mate) => mate.edge);
    expect(mates[0]).toBe('B-right');
    expect(mates.slice(1, 4)).toEqual(['A-above', 'B-below', 'B-above']);
    expect(mates).not.toContain('A-below');
    expect(mates).toHaveLength(all.length - 1);
  });
});
