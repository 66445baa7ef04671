/** Stretches of the drawn line of an edge or fold. */
import { distance, nearestAlong, type Point, point } from '../math';
import type { Mm } from '../units';

/** Places along a line nearer than this are one, mm: rounding. */
const samePlace: Mm = 1e-6;

/** Stretches of a line in their order along it. */
export function orderAlong<T extends { readonly from: Point; readonly to: Point }>(
  line: readonly Point[],
  stretches: readonly T[],
): T[] {
  const middle = ({ from, to }: T) => nearestAlong(line, point((from.x + to.x) / 2, (from.y + to.y) / 2));
  return stretches
    .map((stretch) => ({ stretch, at: middle(stretch) }))
    .sort((p, q) => p.at - q.at)
    .map(({ stretch }) => stretch);
}

/** The points of a line strictly between two places on it. */
export function drawnPart(line: readonly Point[], from: Point, to: Point): Point[] {
  const length = line.reduce((sum, p, i) => (i === 0 ? 0 : sum + distance(line[i - 1]!, p)), 0);
  const low = nearestAlong(line, from);
  const end = nearestAlong(line, to);
  // A closed line comes back to its start.
  const high = end <= low + samePlace ? length : end;
  const begin = low >= length - samePlace ? 0 : low;
  const found: Point[] = [];
  let along = 0;
  for (let i = 1; i < line.length; i++) {
    along += distance(line[i - 1]!, line[i]!);
    if (along > begin + samePlace && along < high - samePlace) found.push(line[i]!);
  }
  return found;
}
