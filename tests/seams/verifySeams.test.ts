import { describe, expect, it } from 'vitest';
import { Cancelled, GirthwiseError, unwatched } from '../../src/base';
import { defaultDecisions } from '../../src/model';
import { type FoldProbe, matchSeams, seamIdOf, verifySeams } from '../../src/seams';
import { probeOf } from './foldProbe';
import { drawn, members } from './matchFamily';
import { precision, recall, scoreMatch } from './matchScore';

const usual = defaultDecisions.seams;
const read = (name: string) => drawn(members.find((m) => m.name === name)!.make(), 'clean');
const { pattern, seams } = read('sym 160 mixed 0 #112');

describe('the pass that folds up', () => {
  it('joins mirror-image halves that matching leaves open', async () => {
    const before = scoreMatch(matchSeams(pattern, usual), seams);
    const after = scoreMatch(await verifySeams(pattern, usual, probeOf(pattern), unwatched), seams);
    expect(recall(before)).toBeLessThan(0.95);
    expect(precision(after)).toBeGreaterThanOrEqual(0.97);
    expect(recall(after)).toBeGreaterThanOrEqual(0.97);
  });

  it('takes the join back when the shell does not fold up with it', async () => {
    const unsound: FoldProbe = async () => ({ endsOf: () => null, residual: { rms: 1, max: 5 } });
    const ids = (s: ReturnType<typeof matchSeams>) => s.seams.map((x) => x.id);
    expect(ids(await verifySeams(pattern, usual, unsound, unwatched))).toEqual(
      ids(matchSeams(pattern, usual)),
    );
  });

  it('keeps the join where the shell is no worse with it, as on drawings that leave mild folds out', async () => {
    const before = scoreMatch(matchSeams(pattern, usual), seams);
    const rough: FoldProbe = async () => ({ endsOf: () => null, residual: { rms: 0.08, max: 0.4 } });
    const after = scoreMatch(await verifySeams(pattern, usual, rough, unwatched), seams);
    expect(after.right).toBeGreaterThan(before.right + 5);
  });

  it('a set of seams that makes no surface costs the doubtful ones, not the rest', async () => {
    const sound = matchSeams(pattern, usual).seams.map((s) => s.id);
    const sure = new Set(sound);
    const refuses: FoldProbe = async (glued) => {
      if (glued.some(({ a, b }) => !sure.has(seamIdOf(a, b))))
        throw new GirthwiseError('not-a-surface', 'Edge used by three faces');
      return { endsOf: () => null, residual: { rms: 0, max: 0 } };
    };
    const result = await verifySeams(pattern, usual, refuses, unwatched);
    expect(result.seams.map((s) => s.id)).toEqual(sound);
    const broken: FoldProbe = async () => {
      throw new TypeError('a fault of the program');
    };
    await expect(verifySeams(pattern, usual, broken, unwatched)).rejects.toBeInstanceOf(TypeError);
  });

  it('reports progress and stops when cancelled', async () => {
    const said: string[] = [];
    const probe = probeOf(pattern);
    const work = {
      step: async (_done: number, _total: number, what: string) => {
        said.push(what);
        if (what.startsWith('Folding')) throw new Cancelled();
      },
    };
    await expect(verifySeams(pattern, usual, probe, work)).rejects.toBeInstanceOf(Cancelled);
    expect(said).toEqual(['Matching edges', 'Folding up to check seams']);
  });
});

describe('a ring that fits turned by half a turn', () => {
  const helm = (manner: 'clean' | 'tabs') =>
    drawn(members.find((m) => m.name === 'Gannet helm')!.make(), manner);
  const flat: FoldProbe = async () => ({ endsOf: () => null, residual: { rms: 0, max: 0 } });

  it('goes the way round that gives each seam one glue tab', async () => {
    const { pattern, seams } = helm('tabs');
    const score = scoreMatch(await verifySeams(pattern, usual, flat, unwatched), seams);
    expect(precision(score)).toBe(1);
    expect(recall(score)).toBeGreaterThanOrEqual(0.99);
  });

  // Two folds of the whole helm: a few seconds on a free core, far more on a busy one.
  it('goes the way round that folds up smoother', { timeout: 180_000 }, async () => {
    const { pattern, seams } = helm('clean');
    const result = await verifySeams(pattern, usual, probeOf(pattern), unwatched);
    const score = scoreMatch(result, seams);
    expect(precision(score)).toBe(1);
    expect(recall(score)).toBeGreaterThanOrEqual(0.99);
    expect(result.seams.filter((s) => s.reason?.includes('half a turn')).length).toBe(26);
    expect(result.issues.find((i) => i.code === 'seams-fit-turned')?.message).toMatch(/^26 seams/);
  });

  it('stays open, with both mates as candidates, where nothing tells', async () => {
    const { pattern, seams } = helm('clean');
    const result = await verifySeams(pattern, usual, flat, unwatched);
    expect(precision(scoreMatch(result, seams))).toBe(1);
    expect(result.issues.map((i) => i.code)).toContain('seams-fit-turned');
    const asked = result.open.filter((o) => o.candidates.length > 1);
    expect(asked.length).toBeGreaterThanOrEqual(52);
  });
});
