import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Point } from '../../src/math';
import { cubicAt, cubicStretches, flattenCubic } from '../../src/plane';

const at = fc.record({
  x: fc.double({ min: -300, max: 300, noNaN: true }),
  y: fc.double({ min: -300, max: 300, noNaN: true }),
});

function distanceToPolyline(p: Point, corners: readonly Point[]): number {
  let best = Number.POSITIVE_INFINITY;
  for (let i = 1; i < corners.length; i++) {
    const [a, b] = [corners[i - 1]!, corners[i]!];
    const [dx, dy] = [b.x - a.x, b.y - a.y];
    const square = dx * dx + dy * dy;
    const t = square === 0 ? 0 : Math.max(0, Math.min(1, ((p.x - a.x) * dx + (p.y - a.y) * dy) / square));
    best = Math.min(best, Math.hypot(p.x - a.x - t * dx, p.y - a.y - t * dy));
  }
  return best;
}

describe('cubics as straight stretches', () => {
  it('keeps every point of the curve within the tolerance', () => {
    fc.assert(
      fc.property(at, at, at, at, fc.constantFrom(0.01, 0.05, 1), (p0, c1, c2, p3, tolerance) => {
        const corners = [p0];
        flattenCubic(p0, c1, c2, p3, tolerance, corners);
        expect(corners.at(-1)).toEqual(p3);
        for (let i = 0; i <= 40; i++) {
          const t = (i * 0.99 + 0.2) / 40;
          expect(distanceToPolyline(cubicAt(p0, c1, c2, p3, t), corners)).toBeLessThanOrEqual(
            tolerance + 1e-9,
          );
        }
      }),
      { numRuns: 60 },
    );
  });

  it('gives the same corners backwards', () => {
    fc.assert(
      fc.property(at, at, at, at, (p0, c1, c2, p3) => {
        const there = [p0];
        flattenCubic(p0, c1, c2, p3, 0.05, there);
        const back = [p3];
        flattenCubic(p3, c2, c1, p0, 0.05, back);
        expect(back.length).toBe(there.length);
        back.reverse().forEach((p, i) => {
          expect(Math.hypot(p.x - there[i]!.x, p.y - there[i]!.y)).toBeLessThan(1e-9);
        });
      }),
      { numRuns: 60 },
    );
  });

  it('takes one stretch for a straight curve, and few for a quarter circle', () => {
    const out: Point[] = [];
    flattenCubic({ x: 0, y: 0 }, { x: 1, y: 1 }, { x: 2, y: 2 }, { x: 3, y: 3 }, 0.01, out);
    expect(out).toEqual([{ x: 3, y: 3 }]);
    const k = 0.5522847498;
    const quarter = [
      { x: 50, y: 0 },
      { x: 50, y: 50 * k },
      { x: 50 * k, y: 50 },
      { x: 0, y: 50 },
    ] as const;
    // The fewest chords of an arc with this sagitta: r(1 − cos(π/4n)) = 0.05 gives n = 18; equal parts need no more
    // than a fifth over that.
    const parts = cubicStretches(...quarter, 0.05);
    expect(parts).toBeGreaterThanOrEqual(18);
    expect(parts).toBeLessThanOrEqual(23);
  });

  it('refuses a tolerance that is not above zero', () => {
    const p = { x: 0, y: 0 };
    expect(() => flattenCubic(p, p, p, p, 0, [])).toThrow(/above 0/);
    expect(() => flattenCubic(p, p, p, p, Number.NaN, [])).toThrow(/above 0/);
  });
});
