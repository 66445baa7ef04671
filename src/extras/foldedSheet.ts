/**
 * A sheet folded along straight lines from rim to rim of an opening. A triangulation of the rim without corners inside
 * is developable whatever the rim is; of all of them the one that bends least is taken: the smallest sum of
 * length · bend² over its folds, by dynamic programming over the stretches of the rim.
 */
import {
  add3,
  cross,
  cross3,
  distance3,
  dot,
  dot3,
  lerp,
  norm3,
  type Point,
  type Point3,
  point,
  point3,
  scaleBy3,
  subtract,
  subtract3,
  unitOf3,
} from '../math';
import type { Plane3 } from '../model';
import type { Rad } from '../units';
import { isInside } from './clip';
import type { CoveringSheet } from './coveringSheet';

type Triangle = readonly [number, number, number];

/** Rims of more corners are not tried: the search grows with the fourth power. Rims of the samples have 20 to 40. */
export const mostCorners = 90;

/** @param points round the opening, clockwise seen from outside, or along a part of its rim */
export function foldedSheet(points: readonly Point3[]): CoveringSheet | null {
  const n = points.length;
  if (n < 3 || n > mostCorners) return null;
  // Counter-clockwise seen from outside.
  const ring = [...points].reverse();
  const triangles = leastBent(ring);
  const flat = laidOut(ring, triangles);
  const normals = triangles.map((t) => unitOf3(areaOf(ring, t)));
  const at = (i: number) => flat[n - 1 - i]!;
  const sum = ring.map(() => ({ x: 0, y: 0, z: 0 }));
  triangles.forEach((t, k) => {
    const size = norm3(areaOf(ring, t));
    for (const v of t) {
      const s = sum[v]!;
      const w = normals[k]!;
      sum[v] = { x: s.x + w.x * size, y: s.y + w.y * size, z: s.z + w.z * size };
    }
  });
  return {
    flat: points.map((_, i) => at(i)),
    off: points.map(() => 0),
    normals: points.map((_, i) => unitOf3(sum[n - 1 - i]!)),
    inSpace: spaceOf(ring, triangles, flat),
    folds: foldsOf(ring, triangles, normals, flat),
    lineOf: (plane) => chained(triangles.flatMap((t) => crossing(ring, flat, t, plane))),
  };
}

const areaOf = (ring: readonly Point3[], [a, b, c]: Triangle): Point3 =>
  cross3(subtract3(ring[b]!, ring[a]!), subtract3(ring[c]!, ring[a]!));

function leastBent(ring: readonly Point3[]): Triangle[] {
  const n = ring.length;
  const key = (i: number, k: number, j: number) => (i * n + k) * n + j;
  const normals = new Float64Array(3 * n * n * n);
  for (let i = 0; i < n; i++)
    for (let k = i + 1; k < n; k++)
      for (let j = k + 1; j < n; j++) {
        const w = unitOf3(areaOf(ring, [i, k, j]));
        normals.set([w.x, w.y, w.z], 3 * key(i, k, j));
      }
  const normalOf = (a: number, b: number, c: number): number => 3 * (c < a ? key(c, a, b) : key(a, b, c));
  /** length · bend² of the fold from a to b between the triangles with corners m (between them) and o (beyond). */
  const price = (a: number, b: number, m: number, o: number): number => {
    const [p, q] = [3 * key(a, m, b), normalOf(a, b, o)];
    const cosine =
      normals[p]! * normals[q]! + normals[p + 1]! * normals[q + 1]! + normals[p + 2]! * normals[q + 2]!;
    return distance3(ring[a]!, ring[b]!) * Math.acos(Math.max(-1, Math.min(1, cosine))) ** 2;
  };
  const costs = new Float64Array(n * n * n);
  /** Best corner over the stretch a…b when `o` is the corner beyond. */
  const over = (a: number, b: number, o: number): { corner: number; cost: number } => {
    let best = { corner: -1, cost: b === a + 1 ? 0 : Number.POSITIVE_INFINITY };
    for (let m = a + 1; m < b; m++) {
      const cost = costs[key(a, m, b)]! + price(a, b, m, o);
      if (cost < best.cost) best = { corner: m, cost };
    }
    return best;
  };
  for (let wide = 2; wide < n; wide++)
    for (let i = 0; i + wide < n; i++) {
      const j = i + wide;
      for (let k = i + 1; k < j; k++) costs[key(i, k, j)] = over(i, k, j).cost + over(k, j, i).cost;
    }
  let top = 1;
  for (let k = 2; k + 1 < n; k++) if (costs[key(0, k, n - 1)]! < costs[key(0, top, n - 1)]!) top = k;
  const found: Triangle[] = [];
  const take = (i: number, k: number, j: number): void => {
    found.push([i, k, j]);
    const [left, right] = [over(i, k, j).corner, over(k, j, i).corner];
    if (left >= 0) take(i, left, k);
    if (right >= 0) take(k, right, j);
  };
  take(0, top, n - 1);
  return found;
}

/** Each triangle laid beside the one that it was found from: exact, since there are no corners inside. */
function laidOut(ring: readonly Point3[], triangles: readonly Triangle[]): Point[] {
  const n = ring.length;
  const flat = new Array<Point>(n);
  flat[n - 1] = point(0, 0);
  flat[0] = point(distance3(ring[0]!, ring[n - 1]!), 0);
  for (const [i, k, j] of triangles) {
    // The corner k lies to the left of the way from j to i.
    const [from, to] = [flat[j]!, flat[i]!];
    const base = distance3(ring[i]!, ring[j]!);
    const [u, v] = [distance3(ring[j]!, ring[k]!), distance3(ring[i]!, ring[k]!)];
    const along = (base * base + u * u - v * v) / (2 * base);
    const away = Math.sqrt(Math.max(0, u * u - along * along));
    const [ex, ey] = [(to.x - from.x) / base, (to.y - from.y) / base];
    flat[k] = point(from.x + ex * along - ey * away, from.y + ey * along + ex * away);
  }
  return flat;
}

/** By the triangle that holds the point, else by the one whose border it is least beyond. */
function spaceOf(
  ring: readonly Point3[],
  triangles: readonly Triangle[],
  flat: readonly Point[],
): (p: Point) => Point3 {
  return (p) => {
    let best: { corners: Triangle; shares: readonly number[] } | null = null;
    let least = Number.POSITIVE_INFINITY;
    for (const corners of triangles) {
      const [a, b, c] = corners.map((v) => flat[v]!) as [Point, Point, Point];
      const whole = cross(subtract(b, a), subtract(c, a));
      if (whole === 0) continue;
      const v = cross(subtract(p, a), subtract(c, a)) / whole;
      const w = cross(subtract(b, a), subtract(p, a)) / whole;
      const shares = [1 - v - w, v, w];
      const off = beyond(p, [a, b, c]);
      if (off < least) {
        least = off;
        best = { corners, shares };
      }
    }
    if (!best) return ring[0]!;
    const { corners, shares } = best;
    return corners.reduce((sum, v, k) => add3(sum, scaleBy3(ring[v]!, shares[k]!)), point3(0, 0, 0));
  };
}

/** How far a point lies outside a triangle; 0 within it. */
function beyond(p: Point, triangle: readonly Point[]): number {
  if (isInside(p, [triangle])) return 0;
  return Math.min(
    ...triangle.map((a, i) => {
      const d = subtract(triangle[(i + 1) % 3]!, a);
      const long = dot(d, d);
      const t = long === 0 ? 0 : Math.max(0, Math.min(1, dot(subtract(p, a), d) / long));
      return Math.hypot(a.x + t * d.x - p.x, a.y + t * d.y - p.y);
    }),
  );
}

function foldsOf(
  ring: readonly Point3[],
  triangles: readonly Triangle[],
  normals: readonly Point3[],
  flat: readonly Point[],
): { points: readonly [Point, Point]; bend: Rad }[] {
  const left = new Map<string, number>();
  triangles.forEach(([i, k, j], t) => {
    for (const [a, b] of [
      [i, k],
      [k, j],
      [j, i],
    ] as const)
      left.set(`${a} ${b}`, t);
  });
  return [...left].flatMap(([side, t]) => {
    const [a, b] = side.split(' ').map(Number) as [number, number];
    const other = left.get(`${b} ${a}`);
    if (other === undefined || a > b) return [];
    const along = unitOf3(subtract3(ring[b]!, ring[a]!));
    const [p, q] = [normals[t]!, normals[other]!];
    return [
      { points: [flat[a]!, flat[b]!] as const, bend: Math.atan2(dot3(cross3(p, q), along), dot3(p, q)) },
    ];
  });
}

/** Where a plane crosses a triangle, on the flat sheet. */
function crossing(
  ring: readonly Point3[],
  flat: readonly Point[],
  t: Triangle,
  plane: Plane3,
): [Point, Point][] {
  const heights = t.map((v) => dot3(plane.normal, ring[v]!) - plane.offset);
  const ends: Point[] = [];
  for (let e = 0; e < 3; e++) {
    const [p, q] = [heights[e]!, heights[(e + 1) % 3]!];
    if (p > 0 === q > 0) continue;
    ends.push(lerp(flat[t[e]!]!, flat[t[(e + 1) % 3]!]!, p / (p - q)));
  }
  return ends.length === 2 ? [[ends[0]!, ends[1]!]] : [];
}

/** Stretches in the order of the line that they make, from its left end. */
function chained(stretches: readonly (readonly [Point, Point])[]): (readonly [Point, Point])[] {
  const near = (p: Point, q: Point) => Math.hypot(p.x - q.x, p.y - q.y) < 1e-6;
  const left = [...stretches];
  const ends = left.flat();
  const loose = ends.filter((p) => ends.filter((q) => near(p, q)).length === 1);
  let at = loose.reduce<Point | undefined>((best, p) => (best && best.x <= p.x ? best : p), ends[0]);
  const line: (readonly [Point, Point])[] = [];
  while (at && left.length > 0) {
    const from: Point = at;
    const k = left.findIndex(([p, q]) => near(p, from) || near(q, from));
    // A line that goes out of the sheet and in again: on with the next stretch.
    const [p, q] = left.splice(Math.max(0, k), 1)[0]!;
    const next: readonly [Point, Point] = k < 0 || near(p, from) ? [p, q] : [q, p];
    line.push(next);
    at = next[1];
  }
  return line;
}
