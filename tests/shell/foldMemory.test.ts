/** Folding with a memory gives what folding without gives, and folds only what changed. */
import { describe, expect, it } from 'vitest';
import { GirthwiseError, unwatched } from '../../src/base';
import { nothingKnown, type Pattern, type SeamDecisions } from '../../src/model';
import { realStages } from '../../src/pipeline';
import { findSeams } from '../../src/seams';
import { edgeProbe, type FoldMemory, foldPattern, rememberFolds } from '../../src/shell';
import { sampleDocument } from '../pipeline/support';

function patternOf(file: string): { pattern: Pattern; decisions: SeamDecisions } {
  const { sources, decisions } = sampleDocument(file);
  const drawing = realStages.readDrawing(sources[0]!, { file: 0, size: decisions.reading.size });
  if (!drawing.ok) throw new Error('unreadable');
  const joined = realStages.joinDrawings([drawing.value]);
  return { pattern: realStages.readPattern(joined, decisions.reading), decisions: decisions.seams };
}

/** A memory that counts how often something had to be folded. */
function counting(): { folds: FoldMemory; made: () => number } {
  const inner = rememberFolds();
  let made = 0;
  return {
    folds: {
      recall: (input, make) =>
        inner.recall(input, () => {
          made++;
          return make();
        }),
    },
    made: () => made,
  };
}

const { pattern, decisions } = patternOf('bollard-pauldron.clean.svg');
const seams = findSeams(pattern, decisions);

describe('folding with a memory', () => {
  it('takes the parts of the probe for the shell, which is the same as without', async () => {
    const { folds, made } = counting();
    const probe = edgeProbe(pattern, folds);
    const pairs = seams.seams.map((s) => ({ a: s.a.edge, b: s.b.edge }));
    const ends = await probe(pairs, unwatched);
    const before = made();
    expect(before).toBeGreaterThan(0);
    const shell = await foldPattern(pattern, seams, nothingKnown, unwatched, folds);
    expect(made()).toBe(before);
    expect(shell).toEqual(await foldPattern(pattern, seams, nothingKnown, unwatched));
    // Both ends of every seam lie together.
    for (const { a, b } of pairs) {
      const [p, q] = [ends.endsOf(a)!, ends.endsOf(b)!];
      for (const [u, v] of [
        [p[0], q[1]],
        [p[1], q[0]],
      ] as const)
        expect(Math.hypot(u.x - v.x, u.y - v.y, u.z - v.z)).toBeLessThan(1e-9);
    }
  });

  it('folds again when a bend is typed, and not when it is taken back', async () => {
    const { folds, made } = counting();
    const free = await foldPattern(pattern, seams, nothingKnown, unwatched, folds);
    const first = made();
    const id = seams.seams[0]!.id;
    const typed = { ...nothingKnown, bends: { [id]: free.bends[id]! + 0.2 } };
    const held = await foldPattern(pattern, seams, typed, unwatched, folds);
    expect(made()).toBe(first + 1);
    expect(Math.abs(held.bends[id]! - typed.bends[id]!)).toBeLessThan(0.1);
    expect(await foldPattern(pattern, seams, nothingKnown, unwatched, folds)).toEqual(free);
    expect(made()).toBe(first + 1);
  });
});

describe('the probe', () => {
  it('refuses pairs that make no surface', async () => {
    const [piece] = pattern.pieces;
    const [one, two, three] = piece!.outline.map((edge) => edge.id);
    const probe = edgeProbe(pattern);
    await expect(
      probe(
        [
          { a: one!, b: two! },
          { a: two!, b: three! },
        ],
        unwatched,
      ),
    ).rejects.toThrow(GirthwiseError);
  });
});
