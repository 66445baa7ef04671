/**
 * Whether regions keep their distance, told from their true outlines alone: side by side with exact signs, without
 * anything that the search used.
 */
import { orient2d } from 'robust-predicates';
import { type Box, boxOf, type Point } from '../math';
import type { Mm } from '../units';

export type Rings = readonly (readonly Point[])[];

/** Whether a side of one crosses a side of the other, or one lies within the material of the other. */
export function regionsMeet(a: Rings, b: Rings): boolean {
  const boxA = boxOf(a.flat());
  const boxB = boxOf(b.flat());
  if (boxA.maxX < boxB.minX || boxB.maxX < boxA.minX || boxA.maxY < boxB.minY || boxB.maxY < boxA.minY)
    return false;
  const near = sidesIn(a, boxB);
  const far = near.length > 0 ? sidesIn(b, boxA) : [];
  for (const [p, q] of near) for (const [r, s] of far) if (sidesCross(p, q, r, s)) return true;
  return insideRings(b, a[0]![0]!) || insideRings(a, b[0]![0]!);
}

/** Whether all of `inner` lies within the material of `outer`. */
export function regionWithin(inner: Rings, outer: Rings): boolean {
  const rim = sidesIn(outer, everywhere);
  for (const [p, q] of sidesIn(inner, everywhere))
    for (const [r, s] of rim) if (sidesCross(p, q, r, s)) return false;
  return insideRings(outer, inner[0]![0]!);
}

/** The least distance between a side of one and a side of the other; `most` when it is larger than that. */
export function rimDistance(a: Rings, b: Rings, most: Mm): Mm {
  let least = most;
  const boxA = boxOf(a.flat());
  const boxB = boxOf(b.flat());
  const far = sidesIn(b, wider(boxA, most));
  if (far.length === 0) return least;
  for (const [p, q] of sidesIn(a, wider(boxB, most))) {
    const [lowX, highX] = [Math.min(p.x, q.x) - least, Math.max(p.x, q.x) + least];
    const [lowY, highY] = [Math.min(p.y, q.y) - least, Math.max(p.y, q.y) + least];
    for (const [r, s] of far) {
      if (Math.max(r.x, s.x) < lowX || Math.min(r.x, s.x) > highX) continue;
      if (Math.max(r.y, s.y) < lowY || Math.min(r.y, s.y) > highY) continue;
      const d = Math.min(toSide(p, r, s), toSide(q, r, s), toSide(r, p, q), toSide(s, p, q));
      if (d < least) least = d;
    }
  }
  return least;
}

type Side = readonly [Point, Point];

const everywhere: Box = {
  minX: Number.NEGATIVE_INFINITY,
  minY: Number.NEGATIVE_INFINITY,
  maxX: Number.POSITIVE_INFINITY,
  maxY: Number.POSITIVE_INFINITY,
};

const wider = (box: Box, by: Mm): Box => ({
  minX: box.minX - by,
  minY: box.minY - by,
  maxX: box.maxX + by,
  maxY: box.maxY + by,
});

/** The sides whose boxes reach into a box. */
function sidesIn(rings: Rings, box: Box): Side[] {
  const found: Side[] = [];
  for (const ring of rings) {
    let p = ring[ring.length - 1]!;
    for (const q of ring) {
      const outX = Math.max(p.x, q.x) < box.minX || Math.min(p.x, q.x) > box.maxX;
      if (!outX && Math.max(p.y, q.y) >= box.minY && Math.min(p.y, q.y) <= box.maxY) found.push([p, q]);
      p = q;
    }
  }
  return found;
}

function sidesCross(p: Point, q: Point, r: Point, s: Point): boolean {
  if (Math.max(p.x, q.x) < Math.min(r.x, s.x) || Math.max(r.x, s.x) < Math.min(p.x, q.x)) return false;
  if (Math.max(p.y, q.y) < Math.min(r.y, s.y) || Math.max(r.y, s.y) < Math.min(p.y, q.y)) return false;
  const sign = (a: Point, b: Point, c: Point) => Math.sign(orient2d(a.x, a.y, b.x, b.y, c.x, c.y));
  return sign(p, q, r) * sign(p, q, s) <= 0 && sign(r, s, p) * sign(r, s, q) <= 0;
}

/** Even-odd. */
function insideRings(rings: Rings, p: Point): boolean {
  let inside = false;
  for (const [a, b] of sidesIn(rings, everywhere)) {
    if (a.y > p.y === b.y > p.y) continue;
    const turn = orient2d(a.x, a.y, b.x, b.y, p.x, p.y);
    if (b.y > a.y ? turn < 0 : turn > 0) inside = !inside;
  }
  return inside;
}

function toSide(p: Point, a: Point, b: Point): Mm {
  const [dx, dy] = [b.x - a.x, b.y - a.y];
  const t = Math.min(1, Math.max(0, ((p.x - a.x) * dx + (p.y - a.y) * dy) / (dx * dx + dy * dy || 1)));
  return Math.hypot(p.x - a.x - t * dx, p.y - a.y - t * dy);
}
