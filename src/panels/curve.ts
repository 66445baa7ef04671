/** A smooth curve through points: centripetal Catmull-Rom, by repeated interpolation (Barry and Goldman 1988). */
import { distance, lerp, type Point } from '../math';
import { curvePoints } from './tolerance';

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
