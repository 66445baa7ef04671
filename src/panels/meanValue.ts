/**
 * A point of the plane as a weighted mean of the corners of a ring: mean value coordinates (Floater 2003). They are
 * exact for every affine map of the ring, linear along its sides, and need no convex ring.
 */
import { cross, distance, dot, type Point, subtract } from '../math';
import { sameCorner } from './tolerance';

/** Weights of the ring's corners, summing to 1. A point off the ring is taken as it is, not moved onto it. */
export function weightsIn(ring: readonly Point[], p: Point): number[] {
  const n = ring.length;
  const unit = (i: number, j = i, t = 0) => ring.map((_, k) => (k === i ? 1 - t : 0) + (k === j ? t : 0));
  const at = ring.findIndex((q) => distance(p, q) <= sameCorner);
  if (at >= 0) return unit(at);
  for (let i = 0; i < n; i++) {
    const j = (i + 1) % n;
    const side = subtract(ring[j]!, ring[i]!);
    const size = dot(side, side);
    if (size === 0) continue;
    const t = dot(subtract(p, ring[i]!), side) / size;
    const off = Math.abs(cross(side, subtract(p, ring[i]!))) / Math.sqrt(size);
    if (off <= sameCorner && t > 0 && t < 1) return unit(i, j, t);
  }
  const spokes = ring.map((q) => subtract(q, p));
  const lengths = spokes.map((s) => Math.hypot(s.x, s.y));
  /** Tangent of half the angle that side i is seen under. */
  const half = spokes.map((s, i) => {
    const t = spokes[(i + 1) % n]!;
    const product = lengths[i]! * lengths[(i + 1) % n]!;
    const sine = cross(s, t);
    return sine === 0 ? 0 : (product - dot(s, t)) / sine;
  });
  const raw = lengths.map((length, i) => (half[(i + n - 1) % n]! + half[i]!) / length);
  const sum = raw.reduce((a, b) => a + b, 0);
  return raw.map((w) => w / sum);
}

/** The same weighted mean of the corners of another ring. */
export function carriedBy(from: readonly Point[], to: readonly Point[], p: Point): Point {
  let [x, y] = [0, 0];
  weightsIn(from, p).forEach((w, i) => {
    x += w * to[i]!.x;
    y += w * to[i]!.y;
  });
  return { x, y };
}
