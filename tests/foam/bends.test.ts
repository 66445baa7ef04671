/** Whose word counts for a bend: typed, then the folded shell, then the file, then the kind. */
import { describe, expect, it } from 'vitest';
import { type FoldedBends, makePanels, shapePiece } from '../../src/foam';
import type { FoamDecisions, Pattern } from '../../src/model';
import { radians } from '../../src/units';
import { foamWith, marks, noSeams, patternOf, prismWalls, stripPiece } from './strips';

const seamBend: FoamDecisions['roleBends'] = { mountain: null, valley: null, unknown: null, seam: 0.1 };

describe('bends of seams', () => {
  const { pattern, seams } = prismWalls(6, 60, 40);
  const make = (foam: Partial<FoamDecisions>, folded: FoldedBends | null) =>
    makePanels(pattern, seams, 1, foamWith(foam), marks, shapePiece, folded);
  const shell = { bends: { s0: 0.7, s1: -0.4, s2: radians(175) }, taken: true };

  it('takes typed ones before those of the shell, and these before those for the kind', () => {
    const { rows, panels, unsetBends } = make({ bends: { s0: 0.3 }, roleBends: seamBend }, shell);
    const from = (id: string) => {
      const { bend, bendFrom } = rows.find((row) => row.seam === id)!;
      return [bend, bendFrom];
    };
    expect(from('s0')).toEqual([0.3, 'typed']);
    expect(from('s1')).toEqual([-0.4, 'shell']);
    expect(from('s3')).toEqual([0.1, 'kind']);
    expect(unsetBends).toEqual([]);
    // The cut itself follows: bevelled by half the bend.
    expect(rows.find((row) => row.seam === 's1')!.bevel).toBeCloseTo(-0.2, 12);
    const edges = panels.flatMap((panel) => panel.loops.flat());
    for (const edge of edges) {
      if (edge.seam === null) expect(edge.bendFrom).toBeUndefined();
      else expect(edge.bendFrom).toBe(rows.find((row) => row.seam === edge.seam)!.bendFrom);
    }
  });

  it('refuses a bend that is folded shut, and says that it is the shell’s', () => {
    const { rows, issues } = make({}, shell);
    const shut = rows.find((row) => row.seam === 's2')!;
    expect([shut.bend, shut.bendFrom]).toEqual([null, undefined]);
    expect(issues.find((i) => i.code === 'bend-folded-shut')).toMatchObject({
      severity: 'warning',
      place: { ids: ['s2'] },
    });
    expect(issues.some((i) => i.code === 'bend-too-sharp')).toBe(false);
  });

  it('offers but does not use those of a shell that is not trusted, and says what to do', () => {
    const untrusted = make({ bends: { s0: 0.3 }, roleBends: seamBend }, { ...shell, taken: false });
    expect(untrusted.rows.map((row) => row.bendFrom)).toEqual(['typed', ...Array(5).fill('kind')]);
    const told = untrusted.issues.find((i) => i.code === 'bends-not-trusted')!;
    // s0 is typed, so the shell's is not missed there.
    expect(told.place.ids).toEqual(['s1', 's2']);
    expect(told.remedy.length).toBeGreaterThan(20);
    const bare = make({}, { ...shell, taken: false });
    expect(bare.rows.map((row) => row.bend)).toEqual(Array(6).fill(null));
    expect(bare.unsetBends).toHaveLength(6);
    // What the shell could give is not asked for a second time.
    expect(bare.issues.find((i) => i.code === 'bend-not-set')!.place.ids).toEqual(['s3', 's4', 's5']);
    expect(make({}, { ...shell, taken: true }).issues.some((i) => i.code === 'bends-not-trusted')).toBe(
      false,
    );
  });

  it('without a shell, and with one that says nothing, is the same', () => {
    const roleBends = seamBend;
    expect(make({ roleBends }, { bends: {}, taken: true })).toEqual(make({ roleBends }, null));
  });
});

describe('bends of folds', () => {
  const piece = stripPiece('s', [30, 30, 30], 40);
  const given: Pattern = patternOf([
    { ...piece, folds: piece.folds.map((fold, i) => (i === 0 ? { ...fold, givenBend: 0.25 } : fold)) },
  ]);
  const [first, second] = piece.folds.map((fold) => fold.id);
  const kinds = { mountain: 0.1, valley: -0.1, unknown: 0.1, seam: null };
  const from = (folded: FoldedBends | null, bends: FoamDecisions['bends'] = {}) =>
    makePanels(
      given,
      noSeams,
      1,
      foamWith({ roleBends: kinds, bends }),
      marks,
      shapePiece,
      folded,
    ).panels[0]!.folds.map((fold) => [fold.bend, fold.bendFrom]);

  it('takes what the file gives before the kind’s, and after the shell’s', () => {
    expect(from(null)[0]).toEqual([0.25, 'file']);
    expect(from(null)[1]![1]).toBe('kind');
    expect(from({ bends: { [first!]: 0.5, [second!]: 0.6 }, taken: true })).toEqual([
      [0.5, 'shell'],
      [0.6, 'shell'],
    ]);
    expect(from({ bends: { [first!]: 0.5 }, taken: false })[0]).toEqual([0.25, 'file']);
    expect(from({ bends: { [first!]: 0.5 }, taken: true }, { [first!]: 0.2 })[0]).toEqual([0.2, 'typed']);
  });
});
