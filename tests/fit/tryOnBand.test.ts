import { describe, expect, it } from 'vitest';
import { unwatched } from '../../src/base';
import { bandHeight, bandTab, fitPattern, tryOnBand } from '../../src/fit';
import { distance } from '../../src/math';
import { defaultDecisions, noResults, type PaperName } from '../../src/model';
import { layBand } from '../../src/pipeline';
import { foamWith } from '../foam/strips';
import { gannetPattern, openShell, patternFromTruth, shellPattern } from '../support/harbourWatch';
import { testFont } from '../support/lettering';
import { shellOfTruth } from '../support/truthShell';

const helm = gannetPattern();
const cases = [
  { name: 'helm', truth: helm },
  {
    name: 'shell without symmetry',
    truth: shellPattern(openShell({ seed: 4, faces: 200, symmetric: false, net: 'triangles', jitter: 0.05 })),
  },
].map(({ name, truth }) => {
  const shell = shellOfTruth(truth);
  const fit = fitPattern(patternFromTruth(truth), { ...defaultDecisions.fit, head: 580 }, foamWith(), shell);
  return { name, shell, fit };
});
const document = { title: 'Gannet helm', decisions: defaultDecisions, lengthUnit: 'mm' as const };
const widthOf = (ring: readonly { x: number }[]) =>
  Math.max(...ring.map((p) => p.x)) - Math.min(...ring.map((p) => p.x));

describe.each(cases)('the band of the $name', ({ shell, fit }) => {
  const band = tryOnBand(shell, fit.shell!, 270, 'mm', testFont());
  if (!band.ok) throw new Error('no band');
  const { panels } = band.value;
  const parts = (id: string) => panels.filter(({ panel }) => panel.id.startsWith(`band-${id}`));
  const outline = (p: (typeof panels)[number]) => p.panel.outlines.traced[0]!;

  it('is as long as the inside of the finished shell, its tabs apart', () => {
    const brow = parts('brow');
    expect(brow.length).toBe(3);
    const length = brow.reduce((sum, p) => sum + widthOf(outline(p)) - bandTab, 0);
    expect(length).toBeCloseTo(fit.insideGirth!, 6);
    for (const p of panels) {
      expect(widthOf(outline(p))).toBeLessThanOrEqual(270 + 1e-9);
      const ys = outline(p).map((q) => q.y);
      expect(Math.max(...ys) - Math.min(...ys)).toBe(bandHeight);
    }
  });

  it('has a line across at back, right, front and left, the front half way where the shell is symmetric', () => {
    const words = parts('brow').flatMap((p) => p.lettering.map((l) => l.text));
    for (const word of ['back', 'right', 'front', 'left'])
      expect(words.filter((w) => w === word)).toEqual([word]);
    if (!shell.symmetry) return;
    // Ruler counts from the front: as far to the back both ways.
    const across = parts('brow').map((p) =>
      p.lines
        .filter((l) => l.kind === 'notch' && distance(l.points[0]!, l.points[1]!) === bandHeight)
        .map((l) => l.points[0]!.x),
    );
    const step = widthOf(outline(parts('brow')[0]!)) - bandTab;
    const places = across.flatMap((xs, k) => xs.map((x) => k * step + x));
    expect(places[0]).toBeCloseTo(0, 6);
    expect(places[2]).toBeCloseTo(fit.insideGirth! / 2, 1);
    expect(places[1]! + places[3]!).toBeCloseTo(fit.insideGirth!, 1);
  });

  it('runs over the crown: longer than the straight way, no longer than a box', () => {
    const crown = parts('crown');
    const length = crown.reduce((sum, p) => sum + widthOf(outline(p)) - bandTab, 0) - bandTab;
    const { insideBrow } = fit.shell!;
    expect(length).toBeGreaterThan(insideBrow.length);
    expect(length).toBeLessThan(insideBrow.length + 2 * fit.shell!.insideExtent.z);
  });

  it.each<PaperName>(shell === cases[0]!.shell ? ['A4', 'A3'] : ['A4'])(
    'stands on one or two pages of %s',
    async (paper) => {
      const decisions = { ...defaultDecisions, pages: { ...defaultDecisions.pages, paper } };
      const plan = await layBand(
        { ...noResults, shell, fit },
        { ...document, decisions },
        testFont(),
        unwatched,
      );
      if (!plan.ok) throw new Error('no pages');
      expect(plan.value.pages.length).toBeLessThanOrEqual(paper === 'A3' ? 1 : 2);
      const named = new Set(plan.value.pages.flatMap((p) => p.panels));
      expect(named.size).toBe(plan.value.placements.length);
      for (const page of plan.value.pages)
        expect(page.lettering.some((l) => l.text.includes('not protective equipment'))).toBe(true);
    },
  );
});

describe('the band refuses', () => {
  it('paper that is too small, and results without a shell', async () => {
    const { shell, fit } = cases[0]!;
    const small = tryOnBand(shell, fit.shell!, 80, 'mm', testFont());
    expect(small.ok).toBe(false);
    expect(small.issues.map((i) => i.code)).toEqual(['band-paper-too-small']);
    const none = await layBand(noResults, document, testFont(), unwatched);
    expect(none.ok).toBe(false);
    expect(none.issues[0]!.message).toContain('no sound shell');
  });
});
