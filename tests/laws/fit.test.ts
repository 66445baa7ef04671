import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { fitPattern, tapeLength } from '../../src/fit';
import { distance, type Point, point } from '../../src/math';
import { defaultDecisions, type FitDecisions } from '../../src/model';
import { offsetRings } from '../../src/plane';
import { foamWith, patternOf, stripPiece } from '../foam/strips';
import { starRing } from '../plane/edgeShiftOracle';

const pattern = patternOf([stripPiece('p', [100, 200], 50)]);
const length = (min: number, max: number) => fc.double({ min, max, noNaN: true });
const given = fc.record({
  head: length(450, 650),
  padding: length(0, 20),
  clearance: length(0, 20),
  girth: length(300, 900),
  thickness: length(0, 12),
  standsFor: fc.constantFrom('outside', 'middle', 'inside'),
});
type Given = typeof given extends fc.Arbitrary<infer T> ? T : never;

const fitOf = (g: Given, changes: Partial<FitDecisions> = {}) =>
  fitPattern(
    pattern,
    {
      ...defaultDecisions.fit,
      head: g.head,
      padding: g.padding,
      clearance: g.clearance,
      girth: { kind: 'typed', length: g.girth },
      ...changes,
    },
    foamWith({ thickness: g.thickness, standsFor: g.standsFor }),
  );

describe('fit', () => {
  it('comes out at the inside girth that was wanted', () => {
    fc.assert(
      fc.property(given, (g) => {
        const fit = fitOf(g);
        expect(fit.insideGirth).toBeCloseTo(g.head + 2 * Math.PI * (g.padding + g.clearance), 9);
        expect(fit.outsideGirth! - fit.insideGirth!).toBeCloseTo(2 * Math.PI * g.thickness, 9);
      }),
    );
  });

  it('is the same scale when typed back as a percentage', () => {
    fc.assert(
      fc.property(given, (g) => {
        const fit = fitOf(g);
        const again = fitOf(g, { how: 'percent', percent: fit.scale });
        expect(again.insideGirth).toBeCloseTo(fit.insideGirth!, 9);
      }),
    );
  });

  it('a larger head, more padding or thicker foam inside the paper never gives a smaller scale', () => {
    fc.assert(
      fc.property(given, length(0, 10), (g, more) => {
        const scale = fitOf(g).scale;
        expect(fitOf({ ...g, head: g.head + more }).scale).toBeGreaterThanOrEqual(scale);
        expect(fitOf({ ...g, padding: g.padding + more }).scale).toBeGreaterThanOrEqual(scale);
        expect(fitOf({ ...g, thickness: g.thickness + more }).scale).toBeGreaterThanOrEqual(scale);
      }),
    );
  });

  it('a tape does not care how it is cut or turned', () => {
    fc.assert(
      fc.property(length(1, 500), length(0, 6), length(0, 1), (size, angle, part) => {
        const at = (t: number): Point => point(size * t * Math.cos(angle), size * t * Math.sin(angle));
        expect(
          tapeLength(pattern, [
            [at(0), at(part)],
            [at(1), at(part)],
          ]),
        ).toBeCloseTo(size, 9);
      }),
    );
  });

  // Steiner's formula for a convex section: the curve at distance d outside it is longer by 2πd. Here the foam's outside
  // is the polygon library's rounded offset, and the inside girth must come out as the section's own.
  it('finds the girth of a convex section again from the girth of its rounded offset', () => {
    const section = fc
      .array(length(0, 0.9), { minLength: 3, maxLength: 24 })
      .chain((wobbles) => length(0.5, 1).map((flat) => ({ wobbles, flat })))
      .map(({ wobbles, flat }) =>
        starRing(
          wobbles.map(() => 90),
          wobbles,
        ).map((p) => point(p.x, p.y * flat)),
      );
    fc.assert(
      fc.property(section, length(1, 12), (ring, d) => {
        const girth = (r: readonly Point[]) =>
          r.reduce((n, p, k) => n + distance(p, r[(k + 1) % r.length]!), 0);
        const outer = offsetRings([ring], d, { kind: 'round', sagitta: 0.001 });
        const fit = fitPattern(
          pattern,
          {
            ...defaultDecisions.fit,
            how: 'percent',
            percent: 1,
            girth: { kind: 'typed', length: girth(outer[0]!) },
          },
          foamWith({ thickness: d, standsFor: 'outside' }),
        );
        expect(fit.insideGirth).toBeCloseTo(girth(ring), 1);
      }),
    );
  });
});
