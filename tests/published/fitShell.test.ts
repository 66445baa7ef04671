/** Girths of solids in closed form, and the ratios of heads, against the fit's own measures. */
import { describe, expect, it } from 'vitest';
import { fitPattern, headMeasures, headRatios } from '../../src/fit';
import { defaultDecisions, type FitDecisions, type Shell } from '../../src/model';
import { browPlane, closedSection, ellipseGirth, offsetPlaces, offsetVectors } from '../../src/shell';
import { foamWith, patternOf, stripPiece } from '../foam/strips';
import { vec } from '../support/harbourWatch';
import { shellOfMesh } from '../support/truthShell';

/** A net of rings, each of `n` corners on an ellipse: open at the bottom, closed by a fan when the last radius is 0. */
function turnedShell(n: number, rows: readonly { z: number; a: number; b: number }[]): Shell {
  const vertices = rows.flatMap(({ z, a, b }) =>
    a === 0
      ? [vec(0, 0, z)]
      : Array.from({ length: n }, (_, i) => {
          const t = (2 * Math.PI * i) / n;
          return vec(a * Math.cos(t), b * Math.sin(t), z);
        }),
  );
  const faces: number[][] = [];
  for (let k = 0; k + 1 < rows.length; k++)
    for (let i = 0; i < n; i++) {
      const j = (i + 1) % n;
      if (rows[k + 1]!.a === 0) faces.push([k * n + i, k * n + j, (k + 1) * n]);
      else {
        faces.push([k * n + i, k * n + j, (k + 1) * n + j]);
        faces.push([k * n + i, (k + 1) * n + j, (k + 1) * n + i]);
      }
    }
  return shellOfMesh({ name: 'turned', vertices, faces });
}

const insideGirth = (shell: Shell, at: number, depth: number): number => {
  const places = offsetPlaces(shell.vertices, offsetVectors(shell), -depth);
  return closedSection(shell, browPlane(shell, at, 0), places)!.tautGirth;
};

describe('girths in closed form (plane geometry; Steiner for parallel curves, from memory)', () => {
  it('a cylinder: 2π(R − d), for a regular n-gon 2n tan(π/n)(r − d) about its inner radius r', () => {
    for (const n of [12, 48]) {
      const radius = 100;
      const shell = turnedShell(
        n,
        [0, 50, 100, 150].map((z) => ({ z, a: radius, b: radius })),
      );
      const inner = radius * Math.cos(Math.PI / n);
      for (const d of [0, 2, 5, 10])
        expect(insideGirth(shell, 0.5, d)).toBeCloseTo(2 * n * Math.tan(Math.PI / n) * (inner - d), 6);
    }
    const fine = turnedShell(
      192,
      [0, 50, 100].map((z) => ({ z, a: 100, b: 100 })),
    );
    expect(Math.abs(insideGirth(fine, 0.5, 5) - 2 * Math.PI * 95)).toBeLessThan(0.05);
  });

  it('a cone: 2π(R(z) − d / cos of the slope), tighter than girth − 2πd', () => {
    // Radius 120 at the bottom, 60 at 100 mm.
    const slope = Math.atan2(60, 100);
    const rows = Array.from({ length: 11 }, (_, k) => ({ z: 10 * k, a: 120 - 6 * k, b: 120 - 6 * k }));
    const shell = turnedShell(160, rows);
    for (const d of [2, 5, 10]) {
      const got = insideGirth(shell, 0.55, d);
      expect(Math.abs(got - 2 * Math.PI * (120 - 0.6 * 55 - d / Math.cos(slope)))).toBeLessThan(0.1);
      expect(got).toBeLessThan(insideGirth(shell, 0.55, 0) - 2 * Math.PI * d - 1);
    }
  });

  it('an ellipsoid at its widest: the ellipse by Ramanujan, and 2πd less inside', () => {
    const [a, b, c] = [77, 100, 110];
    const rows = Array.from({ length: 41 }, (_, k) => {
      const t = -0.5 + (k / 40) * (Math.PI / 2 + 0.5);
      return { z: c * Math.sin(t), a: k === 40 ? 0 : a * Math.cos(t), b: b * Math.cos(t) };
    });
    const shell = turnedShell(96, rows);
    const least = Math.min(...rows.map((r) => r.z));
    const middle = -least / (c - least);
    for (const d of [0, 2, 5]) {
      const wanted = ellipseGirth(2 * b, 2 * a) - 2 * Math.PI * d;
      expect(Math.abs(insideGirth(shell, middle, d) - wanted)).toBeLessThan(0.35);
    }
  });

  it('the ellipse: elliptic integrals evaluated numerically', () => {
    // Half axes 5 and 3, 2 and 1 (complete elliptic integral of the second kind, evaluated for the project), and
    // the mean head of 4,082 men, 199.5 × 154.33 mm.
    expect(ellipseGirth(10, 6)).toBeCloseTo(25.526998863, 8);
    expect(ellipseGirth(4, 2)).toBeCloseTo(9.688448221, 7);
    expect(ellipseGirth(199.5, 154.33)).toBeCloseTo(558.061644, 6);
  });
});

/**
 * ANSUR II, US Army anthropometric survey of 2012, public release (report NATICK/TR-15/007): means worked out from the
 * released data; 4,082 men and 1,986 women, 6,068 together.
 */
const ansur = {
  men: { n: 4082, girth: 574.37, breadth: 154.33, length: 199.5, ratio: 0.7744, earToTop: 131.15 },
  women: { n: 1986, girth: 561.12, breadth: 147.77, length: 189.82, ratio: 0.7794, earToTop: 126.48 },
  all: { n: 6068, girth: 570.04, tapeOverEllipse: 1.0373 },
} as const;
const pooled = (of: (group: typeof ansur.men | typeof ansur.women) => number): number =>
  (ansur.men.n * of(ansur.men) + ansur.women.n * of(ansur.women)) / ansur.all.n;

describe('ratios of heads', () => {
  it('are the means of the survey', () => {
    expect(headRatios.breadthToLength).toBeCloseTo(
      pooled((g) => g.ratio),
      3,
    );
    expect(headRatios.tapeOverEllipse).toBe(ansur.all.tapeOverEllipse);
    expect(headRatios.earToCrown).toBeCloseTo(pooled((g) => g.earToTop) / ansur.all.girth, 3);
  });

  const ask = (head: number | null, length: number | null, breadth: number | null): FitDecisions => ({
    ...defaultDecisions.fit,
    head,
    measures: { length, breadth, height: null },
  });

  it('give the mean head from its girth: within 4 mm of the length and breadth measured', () => {
    const got = headMeasures(ask(ansur.all.girth, null, null))!;
    expect(Math.abs(got.length - pooled((g) => g.length))).toBeLessThan(4);
    expect(Math.abs(got.breadth - pooled((g) => g.breadth))).toBeLessThan(4);
    expect(got.assumed.length).toBe(2);
  });

  it('give one diameter from girth and the other, and the girth from both', () => {
    const { length, breadth } = { length: pooled((g) => g.length), breadth: pooled((g) => g.breadth) };
    expect(Math.abs(headMeasures(ask(ansur.all.girth, length, null))!.breadth - breadth)).toBeLessThan(4);
    expect(Math.abs(headMeasures(ask(ansur.all.girth, null, breadth))!.length - length)).toBeLessThan(4);
    expect(Math.abs(headMeasures(ask(null, length, breadth))!.girth - ansur.all.girth)).toBeLessThan(3);
    expect(headMeasures(ask(null, null, null))).toBeNull();
  });

  it('say where they are from, once for each measure that nobody gave', () => {
    const { assumed } = headMeasures({
      ...ask(580, 200, 155),
      measures: { length: 200, breadth: 155, height: 105 },
    })!;
    expect(assumed).toEqual([]);
    for (const sentence of headMeasures(ask(580, null, null))!.assumed)
      expect(sentence).toContain('ANSUR II');
  });
});

describe('a head in an ellipsoid of its own shape', () => {
  it('has the room that was asked for all round', () => {
    // Foam on the outside, so that the paper is the inside: an ellipsoid 10 mm larger than the head all round.
    const [a, b, c] = [87, 110, 115];
    const rows = Array.from({ length: 27 }, (_, k) => {
      const t = -0.6 + (k / 26) * (Math.PI / 2 + 0.6);
      return { z: c * Math.sin(t), a: k === 26 ? 0 : a * Math.cos(t), b: b * Math.cos(t) };
    });
    const shell = turnedShell(56, rows);
    const least = Math.min(...rows.map((r) => r.z));
    const fit = fitPattern(
      patternOf([stripPiece('p', [100], 50)]),
      {
        ...defaultDecisions.fit,
        how: 'percent',
        percent: 1,
        head: ellipseGirth(200, 154),
        measures: { length: 200, breadth: 154, height: 105 },
        brow: { at: -least / (c - least), tilt: 0 },
      },
      foamWith({ standsFor: 'inside' }),
      shell,
    );
    const { clearances, headform } = fit.shell!;
    expect(headform!.girth).toBeCloseTo(ellipseGirth(200, 154), 6);
    for (const side of ['front', 'back', 'left', 'right', 'crown'] as const)
      expect(Math.abs(clearances![side]! - 10)).toBeLessThan(0.2);
    // Two ellipsoids whose axes differ by 10 mm are nowhere farther apart than that, and nearly so everywhere.
    expect(clearances!.smallest.room).toBeGreaterThan(9.5);
    expect(clearances!.smallest.room).toBeLessThan(10.05);
  });
});
