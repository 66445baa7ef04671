/**
 * Splits a region (one outline, any number of holes) into convex parts: ears are cut off, then triangles are joined
 * over their common sides while the union stays convex (after Hertel and Mehlhorn, 1983). Outline counter-clockwise,
 * holes clockwise, y up. Holes are reached by bridges, which the joining step removes again where it can.
 */
import { type Point, ringArea } from '../math';

/** Convex parts, counter-clockwise, that cover the region without overlap. */
export function convexParts(outline: readonly Point[], holes: readonly (readonly Point[])[]): Point[][] {
  const points: Point[] = [...outline];
  let ring = outline.map((_, i) => i);
  const rest = holes
    .filter((h) => h.length > 2)
    .map((h) => {
      const first = points.length;
      points.push(...h);
      return h.map((_, i) => first + i);
    })
    .sort((a, b) => rightmost(points, b).x - rightmost(points, a).x);
  for (const hole of rest) ring = bridge(points, ring, hole, rest);
  const parts = joinParts(points, cutEars(points, ring));
  return parts.map((part) => part.map((i) => points[i]!)).filter((part) => ringArea(part) > 0);
}

const cross = (a: Point, b: Point, c: Point) => (b.x - a.x) * (c.y - a.y) - (b.y - a.y) * (c.x - a.x);

function rightmost(points: readonly Point[], ring: readonly number[]): Point {
  return ring.reduce((best, i) => (points[i]!.x > best.x ? points[i]! : best), points[ring[0]!]!);
}

/** Joins a hole to the ring by the shortest connection that nothing crosses. */
function bridge(
  points: readonly Point[],
  ring: readonly number[],
  hole: readonly number[],
  holes: readonly (readonly number[])[],
): number[] {
  const pairs: { from: number; to: number; length: number }[] = [];
  for (let i = 0; i < ring.length; i++)
    for (let j = 0; j < hole.length; j++) {
      const a = points[ring[i]!]!;
      const b = points[hole[j]!]!;
      pairs.push({ from: i, to: j, length: (a.x - b.x) ** 2 + (a.y - b.y) ** 2 });
    }
  pairs.sort((p, q) => p.length - q.length);
  const clear = pairs.find(({ from, to }) => {
    const a = points[ring[from]!]!;
    const b = points[hole[to]!]!;
    if (!opensTo(points, ring, from, b)) return false;
    return [ring, ...holes].every((r) => !crossesRing(points, r, a, b));
  });
  const { from, to } = clear ?? pairs[0]!;
  const round = [...hole.slice(to), ...hole.slice(0, to + 1)];
  return [...ring.slice(0, from + 1), ...round, ...ring.slice(from)];
}

/** Whether the direction from corner `i` of the ring to `b` runs into the material there. */
function opensTo(points: readonly Point[], ring: readonly number[], i: number, b: Point): boolean {
  const n = ring.length;
  const p = points[ring[(i + n - 1) % n]!]!;
  const q = points[ring[i]!]!;
  const r = points[ring[(i + 1) % n]!]!;
  return cross(p, q, r) >= 0
    ? cross(p, q, b) >= 0 && cross(q, r, b) >= 0
    : cross(p, q, b) >= 0 || cross(q, r, b) >= 0;
}

function crossesRing(points: readonly Point[], ring: readonly number[], a: Point, b: Point): boolean {
  for (let k = 0; k < ring.length; k++) {
    const c = points[ring[k]!]!;
    const d = points[ring[(k + 1) % ring.length]!]!;
    if (cross(a, b, c) * cross(a, b, d) < 0 && cross(c, d, a) * cross(c, d, b) < 0) return true;
  }
  return false;
}

function cutEars(points: readonly Point[], ring: readonly number[]): number[][] {
  const left = [...ring];
  const triangles: number[][] = [];
  while (left.length > 3) {
    let best = -1;
    let widest = Number.NEGATIVE_INFINITY;
    for (let i = 0; i < left.length; i++) {
      const n = left.length;
      const ia = left[(i + n - 1) % n]!;
      const ib = left[i]!;
      const ic = left[(i + 1) % n]!;
      const [a, b, c] = [points[ia]!, points[ib]!, points[ic]!];
      const turn = cross(a, b, c);
      if (turn < 0) continue;
      const blocked = left.some((k) => {
        const p = points[k]!;
        if (same(p, a) || same(p, b) || same(p, c)) return false;
        return cross(a, b, p) >= 0 && cross(b, c, p) >= 0 && cross(c, a, p) >= 0;
      });
      if (blocked) continue;
      // Fat ears first: they join to larger convex parts than slivers.
      const spread = turn / Math.max(1e-12, (a.x - c.x) ** 2 + (a.y - c.y) ** 2);
      if (spread > widest) {
        widest = spread;
        best = i;
      }
    }
    // No ear: only when the ring touches itself. The flattest corner goes, which loses nothing but the touch.
    if (best < 0) best = flattest(points, left);
    const n = left.length;
    triangles.push([left[(best + n - 1) % n]!, left[best]!, left[(best + 1) % n]!]);
    left.splice(best, 1);
  }
  if (left.length === 3) triangles.push(left);
  return triangles;
}

const same = (p: Point, q: Point) => p.x === q.x && p.y === q.y;

function flattest(points: readonly Point[], ring: readonly number[]): number {
  const n = ring.length;
  let best = 0;
  let least = Number.POSITIVE_INFINITY;
  for (let i = 0; i < n; i++) {
    const turn = Math.abs(
      cross(points[ring[(i + n - 1) % n]!]!, points[ring[i]!]!, points[ring[(i + 1) % n]!]!),
    );
    if (turn < least) {
      least = turn;
      best = i;
    }
  }
  return best;
}

/** Joins parts over common sides, longest side first, while both corners of the side stay convex. */
function joinParts(points: readonly Point[], triangles: readonly number[][]): number[][] {
  const parts: (number[] | null)[] = triangles.map((t) => [...t]);
  for (;;) {
    let best: { i: number; j: number; joined: number[]; length: number } | null = null;
    const owner = new Map<string, number>();
    parts.forEach((part, i) => {
      part?.forEach((v, k) => {
        owner.set(`${v}>${part[(k + 1) % part.length]}`, i);
      });
    });
    for (const [side, i] of owner) {
      const [v, w] = side.split('>').map(Number) as [number, number];
      const j = owner.get(`${w}>${v}`);
      if (j === undefined || j <= i) continue;
      const p = points[v]!;
      const q = points[w]!;
      const length = (p.x - q.x) ** 2 + (p.y - q.y) ** 2;
      if (best && length <= best.length) continue;
      const joined = joinedConvex(points, parts[i]!, parts[j]!, v, w);
      if (joined) best = { i, j, joined, length };
    }
    if (!best) return parts.filter((p) => p !== null);
    parts[best.i] = best.joined;
    parts[best.j] = null;
  }
}

function joinedConvex(
  points: readonly Point[],
  a: readonly number[],
  b: readonly number[],
  v: number,
  w: number,
): number[] | null {
  const ia = a.indexOf(w);
  const ib = b.indexOf(v);
  // From w round a to v, then on round b back to w.
  const roundA = [...a.slice(ia), ...a.slice(0, ia)];
  const roundB = [...b.slice(ib), ...b.slice(0, ib)];
  const ring = [...roundA, ...roundB.slice(1, -1)];
  const n = ring.length;
  for (let i = 0; i < n; i++)
    if (cross(points[ring[i]!]!, points[ring[(i + 1) % n]!]!, points[ring[(i + 2) % n]!]!) < 0) return null;
  return ring;
}
