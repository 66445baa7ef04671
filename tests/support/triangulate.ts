/** Triangulations for test shells: Delaunay in the plane, convex hull in space. Points in general position. */
import type { Point } from '../../src/math';
import { cross3, dot3, minus, type Vec3 } from './harbourWatch';

/** Delaunay triangles of points within a few units of the origin, counter-clockwise (Bowyer 1981, Watson 1981, from memory; quadratic, for a few hundred points). */
export function delaunay(points: readonly Point[]): [number, number, number][] {
  const n = points.length;
  const all: Point[] = [...points, { x: -300, y: -300 }, { x: 300, y: -300 }, { x: 0, y: 400 }];
  let triangles: [number, number, number][] = [[n, n + 1, n + 2]];
  for (let v = 0; v < n; v++) {
    const kept: typeof triangles = [];
    const rim = new Map<string, [number, number]>();
    for (const t of triangles) {
      if (!inCircle(all[t[0]]!, all[t[1]]!, all[t[2]]!, all[v]!)) {
        kept.push(t);
        continue;
      }
      for (let k = 0; k < 3; k++) {
        const a = t[k]!;
        const b = t[(k + 1) % 3]!;
        if (!rim.delete(`${b} ${a}`)) rim.set(`${a} ${b}`, [a, b]);
      }
    }
    triangles = kept;
    for (const [a, b] of rim.values()) triangles.push([a, b, v]);
  }
  return triangles.filter((t) => t.every((v) => v < n));
}

function inCircle(a: Point, b: Point, c: Point, p: Point): boolean {
  const [ax, ay, bx, by, cx, cy] = [a.x - p.x, a.y - p.y, b.x - p.x, b.y - p.y, c.x - p.x, c.y - p.y];
  return (
    (ax * ax + ay * ay) * (bx * cy - cx * by) -
      (bx * bx + by * by) * (ax * cy - cx * ay) +
      (cx * cx + cy * cy) * (ax * by - bx * ay) >
    0
  );
}

/** Triangles of the convex hull, counter-clockwise from outside; the origin must lie inside. */
export function hullTriangles(points: readonly Vec3[]): [number, number, number][] {
  const outside = ([a, b, c]: readonly number[], p: Vec3) => {
    const o = points[a!]!;
    return dot3(cross3(minus(points[b!]!, o), minus(points[c!]!, o)), minus(p, o)) > 0;
  };
  let triangles: [number, number, number][] = outside([0, 1, 2], points[3]!)
    ? [
        [0, 2, 1],
        [0, 1, 3],
        [1, 2, 3],
        [2, 0, 3],
      ]
    : [
        [0, 1, 2],
        [1, 0, 3],
        [2, 1, 3],
        [0, 2, 3],
      ];
  for (let v = 4; v < points.length; v++) {
    const kept: typeof triangles = [];
    const rim = new Map<string, [number, number]>();
    for (const t of triangles) {
      if (!outside(t, points[v]!)) {
        kept.push(t);
        continue;
      }
      for (let k = 0; k < 3; k++) {
        const a = t[k]!;
        const b = t[(k + 1) % 3]!;
        if (!rim.delete(`${b} ${a}`)) rim.set(`${a} ${b}`, [a, b]);
      }
    }
    triangles = kept;
    for (const [a, b] of rim.values()) triangles.push([a, b, v]);
  }
  return triangles;
}

/** Collapses shortest edges away from the border to their middle until so many triangles are left. */
export function decimate(
  vertices: readonly Vec3[],
  faces: readonly (readonly number[])[],
  wanted: number,
): { vertices: Vec3[]; faces: number[][] } {
  const points = [...vertices];
  let list = faces.map((f) => [...f]);
  const refused = new Set<string>();
  while (list.length > wanted) {
    const count = new Map<string, number>();
    for (const f of list)
      f.forEach((a, i) => {
        const b = f[(i + 1) % 3]!;
        const key = a < b ? `${a} ${b}` : `${b} ${a}`;
        count.set(key, (count.get(key) ?? 0) + 1);
      });
    const rim = new Set<number>();
    for (const [key, n] of count) if (n === 1) for (const v of key.split(' ')) rim.add(Number(v));
    let best: readonly [number, number] | null = null;
    let least = Number.POSITIVE_INFINITY;
    for (const key of count.keys()) {
      const [a, b] = key.split(' ').map(Number) as [number, number];
      if (rim.has(a) || rim.has(b) || refused.has(key)) continue;
      const d = minus(points[a]!, points[b]!);
      const length = dot3(d, d);
      if (length < least) {
        least = length;
        best = [a, b];
      }
    }
    if (!best) break;
    const [a, b] = best;
    const around = (v: number) => new Set(list.filter((f) => f.includes(v)).flat());
    const [p, q] = [around(a), around(b)];
    const common = [...p].filter((v) => q.has(v) && v !== a && v !== b);
    const middle = {
      x: (points[a]!.x + points[b]!.x) / 2,
      y: (points[a]!.y + points[b]!.y) / 2,
      z: (points[a]!.z + points[b]!.z) / 2,
    };
    const normal = (f: readonly number[], at: (v: number) => Vec3) =>
      cross3(minus(at(f[1]!), at(f[0]!)), minus(at(f[2]!), at(f[0]!)));
    const turns = list.some((f) => {
      if (f.includes(a) === f.includes(b)) return false;
      const before = normal(f, (v) => points[v]!);
      const after = normal(f, (v) => (v === a || v === b ? middle : points[v]!));
      return dot3(before, after) < 0.5 * Math.sqrt(dot3(before, before) * dot3(after, after));
    });
    if (common.length !== 2 || turns) {
      refused.add(a < b ? `${a} ${b}` : `${b} ${a}`);
      continue;
    }
    points[a] = middle;
    list = list.filter((f) => !(f.includes(a) && f.includes(b))).map((f) => f.map((v) => (v === b ? a : v)));
    refused.clear();
  }
  return { vertices: points, faces: list };
}
