import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { rotate } from '../../src/math';
import { defaultDecisions, type Pattern, type Piece, type SeamDecisions, type Seams } from '../../src/model';
import { findSeams, seamIdOf } from '../../src/seams';
import {
  bollardPattern,
  corpus,
  drawPattern,
  edgesOf,
  type Manner,
  patternFromTruth,
  type Truth,
} from '../support/harbourWatch';

const usual = defaultDecisions.seams;
const draw = (flat: Truth, manner: Manner = 'clean') => drawPattern(flat, { manner, numbers: 'edges' }).truth;
const pairSet = (seams: Seams) => new Set(seams.seams.map((s) => s.id));

describe.each(corpus)('numbers settle $name', ({ make }) => {
  const truth = draw(make(), 'loose');
  const result = findSeams(patternFromTruth(truth), usual);

  test('every seam is found, and no other', () => {
    expect(truth.mates.length).toBeGreaterThan(0);
    expect(pairSet(result)).toEqual(new Set(truth.mates.map(([a, b]) => seamIdOf(a, b))));
    const edges = [...edgesOf(truth).values()];
    expect(result.open.map((o) => o.edge).sort()).toEqual(
      edges
        .filter((e) => e.mate === null)
        .map((e) => e.id)
        .sort(),
    );
    expect(result.issues.filter((i) => i.severity !== 'note')).toEqual([]);
  });

  test('runs hold each seam once and follow both outlines', () => {
    expect(result.runs.flatMap((r) => r.seams)).toEqual(result.seams.map((s) => s.id));
    expect(result.runs.map((r) => r.number)).toEqual(result.runs.map((_, i) => i + 1));
    const after = new Map(
      truth.pieces.flatMap((p) =>
        p.outline.map((e, i) => [e.id, p.outline[(i + 1) % p.outline.length]!.id] as const),
      ),
    );
    const byId = new Map(result.seams.map((s) => [s.id, s]));
    for (const run of result.runs)
      for (let i = 1; i < run.seams.length; i++) {
        const before = byId.get(run.seams[i - 1]!)!;
        const seam = byId.get(run.seams[i]!)!;
        expect(after.get(before.a.edge)).toBe(seam.a.edge);
        expect(after.get(seam.b.edge)).toBe(before.b.edge);
        expect(seam.number).toBe(run.number);
      }
  });
});

const small = [bollardPattern(), corpus.find((c) => c.name.startsWith('shell 1:'))!.make()].map((flat) =>
  patternFromTruth(draw(flat)),
);

/** A pattern with its pieces in another order, outlines begun at other corners, and half of its numbers at most. */
const shuffledPattern = fc.constantFrom(...small).chain((pattern) =>
  fc.record({
    pattern: fc.constant(pattern),
    order: fc.shuffledSubarray([...pattern.pieces.keys()], { minLength: pattern.pieces.length }),
    turns: fc.array(fc.nat(30), { minLength: pattern.pieces.length, maxLength: pattern.pieces.length }),
    kept: fc.array(fc.boolean(), { minLength: pattern.labels.length, maxLength: pattern.labels.length }),
  }),
);

const begunAt = (piece: Piece, k: number): Piece => {
  const n = k % piece.outline.length;
  return { ...piece, outline: [...piece.outline.slice(n), ...piece.outline.slice(0, n)] };
};

test('the order of pieces, labels and first corners does not matter', () => {
  fc.assert(
    fc.property(shuffledPattern, ({ pattern, order, turns, kept }) => {
      const some: Pattern = { ...pattern, labels: pattern.labels.filter((_, i) => kept[i]) };
      const mixed: Pattern = {
        ...some,
        pieces: order.map((i) => begunAt(some.pieces[i]!, turns[i]!)),
        labels: [...some.labels].reverse(),
      };
      expect(findSeams(mixed, usual)).toEqual(findSeams(some, usual));
    }),
    { numRuns: 60 },
  );
});

test('moving and turning the drawing changes no pair', () => {
  fc.assert(
    fc.property(
      fc.constantFrom(...small),
      fc.double({ min: -4, max: 4, noNaN: true }),
      fc.integer({ min: -500, max: 500 }),
      (pattern, angle, dx) => {
        const move = (p: { x: number; y: number }) => {
          const r = rotate(p, angle);
          return { x: r.x + dx, y: r.y - dx };
        };
        const moved: Pattern = {
          ...pattern,
          pieces: pattern.pieces.map((p) => ({
            ...p,
            outline: p.outline.map((e) => ({ ...e, points: e.points.map(move) })),
          })),
        };
        expect(pairSet(findSeams(moved, usual))).toEqual(pairSet(findSeams(pattern, usual)));
      },
    ),
    { numRuns: 40 },
  );
});

/** Decisions as a person could pile them up, also foolish ones. */
const anyDecisions = (pattern: Pattern): fc.Arbitrary<SeamDecisions> => {
  const ids = pattern.pieces.flatMap((p) => p.outline.map((e) => e.id));
  const edge = fc.constantFrom(...ids, 'gone');
  return fc.record({
    useNumbers: fc.boolean(),
    findRest: fc.boolean(),
    made: fc.array(
      fc.record({ a: edge, b: edge, direction: fc.constantFrom('opposed' as const, 'along' as const) }),
      { maxLength: 8 },
    ),
    rejected: fc.array(
      fc.tuple(edge, edge).map(([a, b]) => seamIdOf(a, b)),
      { maxLength: 4 },
    ),
    borders: fc.array(edge, { maxLength: 4 }),
  });
};
const decided = fc
  .constantFrom(...small)
  .chain((pattern) => fc.record({ pattern: fc.constant(pattern), decisions: anyDecisions(pattern) }));

test('every edge is in one seam or open, whatever was decided; the last word holds', () => {
  fc.assert(
    fc.property(decided, ({ pattern, decisions }) => {
      const result = findSeams(pattern, decisions);
      const ids = pattern.pieces.flatMap((p) => p.outline.map((e) => e.id));
      const used = [...result.seams.flatMap((s) => [s.a.edge, s.b.edge]), ...result.open.map((o) => o.edge)];
      expect([...used].sort()).toEqual([...ids].sort());
      const known = new Set(ids);
      const last = decisions.made.filter((m) => known.has(m.a) && known.has(m.b) && m.a !== m.b).pop();
      if (last)
        expect(result.seams.find((s) => s.id === seamIdOf(last.a, last.b))).toMatchObject({
          evidence: 'person',
          direction: last.direction,
        });
      for (const o of result.open) for (const c of o.candidates) expect(known.has(c)).toBe(true);
    }),
    { numRuns: 120 },
  );
});

test('making a seam and taking it back restores what was there', () => {
  fc.assert(
    fc.property(decided, fc.nat(1e6), fc.nat(1e6), ({ pattern, decisions }, i, j) => {
      const ids = pattern.pieces.flatMap((p) => p.outline.map((e) => e.id));
      const [a, b] = [ids[i % ids.length]!, ids[j % ids.length]!];
      fc.pre(a !== b);
      const before = findSeams(pattern, decisions);
      const made = { ...decisions, made: [...decisions.made, { a, b, direction: 'opposed' as const }] };
      expect(pairSet(findSeams(pattern, made))).toContain(seamIdOf(a, b));
      expect(findSeams(pattern, { ...made, made: made.made.slice(0, -1) })).toEqual(before);
      // Rejecting a number's seam and allowing it again is the same.
      const numbered = before.seams.find((s) => s.evidence === 'number');
      if (numbered) {
        const rejected = findSeams(pattern, { ...decisions, rejected: [...decisions.rejected, numbered.id] });
        expect(pairSet(rejected)).not.toContain(numbered.id);
      }
    }),
    { numRuns: 60 },
  );
});

test('numbers that stand for runs give no wrong seam where that is recognised, and most of the right ones', () => {
  let recognised = 0;
  let right = 0;
  let all = 0;
  for (const { make } of corpus) {
    const { truth } = drawPattern(make(), { manner: 'clean', numbers: 'runs' });
    const result = findSeams(patternFromTruth(truth), usual);
    // Where all edges are equally long (regular solids) nothing shows that a number is not meant for one edge.
    if (!result.issues.some((i) => i.code === 'numbers-stand-for-runs')) continue;
    recognised++;
    const mates = new Set(truth.mates.map(([a, b]) => seamIdOf(a, b)));
    for (const seam of result.seams) expect(mates).toContain(seam.id);
    right += result.seams.length;
    all += mates.size;
    // What is still open has a question or an open edge that says so.
    expect(result.open.length).toBeGreaterThanOrEqual(2 * (mates.size - result.seams.length));
  }
  expect(recognised).toBeGreaterThan(6);
  expect(right).toBeGreaterThan(0.8 * all);
});
