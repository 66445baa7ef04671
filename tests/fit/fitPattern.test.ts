import { describe, expect, it } from 'vitest';
import { edgeChainLength, fitPattern, tapeLength } from '../../src/fit';
import { point } from '../../src/math';
import { defaultDecisions, type FitDecisions } from '../../src/model';
import { foamWith, patternOf, stripPiece } from '../foam/strips';

/** Two strips whose bottom edges are 300 and 340 mm long together 640. */
const pattern = patternOf([stripPiece('p', [100, 200], 50), stripPiece('q', [340], 60)]);
const brow = ['p.bottom0', 'p.bottom1', 'q.bottom0'];
const ask = (changes: Partial<FitDecisions> = {}): FitDecisions => ({
  ...defaultDecisions.fit,
  head: 580,
  girth: { kind: 'edges', edges: brow },
  ...changes,
});
const codes = (fit: { issues: readonly { code: string }[] }) => fit.issues.map((issue) => issue.code);

describe('the scale from a head', () => {
  it('gives the inside girth that was wanted, whichever side of the foam the paper is', () => {
    const wanted = 580 + 2 * Math.PI * 8;
    for (const [standsFor, inside, outside] of [
      ['outside', 5, 0],
      ['middle', 2.5, 2.5],
      ['inside', 0, 5],
    ] as const) {
      const fit = fitPattern(pattern, ask(), foamWith({ standsFor }));
      expect(fit.patternGirth).toBe(640);
      expect(fit.insideGirthWanted).toBeCloseTo(wanted, 9);
      expect(fit.scale).toBeCloseTo((wanted + 2 * Math.PI * inside) / 640, 12);
      expect(fit.insideGirth).toBeCloseTo(wanted, 9);
      expect(fit.outsideGirth).toBeCloseTo(fit.scale * 640 + 2 * Math.PI * outside, 9);
    }
  });

  it('shows its working, and the working leads to the scale', () => {
    const fit = fitPattern(pattern, ask(), foamWith());
    const step = (label: string) => fit.steps.find((s) => s.label === label)!.value;
    expect(step('Ease')).toBe(8);
    expect(step('Inside girth wanted')).toBeCloseTo(step('Head girth') + 2 * Math.PI * step('Ease'), 9);
    expect(step('Paper girth wanted')).toBeCloseTo(
      step('Inside girth wanted') + 2 * Math.PI * step('Foam inside the paper'),
      9,
    );
    expect(step('Scale')).toBeCloseTo(step('Paper girth wanted') / step('Pattern girth'), 12);
    expect(step('Scale')).toBe(fit.scale);
    expect(step('Inside girth')).toBe(fit.insideGirth);
    expect(fit.steps.find((s) => s.label === 'Pattern girth')!.formula).toBe('sum of 3 edges and folds');
  });

  it('measures by tape or takes a typed girth', () => {
    const parts = [
      [point(0, 0), point(300, 0)],
      [point(0, 0), point(0, 340)],
    ] as const;
    expect(tapeLength(pattern, parts)).toBe(640);
    expect(fitPattern(pattern, ask({ girth: { kind: 'tape', parts } }), foamWith()).patternGirth).toBe(640);
    expect(fitPattern(pattern, ask({ girth: { kind: 'typed', length: 612 } }), foamWith()).patternGirth).toBe(
      612,
    );
  });

  it('counts edges once, takes folds too, and says what is gone', () => {
    expect(edgeChainLength(pattern, [...brow, 'p.bottom0'])).toBe(640);
    expect(edgeChainLength(pattern, ['p.f0'])).toBe(50);
    const fit = fitPattern(
      pattern,
      ask({ girth: { kind: 'edges', edges: [...brow, 'p.bottom0', 'lost'] } }),
      foamWith(),
    );
    expect(fit.patternGirth).toBe(640);
    expect(fit.issues.find((issue) => issue.code === 'girth-edges-twice')?.place.ids).toEqual(['p.bottom0']);
    expect(fit.issues.find((issue) => issue.code === 'girth-edges-gone')?.place.ids).toEqual(['lost']);
  });

  it('says what is missing and stays at 100 %', () => {
    expect(codes(fitPattern(pattern, ask({ head: null }), foamWith()))).toEqual(['head-missing']);
    expect(codes(fitPattern(pattern, ask({ girth: { kind: 'none' } }), foamWith()))).toEqual([
      'girth-missing',
    ]);
    const gone = fitPattern(pattern, ask({ girth: { kind: 'edges', edges: ['lost'] } }), foamWith());
    expect(gone).toMatchObject({ scale: 1, patternGirth: null, insideGirth: null, outsideGirth: null });
    expect(codes(gone)).toEqual(['girth-missing', 'girth-edges-gone']);
  });

  it('gives the size of the largest piece at scale', () => {
    const fit = fitPattern(pattern, ask({ how: 'percent', percent: 0.5 }), foamWith());
    expect(fit.largestPiece).toEqual({ width: 170, height: 30 });
  });
});

describe('other ways', () => {
  it('a known length', () => {
    const fit = fitPattern(
      pattern,
      ask({ how: 'known', known: { have: 120, want: 135 }, head: null }),
      foamWith(),
    );
    expect(fit.scale).toBe(1.125);
    expect(fit.insideGirth).toBeCloseTo(1.125 * 640 - 10 * Math.PI, 9);
    expect(fit.insideGirthWanted).toBeNull();
    const half = fitPattern(pattern, ask({ how: 'known', known: { have: 120, want: null } }), foamWith());
    expect(half.scale).toBe(1);
    expect(codes(half)).toContain('known-length-missing');
    expect(
      codes(fitPattern(pattern, ask({ how: 'known', known: { have: 0, want: 5 } }), foamWith())),
    ).toContain('known-length-missing');
  });

  it('a percentage', () => {
    const fit = fitPattern(pattern, ask({ how: 'percent', percent: 0.97 }), foamWith());
    expect(fit.scale).toBe(0.97);
    expect(fit.steps[0]).toEqual({ label: 'Scale', formula: 'as typed', value: 0.97, unit: 'ratio' });
    expect(codes(fitPattern(pattern, ask({ how: 'percent', percent: 0 }), foamWith()))).toEqual([
      'percent-missing',
    ]);
  });

  it('says when the head will not go in', () => {
    expect(codes(fitPattern(pattern, ask({ how: 'percent', percent: 0.9 }), foamWith()))).toContain(
      'inside-smaller-than-head',
    );
    expect(codes(fitPattern(pattern, ask({ how: 'percent', percent: 1 }), foamWith()))).not.toContain(
      'inside-smaller-than-head',
    );
    expect(codes(fitPattern(pattern, ask({ how: 'percent', percent: 0.02 }), foamWith()))).toContain(
      'no-inside-left',
    );
  });
});

describe('questions, never refusals', () => {
  it.each([
    [58, '58 cm'],
    [22.75, '22.75 in'],
    [5800, '580 mm'],
    [580 * 25.4, '580 mm'],
  ])('%s mm: did you mean %s?', (head, meant) => {
    const fit = fitPattern(pattern, ask({ head }), foamWith());
    const found = fit.issues.find((issue) => issue.code === 'head-implausible')!;
    expect(found.message).toContain(`Did you mean ${meant}?`);
    expect(fit.scale).toBeGreaterThan(0);
    expect(fit.scale).not.toBe(1);
  });

  it('asks about unusual heads', () => {
    const fit = fitPattern(pattern, ask({ head: 640 }), foamWith());
    expect(fit.context?.unusual).toBe(true);
    expect(fit.issues.find((issue) => issue.code === 'head-unusual')?.message).toContain('right?');
    expect(codes(fitPattern(pattern, ask({ head: 575 }), foamWith()))).not.toContain('head-unusual');
  });

  it('says that sloping walls are tighter where foam lies inside the paper', () => {
    expect(codes(fitPattern(pattern, ask(), foamWith()))).toContain('sloping-wall');
    expect(codes(fitPattern(pattern, ask(), foamWith({ standsFor: 'inside' })))).not.toContain(
      'sloping-wall',
    );
    const note = fitPattern(pattern, ask(), foamWith()).issues.find(
      (issue) => issue.code === 'sloping-wall',
    )!;
    expect(note.message).toContain('0.4 to 5.1 mm');
    expect(note.severity).toBe('note');
  });

  it('asks about scales that point to a wrong unit', () => {
    expect(codes(fitPattern(pattern, ask({ girth: { kind: 'typed', length: 64 } }), foamWith()))).toContain(
      'scale-implausible',
    );
  });
});
