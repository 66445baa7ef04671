import type { Mm } from '../units';
import { distance, type Point, point } from './point';

/** Part of the way from a to b, 0 to 1, where the straight line between them is nearest to p; 0 for a line of no length. */
function nearestPart(p: Point, a: Point, b: Point): number {
  const dx = b.x - a.x;
  const dy = b.y - a.y;
  const square = dx * dx + dy * dy;
  return square === 0 ? 0 : Math.min(1, Math.max(0, ((p.x - a.x) * dx + (p.y - a.y) * dy) / square));
}

/** Distance from a point to the straight line between two points, mm. */
export function distanceToSegment(p: Point, a: Point, b: Point): Mm {
  const t = nearestPart(p, a, b);
  return Math.hypot(p.x - a.x - t * (b.x - a.x), p.y - a.y - t * (b.y - a.y));
}

/** The way along an open polyline to its place nearest to a point, mm from its start. */
export function nearestAlong(line: readonly Point[], p: Point): Mm {
  let best = 0;
  let nearest = Number.POSITIVE_INFINITY;
  let along = 0;
  for (let i = 1; i < line.length; i++) {
    const a = line[i - 1]!;
    const b = line[i]!;
    const length = distance(a, b);
    const off = distanceToSegment(p, a, b);
    if (off < nearest) {
      nearest = off;
      best = along + nearestPart(p, a, b) * length;
    }
    along += length;
  }
  return best;
}

/** A straight side before and after it was moved. */
export interface MovedSide {
  readonly a: Point;
  readonly b: Point;
  readonly newA: Point;
  readonly newB: Point;
}

/** Where the similarity that takes a side to its new place takes a point; all go to `newA` from a side of no length. */
export function alongMovedSide(p: Point, { a, b, newA, newB }: MovedSide): Point {
  const dx = b.x - a.x;
  const dy = b.y - a.y;
  const square = dx * dx + dy * dy;
  if (square === 0) return newA;
  const t = ((p.x - a.x) * dx + (p.y - a.y) * dy) / square;
  const u = ((p.y - a.y) * dx - (p.x - a.x) * dy) / square;
  const ex = newB.x - newA.x;
  const ey = newB.y - newA.y;
  return point(newA.x + t * ex - u * ey, newA.y + t * ey + u * ex);
}
