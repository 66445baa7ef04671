import { describe, expect, it } from 'vitest';
import { fitPattern } from '../../src/fit';
import { defaultDecisions, type FitDecisions } from '../../src/model';
import { foamWith } from '../foam/strips';
import { gannetPattern, patternFromTruth } from '../support/harbourWatch';
import { shellOfTruth } from '../support/truthShell';

const truth = gannetPattern();
const pattern = patternFromTruth(truth);
const shell = shellOfTruth(truth);
const ask = (changes: Partial<FitDecisions> = {}): FitDecisions => ({
  ...defaultDecisions.fit,
  head: 580,
  ...changes,
});
const wanted = 580 + 2 * Math.PI * 8;

describe('the girth from the shell', () => {
  it('finds the brow of the helm by itself', () => {
    const fit = fitPattern(pattern, ask(), foamWith(), shell);
    // The helm is drawn with a brow ring of 640 mm.
    expect(fit.patternGirth).toBeGreaterThan(636);
    expect(fit.patternGirth).toBeLessThan(644);
    expect(fit.shell?.brow.proposed).toBe(true);
  });

  it('solves the scale so that the inside has the girth wanted, whichever side the paper is', () => {
    for (const standsFor of ['outside', 'middle', 'inside'] as const) {
      const fit = fitPattern(pattern, ask(), foamWith({ standsFor }), shell);
      expect(fit.insideGirthWanted).toBeCloseTo(wanted, 9);
      expect(Math.abs(fit.insideGirth! - wanted)).toBeLessThan(0.1);
      expect(fit.insideGirth).toBe(fit.shell!.insideBrow.tautGirth);
      expect(fit.outsideGirth!).toBeGreaterThan(fit.insideGirth!);
      expect(fit.issues.map((i) => i.code)).not.toContain('sloping-wall');
    }
  });
});
