import { describe, expect, test } from 'vitest';
import type { Pattern, SeamDecisions, Seams } from '../../src/model';
import { defaultDecisions } from '../../src/model';
import { findSeams, seamIdOf } from '../../src/seams';
import { patternOf, polygonPiece, rectangle } from './patterns';

const usual = defaultDecisions.seams;
const decide = (change: Partial<SeamDecisions>): SeamDecisions => ({ ...usual, ...change });
const pairs = (seams: Seams) => seams.seams.map((s) => [s.a.edge, s.b.edge].sort().join(' ')).sort();
const openOf = (seams: Seams, edge: string) => seams.open.find((o) => o.edge === edge);
const codes = (seams: Seams) => seams.issues.map((i) => i.code);

/** Three rectangles side by side. */
const three = (numbers: Record<string, string | readonly string[]>): Pattern =>
  patternOf(
    [rectangle('a', 0, -100, 40, 60), rectangle('b', 60, -100, 40, 60), rectangle('c', 120, -100, 50, 60)],
    numbers,
  );

describe('numbers', () => {
  test('a number on exactly two edges makes a seam that runs opposed', () => {
    const result = findSeams(three({ a2: '7', b4: '7', b2: '8', c4: '8' }), usual);
    expect(pairs(result)).toEqual(['a2 b4', 'b2 c4']);
    const seam = result.seams[0]!;
    expect(seam).toMatchObject({
      id: seamIdOf('b4', 'a2'),
      number: 1,
      direction: 'opposed',
      evidence: 'number',
      lengthA: 60,
      lengthB: 60,
      a: { piece: 'a', edge: 'a2' },
      b: { piece: 'b', edge: 'b4' },
    });
    expect(result.open).toHaveLength(8);
    expect(openOf(result, 'a1')).toEqual({
      piece: 'a',
      edge: 'a1',
      why: 'no-evidence',
      label: '',
      candidates: [],
    });
  });

  test('spaces and a closing dot do not matter', () => {
    expect(pairs(findSeams(three({ a2: ' 6.', b4: '6' }), usual))).toEqual(['a2 b4']);
  });

  test('a number on one edge stays open and is named', () => {
    const result = findSeams(three({ a2: '7' }), usual);
    expect(result.seams).toEqual([]);
    expect(openOf(result, 'a2')).toMatchObject({ why: 'number-alone', label: '7' });
    const issue = result.issues.find((i) => i.code === 'number-alone')!;
    expect(issue.message).toContain('Number 7');
    expect(issue.message).toContain('piece A');
    expect(issue.remedy).not.toBe('');
  });

  test('a number on three edges of one length decides nothing', () => {
    const result = findSeams(three({ a2: '7', b4: '7', c4: '7' }), usual);
    expect(result.seams).toEqual([]);
    expect(openOf(result, 'a2')).toMatchObject({ why: 'number-repeated', candidates: ['b4', 'c4'] });
    expect(codes(result)).toContain('number-repeated');
  });

  test('a number on three edges: lengths single out a pair, and it is still reported', () => {
    const result = findSeams(three({ a2: '7', b4: '7', c1: '7' }), usual);
    expect(pairs(result)).toEqual(['a2 b4']);
    expect(result.seams[0]!.confidence).toBeLessThan(0.98);
    expect(openOf(result, 'c1')).toMatchObject({ why: 'number-repeated', label: '7', candidates: [] });
    expect(codes(result)).toContain('number-repeated');
  });

  test('a number on four edges: two lengths give two pairs; a lone leftover pair of unequal length is not guessed', () => {
    expect(pairs(findSeams(three({ a2: '7', b4: '7', a1: '7', b1: '7' }), usual))).toEqual([
      'a1 b1',
      'a2 b4',
    ]);
    expect(pairs(findSeams(three({ a2: '7', b4: '7', a1: '7', c1: '7' }), usual))).toEqual(['a2 b4']);
  });

  test('an edge with two numbers goes with the mate of its own length', () => {
    const result = findSeams(three({ a2: ['7', '8'], b4: '7', c1: '8' }), usual);
    expect(pairs(result)).toEqual(['a2 b4']);
    expect(codes(result)).toContain('edge-several-numbers');
    expect(openOf(result, 'c1')!.label).toBe('8');
  });

  test('an edge with two numbers and two equal mates stays open', () => {
    const result = findSeams(three({ a2: ['7', '8'], b4: '7', c4: '8' }), usual);
    expect(result.seams).toEqual([]);
  });

  test('two edges of one piece may meet', () => {
    const result = findSeams(three({ a2: '7', a4: '7' }), usual);
    expect(pairs(result)).toEqual(['a2 a4']);
  });

  test('numbers can be left aside', () => {
    const result = findSeams(three({ a2: '7', b4: '7', b2: '9' }), decide({ useNumbers: false }));
    expect(result.seams).toEqual([]);
    expect(result.open.every((o) => o.why === 'no-evidence' && o.label === '')).toBe(true);
    expect(codes(result)).toEqual(['edges-open-no-numbers']);
  });
});

describe('unequal lengths', () => {
  const ends = (width: number) =>
    patternOf([rectangle('a', 0, -100, 60, 30), rectangle('b', 100, -100, width, 30)], { a1: '1', b3: '1' });
  test('more than 1 mm and more than 2 % apart is a warning that names both lengths', () => {
    const result = findSeams(ends(61.5), usual);
    expect(pairs(result)).toEqual(['a1 b3']);
    const issue = result.issues.find((i) => i.code === 'seam-lengths-differ')!;
    expect(issue.severity).toBe('warning');
    expect(issue.message).toBe(
      'Seam 1 joins 60.0 mm on piece A to 61.5 mm on piece B: a difference of 1.5 mm.',
    );
  });
  test.each([60.9, 61.1])('%d mm against 60 mm passes: under 1 mm, or under 2 %%', (width) => {
    expect(codes(findSeams(ends(width), usual))).not.toContain('seam-lengths-differ');
  });
  test('a long seam may differ by more than 1 mm while it is under 2 %', () => {
    const long = patternOf([rectangle('a', 0, -100, 300, 30), rectangle('b', 400, -100, 304, 30)], {
      a1: '1',
      b3: '1',
    });
    expect(codes(findSeams(long, usual))).not.toContain('seam-lengths-differ');
  });
  test('when the runs round two unequal edges agree, it asks instead of pairing', () => {
    // a's lower side is cut into 20 + 40, b's upper side into 30 + 30; each has one number for the whole.
    const a = polygonPiece('a', [
      [0, -100],
      [20, -100],
      [60, -100],
      [60, -70],
      [0, -70],
    ]);
    const b = polygonPiece('b', [
      [100, -200],
      [160, -200],
      [160, -170],
      [130, -170],
      [100, -170],
    ]);
    const result = findSeams(patternOf([a, b], { a1: '5', b3: '5' }), usual);
    expect(result.seams).toEqual([]);
    const issue = result.issues.find((i) => i.code === 'number-names-run')!;
    expect(issue.message).toContain('60.0 mm and 60.0 mm');
    expect(issue.place.ids).toEqual(['a1', 'b3', 'a2', 'b4']);
    expect(openOf(result, 'a1')).toMatchObject({ label: '5', candidates: ['b3'] });
  });
});

describe('numbers that stand for runs', () => {
  // Two combs over a gap, and two more below: each seam is three edges, numbered once on each side.
  const upper = (id: string, x: number, y: number) =>
    polygonPiece(id, [
      [x, y],
      [x + 20, y],
      [x + 50, y],
      [x + 90, y],
      [x + 90, y + 60],
      [x, y + 60],
    ]);
  const lower = (id: string, x: number, y: number) =>
    polygonPiece(id, [
      [x, y],
      [x + 90, y],
      [x + 90, y + 60],
      [x + 50, y + 60],
      [x + 20, y + 60],
      [x, y + 60],
    ]);
  const pattern = patternOf(
    [upper('a', 0, -100), lower('b', 0, -200), upper('c', 200, -100), lower('d', 200, -200)],
    { a1: '1', b3: '1', c2: '2', d5: '2', a4: '3', c6: '3' },
  );
  test('are recognised by unequal edges and paired edge by edge', () => {
    const result = findSeams(pattern, usual);
    expect(pairs(result)).toEqual(['a1 b5', 'a2 b4', 'a3 b3', 'a4 c6', 'c1 d5', 'c2 d4', 'c3 d3']);
    expect(codes(result)).toContain('numbers-stand-for-runs');
    expect(result.runs).toHaveLength(3);
  });
  test('do not run on round a corner that does not close', () => {
    // b2 and a4, a6 and b6 would be equally long too, but both outlines turn inwards there.
    const result = findSeams(pattern, usual);
    expect(openOf(result, 'a6')).toMatchObject({ why: 'no-evidence' });
    expect(openOf(result, 'b6')).toMatchObject({ why: 'no-evidence' });
  });
  test('a single case is asked about, not decided', () => {
    const one = patternOf([upper('a', 0, -100), lower('b', 0, -200)], { a1: '1', b3: '1' });
    const result = findSeams(one, usual);
    expect(result.seams).toEqual([]);
    expect(codes(result)).toContain('number-names-run');
  });
});

describe("the person's word", () => {
  const numbered = three({ a2: '7', b4: '7', b2: '8', c4: '8' });
  test('wins over numbers and takes conflicting seams apart', () => {
    const made = [{ a: 'a2', b: 'c4', direction: 'along' as const }];
    const result = findSeams(numbered, decide({ made }));
    expect(pairs(result)).toEqual(['a2 c4']);
    expect(result.seams[0]).toMatchObject({ evidence: 'person', confidence: 1, direction: 'along' });
    expect(openOf(result, 'b4')).toMatchObject({ label: '7', candidates: [] });
  });
  test('rejected seams come apart and stay candidates', () => {
    const result = findSeams(numbered, decide({ rejected: [seamIdOf('a2', 'b4')] }));
    expect(pairs(result)).toEqual(['b2 c4']);
    expect(openOf(result, 'a2')).toMatchObject({ why: 'no-evidence', label: '7', candidates: ['b4'] });
  });
  test('a seam made by hand holds even when it was rejected before', () => {
    const made = [{ a: 'a2', b: 'b4', direction: 'opposed' as const }];
    expect(pairs(findSeams(numbered, decide({ made, rejected: [seamIdOf('a2', 'b4')] })))).toContain('a2 b4');
  });
  test('borders stay open and free their mates', () => {
    const result = findSeams(numbered, decide({ borders: ['a2'] }));
    expect(pairs(result)).toEqual(['b2 c4']);
    expect(openOf(result, 'a2')).toMatchObject({ why: 'border', label: '7' });
    expect(openOf(result, 'b4')).toMatchObject({ label: '7', candidates: [] });
  });
  test('of two seams by hand at one edge the later holds', () => {
    const made = [
      { a: 'a1', b: 'b1', direction: 'opposed' as const },
      { a: 'b1', b: 'a3', direction: 'opposed' as const },
    ];
    const result = findSeams(numbered, decide({ made }));
    expect(pairs(result)).toEqual(['a2 b4', 'a3 b1', 'b2 c4']);
    expect(codes(result)).toContain('seam-made-twice');
  });
  test('choices about edges that are gone, and an edge with itself, are said and skipped', () => {
    const made = [
      { a: 'a1', b: 'gone', direction: 'opposed' as const },
      { a: 'a1', b: 'a1', direction: 'opposed' as const },
    ];
    const result = findSeams(numbered, decide({ made, borders: ['lost'] }));
    expect(pairs(result)).toEqual(['a2 b4', 'b2 c4']);
    const issue = result.issues.find((i) => i.code === 'seam-edge-missing')!;
    expect(issue.place.ids).toEqual(['gone', 'lost']);
    expect(codes(result)).toContain('seam-with-itself');
  });
});

describe('runs', () => {
  // Two combs: three edges of a's lower side meet three edges of b's upper side in reverse order.
  const a = polygonPiece('a', [
    [0, -60],
    [20, -60],
    [50, -60],
    [90, -60],
    [90, 0],
    [0, 0],
  ]);
  const b = polygonPiece('b', [
    [200, -60],
    [290, -60],
    [290, 0],
    [250, 0],
    [220, 0],
    [200, 0],
  ]);
  const c = rectangle('c', 400, -60, 60, 30);
  test('edges that follow each other on both pieces are one run, numbered in reading order', () => {
    const result = findSeams(
      patternOf([b, c, a], { a1: 'x', b5: 'x', a2: 'y', b4: 'y', a3: 'z', b3: 'z', a4: 'q', b6: 'q' }),
      usual,
    );
    expect(result.runs.map((r) => r.seams.length)).toEqual([3, 1]);
    expect(result.runs.map((r) => r.number)).toEqual([1, 2]);
    const [first] = result.runs;
    expect(first!.seams).toEqual(['a1+b5', 'a2+b4', 'a3+b3']);
    expect(result.seams.map((s) => s.number)).toEqual([1, 1, 1, 2]);
    expect(result.seams.slice(0, 3).map((s) => s.a.piece)).toEqual(['a', 'a', 'a']);
  });
  test('a third piece in between breaks a run', () => {
    const result = findSeams(
      patternOf([a, b, c], { a1: 'x', b5: 'x', a2: 'y', c1: 'y', a3: 'z', b3: 'z' }),
      usual,
    );
    expect(result.runs.map((r) => r.seams.length)).toEqual([1, 1, 1]);
  });
  test('successive edges out of order are separate runs', () => {
    const result = findSeams(patternOf([a, b], { a1: 'x', b4: 'x', a2: 'y', b5: 'y' }), usual);
    expect(result.runs).toHaveLength(2);
  });
  test('a pair drawn from inside runs in the same order', () => {
    const made = [
      { a: 'a1', b: 'b3', direction: 'along' as const },
      { a: 'a2', b: 'b4', direction: 'along' as const },
    ];
    const result = findSeams(patternOf([a, b], {}), decide({ made }));
    expect(result.runs.map((r) => r.seams)).toEqual([['a1+b3', 'a2+b4']]);
  });
  test('a dart whose sides meet at its tip is one run', () => {
    const dart = polygonPiece('d', [
      [0, -90],
      [90, -90],
      [90, 0],
      [50, 0],
      [48, -20],
      [45, -40],
      [42, -20],
      [40, 0],
      [0, 0],
    ]);
    const result = findSeams(patternOf([dart], { d5: '1', d6: '1', d4: '2', d7: '2' }), usual);
    expect(result.runs.map((r) => r.seams.length)).toEqual([2]);
  });
});
