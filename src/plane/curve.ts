/** A smooth curve through points: centripetal Catmull-Rom, by repeated interpolation (Barry and Goldman 1988). */
import { distance, lerp, type Point } from '../math';

/** Straight stretches that stand for one span of a curve: a turn of 15° on 30 mm is met within 0.02 mm. */
const curvePoints = 8;

/** The curve as a polyline through all of the points; beyond its ends it goes on as it comes. */
export function curveThrough(points: readonly Point[]): Point[] {
  if (points.length < 3) return [...points];
  const all = [lerp(points[0]!, points[1]!, -1), ...points, lerp(points.at(-1)!, points.at(-2)!, -1)];
  return points.slice(1).reduce<Point[]>(
    (line, _, i) => {
      line.push(...curveSpan(all[i]!, all[i + 1]!, all[i + 2]!, all[i + 3]!).slice(1));
      return line;
    },
    [points[0]!],
  );
}

/** The curve through all of the points and back to the first, as a ring without its first point repeated. */
export function closedCurve(points: readonly Point[]): Point[] {
  const n = points.length;
  if (n < 3) return [...points];
  const at = (i: number) => points[(i + n) % n]!;
  return points.flatMap((_, i) => curveSpan(at(i - 1), at(i), at(i + 1), at(i + 2)).slice(0, -1));
}

/** One span, from b to c. */
export function curveSpan(a: Point, b: Point, c: Point, d: Point): Point[] {
  const t1 = Math.sqrt(distance(a, b));
  const t2 = t1 + Math.sqrt(distance(b, c));
  const t3 = t2 + Math.sqrt(distance(c, d));
  const at = (p: Point, q: Point, from: number, to: number, t: number) =>
    lerp(p, q, (t - from) / (to - from));
  return Array.from({ length: curvePoints + 1 }, (_, k) => {
    if (k === 0) return b;
    if (k === curvePoints) return c;
    const t = t1 + ((t2 - t1) * k) / curvePoints;
    const ab = at(a, b, 0, t1, t);
    const bc = at(b, c, t1, t2, t);
    const cd = at(c, d, t2, t3, t);
    return at(at(ab, bc, 0, t2, t), at(bc, cd, t1, t3, t), t1, t2, t);
  });
}
