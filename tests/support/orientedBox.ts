import type { Point } from '../../src/math';
import type { Lettering } from '../../src/model';

/** The rectangle round a lettering's ink in its own direction, as four corners. */
export function inkRectangle(letter: Lettering): Point[] {
  const c = Math.cos(letter.angle);
  const s = Math.sin(letter.angle);
  const local = letter.rings.flat().map((p) => ({ x: p.x * c + p.y * s, y: p.y * c - p.x * s }));
  const minX = Math.min(...local.map((p) => p.x));
  const maxX = Math.max(...local.map((p) => p.x));
  const minY = Math.min(...local.map((p) => p.y));
  const maxY = Math.max(...local.map((p) => p.y));
  return [
    { x: minX, y: minY },
    { x: maxX, y: minY },
    { x: maxX, y: maxY },
    { x: minX, y: maxY },
  ].map((p) => ({ x: p.x * c - p.y * s, y: p.x * s + p.y * c }));
}

/** Whether two convex rings share inner points (separating axes of both). */
export function convexOverlap(p: readonly Point[], q: readonly Point[]): boolean {
  for (const ring of [p, q]) {
    for (const [i, a] of ring.entries()) {
      const b = ring[(i + 1) % ring.length]!;
      const axis = { x: a.y - b.y, y: b.x - a.x };
      const along = (r: readonly Point[]) => r.map((k) => k.x * axis.x + k.y * axis.y);
      const [ap, aq] = [along(p), along(q)];
      if (Math.max(...ap) <= Math.min(...aq) || Math.max(...aq) <= Math.min(...ap)) return false;
    }
  }
  return true;
}

/** Whether two segments share a point. */
export function segmentsMeet(a: Point, b: Point, c: Point, d: Point): boolean {
  const side = (p: Point, q: Point, r: Point) => (q.x - p.x) * (r.y - p.y) - (q.y - p.y) * (r.x - p.x);
  return side(a, b, c) * side(a, b, d) <= 0 && side(c, d, a) * side(c, d, b) <= 0;
}

/** Whether a segment meets a convex ring, rim or inside. */
export function segmentMeetsConvex(a: Point, b: Point, ring: readonly Point[]): boolean {
  return ring.some((p, i) => segmentsMeet(a, b, p, ring[(i + 1) % ring.length]!)) || inRing(a, ring);
}

/** Even-odd test. */
export function inRing(p: Point, ring: readonly Point[]): boolean {
  let odd = false;
  for (const [i, a] of ring.entries()) {
    const b = ring[(i + 1) % ring.length]!;
    if (a.y > p.y !== b.y > p.y && p.x < a.x + ((p.y - a.y) / (b.y - a.y)) * (b.x - a.x)) odd = !odd;
  }
  return odd;
}

/** Segments of a line. */
export function segmentsOf(points: readonly Point[], closed: boolean): [Point, Point][] {
  const whole = closed && points[0] ? [...points, points[0]] : points;
  return whole.slice(1).map((b, i) => [whole[i]!, b]);
}
