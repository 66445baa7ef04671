/**
 * A line on the shell developed flat, and the ribbon along it. A strip that lies on a surface keeps the lengths of its
 * line and, at each of its corners, the angle that the surface has beside it (its geodesic curvature); that is all a
 * developed strip needs. Exact where the surface beside the line is developable.
 */
import { add, type Point, point, ringArea, rotate, scaleBy, subtract, turnLeft, unitOf } from '../math';
import { uniteRings } from '../plane';
import type { Mm, Rad } from '../units';
import { mitreLimit, shaving } from './tolerance';

/**
 * @param lengths of the stretches in order
 * @param turns to the left between each and the next: one less than the lengths
 * @returns the line from the origin, its first stretch along +x
 */
export function flatCourse(lengths: readonly Mm[], turns: readonly Rad[]): Point[] {
  const line = [point(0, 0)];
  let angle = 0;
  lengths.forEach((length, i) => {
    line.push(add(line[i]!, rotate(point(length, 0), angle)));
    angle += turns[i] ?? 0;
  });
  return line;
}

/** The line moved to its left by a distance (negative: right), corners on the mitre of both stretches. */
export function besideCourse(line: readonly Point[], away: Mm): Point[] {
  return line.map((p, i) => {
    const before = i > 0 ? turnLeft(unitOf(subtract(p, line[i - 1]!))) : null;
    const after = i + 1 < line.length ? turnLeft(unitOf(subtract(line[i + 1]!, p))) : null;
    if (!before || !after) return add(p, scaleBy((before ?? after)!, away));
    const sum = add(before, after);
    // |sum|² = 2 + 2 cos: the mitre is sum · 2 / |sum|².
    const square = Math.max(sum.x * sum.x + sum.y * sum.y, (2 / mitreLimit) ** 2);
    return add(p, scaleBy(sum, (2 * away) / square));
  });
}

/** The outline of a ribbon that reaches `left` and `right` (both ≥ 0) of a line; several rings where it meets itself. */
export function ribbon(line: readonly Point[], left: Mm, right: Mm): Point[][] {
  const ring = [...besideCourse(line, -right), ...besideCourse(line, left).reverse()];
  return uniteRings([ring]).filter((r) => Math.abs(ringArea(r)) > shaving);
}
