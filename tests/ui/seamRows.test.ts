import { describe, expect, it } from 'vitest';
import { nameEdges } from '../../app/steps/names';
import { groupOpen, likelyMates, scoreText } from '../../app/steps/seams/openRows';
import { countSeams, filterRows, matesFor, type RowFilter, runRows } from '../../app/steps/seams/seamRows';
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
    const numbers = (filter: RowFilter) => filterRows(rows, filter).map((row) => row.number);
    expect(numbers('all')).toEqual([1, 2]);
    expect(numbers('look')).toEqual([1]);
    expect(numbers('lengths')).toEqual([1]);
    expect(numbers('number')).toEqual([1]);
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

describe('seams to look at', () => {
  const filtered = (more: Parameters<typeof seam>[3]) =>
    filterRows(runRows(seamsOf([seam('s', 'A-below', 'B-above', more)]), edges), 'look').length;

  it('are those that the program is not sure of, whose sides differ, or that run the same way', () => {
    expect(filtered({ evidence: 'geometry', confidence: 0.95 })).toBe(0);
    expect(filtered({ evidence: 'geometry', confidence: 0.6 })).toBe(1);
    expect(filtered({ lengthA: 50, lengthB: 51 })).toBe(1);
    expect(filtered({ direction: 'along' })).toBe(1);
  });

  it('are not those that the person has settled', () => {
    expect(filtered({ evidence: 'person', direction: 'along' })).toBe(0);
  });
});

describe('edges without a mate', () => {
  const several = open('A-above', { candidates: ['B-left', 'B-above'], scores: [0.3, 0.7] });
  const alone = open('A-right', { candidates: ['B-left'] });

  it('are grouped by what the person has to do', () => {
    const border = open('A-left', { why: 'border', candidates: ['B-left', 'B-right'] });
    const number = open('B-below', { why: 'number-repeated', label: '4' });
    const asLong = open('A-right', { candidates: ['B-left', 'B-right'], scores: [0.01, 0] });
    const groups = groupOpen([alone, several, border, number, asLong]);
    expect(groups.ambiguous).toEqual([several, number]);
    expect(groups.lonely).toEqual([alone, asLong]);
    expect(groups.borders).toEqual([border]);
  });

  it('offer their candidates best first, with score and difference, and drop lost ones', () => {
    expect(likelyMates(several, edges)).toEqual([
      { edge: 'B-above', name: 'B 3', score: 0.7, difference: 0 },
      { edge: 'B-left', name: 'B 4', score: 0.3, difference: 20 },
    ]);
    expect(likelyMates(open('A-above', { candidates: ['gone'] }), edges)).toEqual([]);
    expect(likelyMates(alone, edges)[0]?.score).toBeNull();
    expect([scoreText(0.704), scoreText(null)]).toEqual(['70 %', '–']);
  });
});
