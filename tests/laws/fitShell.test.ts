import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { fitPattern } from '../../src/fit';
import { point3 } from '../../src/math';
import { defaultDecisions, type FitDecisions, type Shell } from '../../src/model';
import { foamWith } from '../foam/strips';
import {
  gannetPattern,
  openShell,
  patternFromTruth,
  placePieces,
  shellPattern,
} from '../support/harbourWatch';
import { shellOfTruth } from '../support/truthShell';

const members = [
  gannetPattern(),
  shellPattern(openShell({ seed: 3, faces: 120, symmetric: true, net: 'quads', jitter: 0 })),
  shellPattern(openShell({ seed: 5, faces: 160, symmetric: true, net: 'triangles', jitter: 0.1 })),
  shellPattern(openShell({ seed: 4, faces: 160, symmetric: false, net: 'mixed', jitter: 0.1 })),
].map((truth) => {
  const placed = placePieces(truth, {
    width: 900,
    height: null,
    margin: 12,
    head: 14,
    pageGap: 20,
    loose: false,
    seed: 1,
  });
  return { pattern: patternFromTruth(placed), shell: shellOfTruth(placed) };
});
const length = (min: number, max: number) => fc.double({ min, max, noNaN: true });
const given = fc.record({
  member: fc.constantFrom(...members),
  head: length(520, 630),
  clearance: length(0, 8),
  thickness: length(0, 8),
  standsFor: fc.constantFrom('outside', 'middle', 'inside'),
});
type Given = typeof given extends fc.Arbitrary<infer T> ? T : never;
const fitOf = (g: Given, changes: Partial<FitDecisions> = {}, shell: Shell = g.member.shell) =>
  fitPattern(
    g.member.pattern,
    { ...defaultDecisions.fit, head: g.head, clearance: g.clearance, ...changes },
    foamWith({ thickness: g.thickness, standsFor: g.standsFor }),
    shell,
  );
const runs = { numRuns: 8 };

describe('a fit measured on the shell', () => {
  it('comes out at the inside girth that was wanted, within 0.1 mm', () => {
    fc.assert(
      fc.property(given, (g) => {
        const fit = fitOf(g);
        const wanted = g.head + 2 * Math.PI * (defaultDecisions.fit.padding + g.clearance);
        expect(Math.abs(fit.insideGirth! - wanted)).toBeLessThan(0.1);
        expect(fit.shell!.insideBrow.tautGirth).toBe(fit.insideGirth);
      }),
      runs,
    );
  });

  it('is the same twice, and the same scale when typed back as a percentage', () => {
    fc.assert(
      fc.property(given, (g) => {
        const fit = fitOf(g);
        expect(fitOf(g)).toEqual(fit);
        const typed = fitOf(g, { how: 'percent', percent: fit.scale });
        expect(typed.insideGirth).toBe(fit.insideGirth);
        expect(typed.shell!.surfaces).toEqual(fit.shell!.surfaces);
      }),
      { numRuns: 6 },
    );
  });

  it('without thickness: a pattern drawn k times as large takes a scale of 1/k', () => {
    fc.assert(
      fc.property(given, length(0.5, 2), (g, k) => {
        const thin = { ...g, thickness: 0 };
        const { shell } = g.member;
        const larger = { ...shell, vertices: shell.vertices.map((p) => point3(k * p.x, k * p.y, k * p.z)) };
        const brow = { at: fitOf(thin).shell!.brow.at, tilt: 0 };
        const a = fitOf(thin, { brow });
        const b = fitOf(thin, { brow }, larger);
        expect(b.scale * k).toBeCloseTo(a.scale, 5);
      }),
      { numRuns: 6 },
    );
  });

  it('a larger head or thicker foam inside the paper never gives a smaller scale', () => {
    fc.assert(
      fc.property(given, length(1, 6), (g, more) => {
        const brow = { at: fitOf(g).shell!.brow.at, tilt: 0 };
        const scale = fitOf(g, { brow }).scale;
        expect(fitOf({ ...g, head: g.head + more }, { brow }).scale).toBeGreaterThan(scale);
        expect(fitOf({ ...g, thickness: g.thickness + more }, { brow }).scale).toBeGreaterThan(scale - 1e-5);
      }),
      { numRuns: 6 },
    );
  });

  it('symmetric in, symmetric out: surfaces, headform, clearances', () => {
    fc.assert(
      fc.property(given, fc.boolean(), (g, three) => {
        const { symmetry } = g.member.shell;
        if (!symmetry) return;
        const fit = fitOf(
          g,
          three ? { how: 'measures', measures: { length: 200, breadth: 156, height: 105 } } : {},
        );
        for (const surface of [fit.shell!.surfaces.inside, fit.shell!.surfaces.outside])
          for (const [v, w] of symmetry.pairs) {
            const [p, q] = [surface[v]!, surface[w]!];
            expect(Math.abs(p.x + q.x) + Math.abs(p.y - q.y) + Math.abs(p.z - q.z)).toBeLessThan(1e-7);
          }
        const { clearances } = fit.shell!;
        expect(clearances!.left).toBeCloseTo(clearances!.right, 6);
        for (const [v, w] of symmetry.pairs)
          expect(clearances!.ofVertex[v]).toBeCloseTo(clearances!.ofVertex[w]!, 6);
      }),
      { numRuns: 8 },
    );
  });

  it('three scales: what was asked comes out within 0.1 mm, ids stay, nothing overlaps', () => {
    fc.assert(
      fc.property(
        given,
        fc.constantFrom(
          { length: 196, breadth: 152, height: 104 },
          { length: 204, breadth: null, height: 110 },
          { length: null, breadth: 158, height: null },
          { length: null, breadth: null, height: 100 },
        ),
        (g, measures) => {
          const fit = fitOf(g, { how: 'measures', measures });
          const ease = defaultDecisions.fit.padding + g.clearance;
          const { insideBrow } = fit.shell!;
          const step = (label: string) => fit.steps.find((s) => s.label === label)?.value;
          if (measures.length !== null)
            expect(Math.abs(insideBrow.length - measures.length - 2 * ease)).toBeLessThan(0.1);
          if (measures.breadth !== null)
            expect(Math.abs(insideBrow.breadth - measures.breadth - 2 * ease)).toBeLessThan(0.1);
          if (measures.length === null || measures.breadth === null)
            expect(Math.abs(insideBrow.tautGirth - g.head - 2 * Math.PI * ease)).toBeLessThan(0.1);
          expect(Math.abs(step('Inside height')! - step('Inside height wanted')!)).toBeLessThan(0.1);
          expect(fit.reshaped!.pieces.map((p) => p.id)).toEqual(g.member.pattern.pieces.map((p) => p.id));
          const codes = fit.issues.map((i) => i.code);
          expect(codes).not.toContain('piece-overlaps-itself');
          expect(codes).not.toContain('measures-not-met');
        },
      ),
      { numRuns: 10 },
    );
  });
});
