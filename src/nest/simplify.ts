/**
 * Simplifies an outline outwards: the result contains the original, so that what does not overlap when simplified
 * does not overlap in truth. Two moves, the one that reaches out least first: a dent is filled (a concave vertex goes),
 * or a short convex edge goes and its neighbours are made longer until they meet. Holes are given reversed, as rings
 * whose material lies outside, and then shrink.
 */
import type { Point } from '../math';
import type { Mm } from '../units';

interface Move {
  readonly at: number;
  readonly kind: 'dent' | 'edge';
  readonly reach: Mm;
  readonly tip: Point | null;
}

const cross = (a: Point, b: Point, c: Point) => (b.x - a.x) * (c.y - a.y) - (b.y - a.y) * (c.x - a.x);
const gap = (a: Point, b: Point) => Math.hypot(a.x - b.x, a.y - b.y);

/**
 * @param ring material to the left of every edge (outline counter-clockwise, hole clockwise)
 * @param freely moves up to this reach are always made, mm
 * @param most no move reaches further, mm
 * @param enough moves beyond `freely` stop when so few vertices are left
 */
export function simplifyOutwards(ring: readonly Point[], freely: Mm, most: Mm, enough: number): Point[] {
  const points = [...ring];
  while (points.length > 3) {
    const move = leastMove(points, points.length > enough ? most : freely);
    if (!move) break;
    const n = points.length;
    if (move.kind === 'dent') points.splice(move.at, 1);
    else {
      points[move.at] = move.tip!;
      points.splice((move.at + 1) % n, 1);
    }
  }
  return points;
}

function leastMove(points: readonly Point[], most: Mm): Move | null {
  const n = points.length;
  let best: Move | null = null;
  for (let i = 0; i < n; i++) {
    const p = points[(i + n - 1) % n]!;
    const a = points[i]!;
    const b = points[(i + 1) % n]!;
    const q = points[(i + 2) % n]!;
    if (cross(p, a, b) <= 0) {
      const reach = -cross(p, a, b) / Math.max(gap(p, b), 1e-12);
      if (reach <= most && (!best || reach < best.reach) && isClear(points, p, a, b))
        best = { at: i, kind: 'dent', reach, tip: null };
    } else if (cross(a, b, q) > 0) {
      const tip = meet(p, a, b, q);
      if (!tip) continue;
      const reach = -cross(a, b, tip) / Math.max(gap(a, b), 1e-12);
      if (reach <= most && (!best || reach < best.reach) && isClear(points, a, tip, b))
        best = { at: i, kind: 'edge', reach, tip };
    }
  }
  return best;
}

/** Where p→a and q→b, made longer, meet; null when they part. */
function meet(p: Point, a: Point, b: Point, q: Point): Point | null {
  const [ux, uy, vx, vy] = [a.x - p.x, a.y - p.y, b.x - q.x, b.y - q.y];
  const det = ux * vy - uy * vx;
  if (det >= -1e-9 * Math.hypot(ux, uy) * Math.hypot(vx, vy)) return null;
  const s = ((b.x - a.x) * vy - (b.y - a.y) * vx) / det;
  return s < 0 ? null : { x: a.x + s * ux, y: a.y + s * uy };
}

/** No other vertex lies in the triangle that is added, so that the outline does not come to cross itself. */
function isClear(points: readonly Point[], a: Point, tip: Point, b: Point): boolean {
  const turn = cross(a, tip, b);
  for (const p of points) {
    if (p === a || p === tip || p === b) continue;
    const [s, t, u] = [cross(a, tip, p), cross(tip, b, p), cross(b, a, p)];
    if (turn >= 0 ? s >= 0 && t >= 0 && u >= 0 : s <= 0 && t <= 0 && u <= 0) return false;
  }
  return true;
}
