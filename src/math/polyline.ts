import type { Mm, Mm2 } from '../units';
import { distance, lerp, type Point } from './point';

/** Length of an open polyline, mm. */
export function polylineLength(points: readonly Point[]): Mm {
  let sum = 0;
  for (let i = 1; i < points.length; i++) sum += distance(points[i - 1]!, points[i]!);
  return sum;
}

/** Signed area of a closed ring given without its first point repeated: positive when counter-clockwise (y up). */
export function ringArea(ring: readonly Point[]): Mm2 {
  const o = ring[0];
  if (!o) return 0;
  let twice = 0;
  for (let i = 1; i + 1 < ring.length; i++) {
    const p = ring[i]!;
    const q = ring[i + 1]!;
    twice += (p.x - o.x) * (q.y - o.y) - (p.y - o.y) * (q.x - o.x);
  }
  return twice / 2;
}

/** Where a walk along an open polyline stands after `s` mm (clamped to the ends), and in which segment. */
export function pointAlong(points: readonly Point[], s: Mm): { at: Point; segment: number; t: number } {
  let left = Math.max(0, s);
  const last = points.length - 2;
  for (let i = 0; i <= last; i++) {
    const a = points[i]!;
    const b = points[i + 1]!;
    const d = distance(a, b);
    if (left <= d || i === last) {
      const t = d === 0 ? 0 : Math.min(1, left / d);
      return { at: lerp(a, b, t), segment: i, t };
    }
    left -= d;
  }
  return { at: points[0]!, segment: 0, t: 0 };
}

/** Axis-parallel bounds. */
export interface Box {
  readonly minX: Mm;
  readonly minY: Mm;
  readonly maxX: Mm;
  readonly maxY: Mm;
}

/** Bounds of points; of none, an inside-out box (min > max). */
export function boxOf(points: Iterable<Point>): Box {
  let minX = Number.POSITIVE_INFINITY;
  let minY = Number.POSITIVE_INFINITY;
  let maxX = Number.NEGATIVE_INFINITY;
  let maxY = Number.NEGATIVE_INFINITY;
  for (const p of points) {
    if (p.x < minX) minX = p.x;
    if (p.y < minY) minY = p.y;
    if (p.x > maxX) maxX = p.x;
    if (p.y > maxY) maxY = p.y;
  }
  return { minX, minY, maxX, maxY };
}

/** Bounds of two boxes together. */
export function joinBoxes(a: Box, b: Box): Box {
  return {
    minX: Math.min(a.minX, b.minX),
    minY: Math.min(a.minY, b.minY),
    maxX: Math.max(a.maxX, b.maxX),
    maxY: Math.max(a.maxY, b.maxY),
  };
}
