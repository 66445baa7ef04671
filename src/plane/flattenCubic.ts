/**
 * Cubic Bézier curves turned into straight stretches. Any plane, any axes; lengths in mm.
 *
 * Contract: every point of the curve lies within `tolerance` of the polyline, whose corners lie on the curve; both
 * ends are exact. The number of stretches depends on the control points and the tolerance alone, so the same curve
 * always gives the same corners, and the reversed curve the same corners in reverse (up to rounding).
 * Source: the bound of Wang (1984) on the distance between a Bézier curve of degree n and its chords,
 * n(n − 1)/8 · max |second difference of the control points| / (number of equal parts)².
 */
import { GirthwiseError } from '../base';
import type { Point } from '../math';
import type { Mm } from '../units';

/**
 * Most stretches one curve is cut into. A curve 10 m across at 0.001 mm needs about 3,000; beyond this bound
 * the tolerance is not a sensible one, and the memory of the program is at stake.
 */
const mostStretches = 100_000;

/**
 * Number of equal parts of the parameter that keeps a cubic within `tolerance` (mm) of its chords.
 * @throws GirthwiseError when the tolerance is not a positive number.
 */
export function cubicStretches(p0: Point, c1: Point, c2: Point, p3: Point, tolerance: Mm): number {
  if (!(tolerance > 0))
    throw new GirthwiseError('bad-tolerance', `A tolerance must be above 0 mm, not ${tolerance}`);
  const first = Math.hypot(p0.x - 2 * c1.x + c2.x, p0.y - 2 * c1.y + c2.y);
  const second = Math.hypot(c1.x - 2 * c2.x + p3.x, c1.y - 2 * c2.y + p3.y);
  const parts = Math.ceil(Math.sqrt((0.75 * Math.max(first, second)) / tolerance));
  return Math.min(Math.max(1, parts), mostStretches);
}

/**
 * Appends the corners of a cubic after its start, its end `p3` last, to `out`. The start itself is not appended, so
 * that stretches of a longer line can be appended one after the other.
 * @throws GirthwiseError when the tolerance is not a positive number.
 */
export function flattenCubic(p0: Point, c1: Point, c2: Point, p3: Point, tolerance: Mm, out: Point[]): void {
  const parts = cubicStretches(p0, c1, c2, p3, tolerance);
  for (let i = 1; i < parts; i++) out.push(cubicAt(p0, c1, c2, p3, i / parts));
  out.push(p3);
}

/** The point of a cubic at parameter t, 0 at `p0` and 1 at `p3` (Bernstein form). */
export function cubicAt(p0: Point, c1: Point, c2: Point, p3: Point, t: number): Point {
  const s = 1 - t;
  const b0 = s * s * s;
  const b1 = 3 * s * s * t;
  const b2 = 3 * s * t * t;
  const b3 = t * t * t;
  return {
    x: b0 * p0.x + b1 * c1.x + b2 * c2.x + b3 * p3.x,
    y: b0 * p0.y + b1 * c1.y + b2 * c2.y + b3 * p3.y,
  };
}
