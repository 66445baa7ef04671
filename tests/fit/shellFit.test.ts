import { describe, expect, it } from 'vitest';
import { fitPattern } from '../../src/fit';
import { defaultDecisions, type FitDecisions } from '../../src/model';
import { foamWith } from '../foam/strips';
import { gannetPattern, openShell, patternFromTruth, prism, shellPattern } from '../support/harbourWatch';
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

const codes = (fit: { issues: readonly { code: string }[] }) => fit.issues.map((i) => i.code);
const dome = shellPattern(openShell({ seed: 3, faces: 160, symmetric: true, net: 'quads', jitter: 0 }));
const hood = { pattern: patternFromTruth(dome), shell: shellOfTruth(dome) };

describe('the brow', () => {
  it('is where the person sets it, and a cut through an opening is bridged and told', () => {
    const set = fitPattern(pattern, ask({ brow: { at: 0.2, tilt: 0 } }), foamWith(), shell);
    expect(set.shell!.brow).toMatchObject({ at: 0.2, tilt: 0, proposed: false });
    // The face opening is 120 to 125 mm wide there.
    expect(codes(set)).toContain('brow-cuts-opening');
    expect(codes(fitPattern(pattern, ask(), foamWith(), shell))).not.toContain('brow-cuts-opening');
    const { loop, tautGirth } = set.shell!.brow;
    expect(loop.girth).toBeGreaterThan(tautGirth - 1e-9);
  });

  it('tilts: higher in front', () => {
    const { plane } = fitPattern(pattern, ask({ brow: { at: 0.6, tilt: 0.2 } }), foamWith(), shell).shell!
      .brow;
    const heightAt = (y: number) => (plane.offset - plane.normal.y * y) / plane.normal.z;
    expect(heightAt(80)).toBeGreaterThan(heightAt(-80));
    expect(Math.atan2(heightAt(80) - heightAt(-80), 160)).toBeCloseTo(0.2, 9);
  });

  it('beside the shell: said, and the girth is asked for as without one', () => {
    const missed = fitPattern(pattern, ask({ brow: { at: 1, tilt: 0 } }), foamWith(), shell);
    expect(missed.shell).toBeNull();
    expect(codes(missed)).toContain('brow-misses-shell');
  });
});

describe('a girth measured by hand', () => {
  it('keeps the formula, and the figures of the shell stand beside it', () => {
    const fit = fitPattern(pattern, ask({ girth: { kind: 'typed', length: 640 } }), foamWith(), shell);
    expect(fit.scale).toBeCloseTo((wanted + 10 * Math.PI) / 640, 12);
    expect(fit.insideGirth).toBeCloseTo(wanted, 9);
    const step = (label: string) => fit.steps.find((s) => s.label === label)?.value;
    expect(step('Pattern girth on the shell')).toBe(fit.shell!.brow.tautGirth);
    expect(step('Inside girth on the shell')).toBe(fit.shell!.insideBrow.tautGirth);
    // Both figures agree within what a sloping wall takes.
    expect(Math.abs(step('Inside girth on the shell')! - wanted)).toBeLessThan(8);
  });
});

describe('known lengths and percentages', () => {
  it('take their scale and measure the shell at it', () => {
    const fit = fitPattern(pattern, ask({ how: 'percent', percent: 0.9 }), foamWith(), shell);
    expect(fit.scale).toBe(0.9);
    expect(fit.insideGirth).toBe(fit.shell!.insideBrow.tautGirth);
    expect(fit.shell!.scales).toEqual({ breadth: 0.9, length: 0.9, height: 0.9 });
    expect(codes(fit)).toContain('inside-smaller-than-head');
  });
});

describe('going on', () => {
  it('passes where the rim is wider than the head with its ease', () => {
    const { goesOn } = fitPattern(pattern, ask(), foamWith(), shell).shell!;
    expect(goesOn).toMatchObject({ passes: true, short: 0, help: [] });
    expect(goesOn!.needed).toBeCloseTo(wanted, 6);
  });

  it('is short by what is missing, and the larger scale that is offered lets the head through', () => {
    const asked = ask({ how: 'percent', percent: 0.9, clearance: 15 });
    const fit = fitPattern(pattern, asked, foamWith(), shell);
    const { goesOn } = fit.shell!;
    expect(goesOn!.passes).toBe(false);
    expect(goesOn!.short).toBeCloseTo(goesOn!.needed - goesOn!.opening, 9);
    expect(codes(fit)).toContain('does-not-go-on');
    expect(goesOn!.help.length).toBe(2);
    const percent = Number(/at ([\d.]+) %/.exec(goesOn!.help[1]!)![1]);
    const larger = fitPattern(pattern, { ...asked, percent: (percent + 0.1) / 100 }, foamWith(), shell);
    expect(larger.shell!.goesOn!.passes).toBe(true);
    const smaller = fitPattern(pattern, { ...asked, percent: (percent - 0.5) / 100 }, foamWith(), shell);
    expect(smaller.shell!.goesOn!.passes).toBe(false);
  });
});

describe('three scales', () => {
  const measures = { length: 200, breadth: 155, height: 104 };
  it('give length, breadth and height their ease, and keep the ids of the pattern', () => {
    const fit = fitPattern(hood.pattern, ask({ how: 'measures', measures }), foamWith(), hood.shell);
    const { insideBrow, clearances, scales } = fit.shell!;
    expect(insideBrow.length).toBeCloseTo(216, 2);
    expect(insideBrow.breadth).toBeCloseTo(171, 2);
    expect(clearances!.left).toBeCloseTo(8, 2);
    expect(clearances!.front + clearances!.back).toBeCloseTo(16, 2);
    expect(new Set(Object.values(scales)).size).toBe(3);
    expect(fit.scale).toBeCloseTo(Math.cbrt(scales.breadth * scales.length * scales.height), 12);
    expect(fit.reshaped!.pieces.map((p) => p.id)).toEqual(hood.pattern.pieces.map((p) => p.id));
    // Measures of a head with less girth than it has: said.
    expect(codes(fit)).toContain('girth-short');
    expect(codes(fit)).not.toContain('head-assumed');
  });

  it('need a shell', () => {
    expect(codes(fitPattern(hood.pattern, ask({ how: 'measures', measures }), foamWith()))).toContain(
      'measures-need-shell',
    );
  });

  it('that would bend the shape out of its own are questioned', () => {
    const squat = { length: 200, breadth: 155, height: 40 };
    expect(
      codes(fitPattern(hood.pattern, ask({ how: 'measures', measures: squat }), foamWith(), hood.shell)),
    ).toContain('scales-far-apart');
  });
});

describe('the headform', () => {
  it('is a closed surface of the girth given, and says what nobody measured', () => {
    const { headform } = fitPattern(pattern, ask(), foamWith(), shell).shell!;
    expect(headform!.girth).toBeCloseTo(580, 6);
    expect(headform!.assumed.length).toBe(2);
    const sides = new Set<string>();
    for (const t of headform!.triangles) for (let k = 0; k < 3; k++) sides.add(`${t[k]} ${t[(k + 1) % 3]}`);
    expect(sides.size).toBe(3 * headform!.triangles.length);
    for (const side of sides) expect(sides.has(side.split(' ').reverse().join(' '))).toBe(true);
  });

  it('doubts measures that belong to no head', () => {
    const fit = fitPattern(
      pattern,
      ask({ measures: { length: 200, breadth: 150, height: null }, head: 420 }),
      foamWith(),
      shell,
    );
    expect(codes(fit)).toContain('head-measures-disagree');
  });
});

describe('a sleeve that is open above', () => {
  const sleeve = shellPattern(prism(12, 110, 260, true));
  const open = { pattern: patternFromTruth(sleeve), shell: shellOfTruth(sleeve) };
  const fit = fitPattern(
    open.pattern,
    ask({ how: 'percent', percent: 1, brow: { at: 0.5, tilt: 0 } }),
    foamWith(),
    open.shell,
  );

  it('has no room at the crown, which is told and survives being written down', () => {
    expect(fit.shell!.clearances!.crown).toBeNull();
    expect(codes(fit)).toContain('open-above');
    const written = JSON.parse(JSON.stringify(fit.shell!.clearances)) as { crown: unknown; front: unknown };
    expect(written.crown).toBeNull();
    expect(written.front).toEqual(expect.any(Number));
  });

  it('is entered through the opening below the brow, not the one above', () => {
    const { goesOn } = fit.shell!;
    const heights = goesOn!.vertices.map((v) => open.shell.vertices[v]!.z);
    expect(heights.length).toBe(12);
    expect(Math.max(...heights)).toBeLessThan(1);
  });
});
