import { boxOf, distance, type Point } from '../../../src/math';
import { segmentDistance } from './unfold';

/** True when the point lies inside the ring (even-odd crossings). */
function isInside(p: Point, ring: readonly Point[]): boolean {
  let inside = false;
  for (let i = 0, j = ring.length - 1; i < ring.length; j = i++) {
    const a = ring[i]!;
    const b = ring[j]!;
    if (a.y > p.y !== b.y > p.y && p.x < ((b.x - a.x) * (p.y - a.y)) / (b.y - a.y) + a.x) inside = !inside;
  }
  return inside;
}

/** A point of the polygon far from its sides, on a 32 × 32 grid refined once. */
export function heartOf(ring: readonly Point[]): Point {
  const box = boxOf(ring);
  const depth = (p: Point) => {
    if (!isInside(p, ring)) return -1;
    return Math.min(...ring.map((a, i) => segmentDistance(p, a, ring[(i + 1) % ring.length]!)));
  };
  let best: Point = ring[0]!;
  let bestDepth = -1;
  const scan = (minX: number, minY: number, stepX: number, stepY: number, n: number) => {
    for (let i = 0; i <= n; i++)
      for (let j = 0; j <= n; j++) {
        const p = { x: minX + i * stepX, y: minY + j * stepY };
        const d = depth(p);
        if (d > bestDepth) {
          bestDepth = d;
          best = p;
        }
      }
  };
  const stepX = (box.maxX - box.minX) / 32;
  const stepY = (box.maxY - box.minY) / 32;
  scan(box.minX, box.minY, stepX, stepY, 32);
  scan(best.x - stepX, best.y - stepY, stepX / 5, stepY / 5, 10);
  if (bestDepth < 0)
    throw new Error(
      `No inside point in a ring of ${ring.length} corners near ${distance(best, { x: 0, y: 0 })}`,
    );
  return best;
}
