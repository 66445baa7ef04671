/** Places along the drawn line of an edge or fold, and how they go when its ends go elsewhere. */
import { distance, type Point, point } from '../math';
import type { Mm } from '../units';

/** Places along a line nearer than this are one, mm: rounding. */
const samePlace: Mm = 1e-6;

/** How far along a line the place nearest to a point lies. */
export function placeAlong(line: readonly Point[], p: Point): Mm {
  let best = 0;
  let nearest = Number.POSITIVE_INFINITY;
  let along = 0;
  for (let i = 1; i < line.length; i++) {
    const a = line[i - 1]!;
    const b = line[i]!;
    const length = distance(a, b);
    const t =
      length === 0
        ? 0
        : Math.min(1, Math.max(0, ((p.x - a.x) * (b.x - a.x) + (p.y - a.y) * (b.y - a.y)) / length ** 2));
    const off = Math.hypot(p.x - a.x - t * (b.x - a.x), p.y - a.y - t * (b.y - a.y));
    if (off < nearest) {
      nearest = off;
      best = along + t * length;
    }
    along += length;
  }
  return best;
}

/** Stretches of a line in their order along it. */
export function orderAlong<T extends { readonly from: Point; readonly to: Point }>(
  line: readonly Point[],
  stretches: readonly T[],
): T[] {
  const middle = ({ from, to }: T) => placeAlong(line, point((from.x + to.x) / 2, (from.y + to.y) / 2));
  return stretches
    .map((stretch) => ({ stretch, at: middle(stretch) }))
    .sort((p, q) => p.at - q.at)
    .map(({ stretch }) => stretch);
}

/** The points of a line strictly between two places on it. */
export function drawnPart(line: readonly Point[], from: Point, to: Point): Point[] {
  const length = line.reduce((sum, p, i) => (i === 0 ? 0 : sum + distance(line[i - 1]!, p)), 0);
  const low = placeAlong(line, from);
  const end = placeAlong(line, to);
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

/** The similarity that takes a stretch from a to b to its new ends. */
export function mapAlong(
  p: Point,
  { a, b, newA, newB }: { readonly a: Point; readonly b: Point; readonly newA: Point; readonly newB: Point },
): Point {
  const dx = b.x - a.x;
  const dy = b.y - a.y;
  const size = dx * dx + dy * dy;
  if (size === 0) return newA;
  const t = ((p.x - a.x) * dx + (p.y - a.y) * dy) / size;
  const u = ((p.y - a.y) * dx - (p.x - a.x) * dy) / size;
  const ex = newB.x - newA.x;
  const ey = newB.y - newA.y;
  return point(newA.x + t * ex - u * ey, newA.y + t * ey + u * ex);
}
