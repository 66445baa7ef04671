/** One side of a symmetric shell: what is left out has its mirror image on the pages. */
import { describe, expect, it } from 'vitest';
import { keepHalf } from '../../src/layout';
import { defaultDecisions, type MarkedPanels, type Pattern, type Shell } from '../../src/model';
import { realStages } from '../../src/pipeline';
import { gannetPattern, patternFromTruth } from '../support/harbourWatch';
import { testFont } from '../support/lettering';
import { shellOfTruth } from '../support/truthShell';

const truth = gannetPattern();
const pattern: Pattern = patternFromTruth(truth);
const shell: Shell = shellOfTruth(truth);
const { foam, marks } = defaultDecisions;
const noSeams = { seams: [], runs: [], open: [], issues: [] };
const marked: MarkedPanels = realStages.markPanels(
  realStages.makePanels(pattern, noSeams, 1, foam, marks),
  noSeams,
  { ...marks, names: false },
  testFont(),
);

/** Mean distance of a piece's corners from the mirror plane, + on the right. */
const sideOf = (s: Shell, piece: string): number => {
  const xs = s.faces.filter((f) => f.piece === piece).flatMap((f) => f.vertices.map((v) => s.vertices[v]!.x));
  return xs.reduce((a, b) => a + b, 0) / xs.length;
};

describe('one half', () => {
  const kept = keepHalf(marked, shell);
  const pieces = new Set(kept.marked.panels.flatMap((p) => p.panel.pieces));
  const gone = pattern.pieces.map((p) => p.id).filter((id) => !pieces.has(id));

  it('leaves out the left one of every pair, and says so', () => {
    expect(shell.symmetry).not.toBeNull();
    expect(gone.length).toBeGreaterThan(15);
    for (const id of gone) expect(sideOf(shell, id)).toBeLessThan(-1);
    // Whatever is left on the left side has no image of its own on the right.
    const right = pattern.pieces.filter((p) => sideOf(shell, p.id) > 1);
    expect(right).toHaveLength(gone.length);
    for (const { id } of right) expect(pieces.has(id)).toBe(true);
    expect(kept.issues).toMatchObject([{ code: 'half-printed', severity: 'note' }]);
    expect(kept.issues[0]!.message).toContain(`${gone.length} panels`);
  });

  it('keeps the same half when the shell is turned', () => {
    const turned = realStages.turnShell(shell, { x: 0.3, y: 0.4, z: 0.2 });
    expect(keepHalf(marked, turned).marked.panels.map((p) => p.panel.id)).toEqual(
      kept.marked.panels.map((p) => p.panel.id),
    );
  });

  it.each([
    ['no shell', null],
    ['a shell without symmetry', { ...shell, symmetry: null }],
  ])('%s: all panels stay, and a finding says why', (_name, given) => {
    const all = keepHalf(marked, given);
    expect(all.marked).toBe(marked);
    expect(all.issues).toMatchObject([{ code: 'half-not-possible', severity: 'warning' }]);
  });
});
