import { cross3, distance3, dot3, type Point3, point3, scaleBy3, subtract3, unitOf3 } from '../math';
import type { Plane3, Shell, ShellLoop } from '../model';
import type { Mm, Mm2 } from '../units';

/**
 * Measures of a folded shell: where a plane cuts it, as loops with their girth, and its openings. Positions are those
 * of the shell, mm.
 */
export interface Section {
  /** Chains of crossings; closed ones are full rounds, open ones end at a border of the shell. Longest first. */
  readonly loops: readonly SectionLoop[];
}

export interface SectionLoop extends ShellLoop {
  readonly closed: boolean;
  /** Length of a tape pulled tight round the loop (its hull), closed or not. */
  readonly tautGirth: Mm;
  /** Area inside a closed loop; 0 for an open one. */
  readonly area: Mm2;
}

/** Cuts the shell with a plane. Polygons with more than three corners are cut as fans of triangles. */
export function sectionOf(shell: Shell, plane: Plane3): Section {
  const height = shell.vertices.map((p) => dot3(p, plane.normal) - plane.offset);
  // A corner exactly in the plane counts as above it, so that every crossing lies inside an edge.
  const above = height.map((h) => h >= 0);
  const count = shell.vertices.length;
  const crossing = new Map<number, Point3>();
  const key = (a: number, b: number) => Math.min(a, b) * count + Math.max(a, b);
  const cross = (a: number, b: number): number => {
    const k = key(a, b);
    if (!crossing.has(k)) {
      const t = height[a]! / (height[a]! - height[b]!);
      const p = shell.vertices[a]!;
      const q = shell.vertices[b]!;
      crossing.set(k, point3(p.x + (q.x - p.x) * t, p.y + (q.y - p.y) * t, p.z + (q.z - p.z) * t));
    }
    return k;
  };
  const next = new Map<number, number>();
  const entered = new Set<number>();
  for (const { vertices } of shell.faces) {
    for (let i = 1; i + 1 < vertices.length; i++) {
      const triangle = [vertices[0]!, vertices[i]!, vertices[i + 1]!];
      let down = -1;
      let up = -1;
      for (let k = 0; k < 3; k++) {
        const a = triangle[k]!;
        const b = triangle[(k + 1) % 3]!;
        if (above[a] && !above[b]) down = cross(a, b);
        if (!above[a] && above[b]) up = cross(a, b);
      }
      if (down < 0 || up < 0) continue;
      next.set(down, up);
      entered.add(up);
    }
  }
  const done = new Set<number>();
  const loops: SectionLoop[] = [];
  const walk = (first: number) => {
    const keys: number[] = [];
    let at: number | undefined = first;
    while (at !== undefined && !done.has(at)) {
      done.add(at);
      keys.push(at);
      at = next.get(at);
    }
    const points = keys.map((k) => crossing.get(k)!);
    loops.push(loopOf(points, at === first, plane.normal));
  };
  for (const k of next.keys()) if (!entered.has(k)) walk(k);
  for (const k of next.keys()) if (!done.has(k)) walk(k);
  return { loops: loops.sort((p, q) => q.girth - p.girth) };
}

/** Points seen along a unit vector, as places on the plane square to it. */
function seenAlong(points: readonly Point3[], normal: Point3): { readonly x: number; readonly y: number }[] {
  const u = unitOf3(cross3(normal, Math.abs(normal.x) < 0.7 ? point3(1, 0, 0) : point3(0, 1, 0)));
  const v = cross3(normal, u);
  return points.map((p) => ({ x: dot3(p, u), y: dot3(p, v) }));
}

/** Length of a tape pulled tight round points, seen along a unit vector: the girth of their hull. */
export const tautGirthOf = (points: readonly Point3[], normal: Point3): Mm =>
  hullGirth(seenAlong(points, normal));

function loopOf(points: readonly Point3[], closed: boolean, normal: Point3): SectionLoop {
  const flat = seenAlong(points, normal);
  let girth = 0;
  let twice = 0;
  points.forEach((p, i) => {
    const j = (i + 1) % points.length;
    if (j === 0 && !closed) return;
    girth += distance3(p, points[j]!);
    twice += flat[i]!.x * flat[j]!.y - flat[j]!.x * flat[i]!.y;
  });
  return { points, girth, closed, tautGirth: hullGirth(flat), area: closed ? Math.abs(twice) / 2 : 0 };
}

/** Length round the convex hull. */
function hullGirth(points: readonly Flat[]): Mm {
  const hull = hullOf(points);
  return hull.reduce((sum, p, i) => {
    const q = points[hull[(i + 1) % hull.length]!]!;
    return sum + Math.hypot(points[p]!.x - q.x, points[p]!.y - q.y);
  }, 0);
}

interface Flat {
  readonly x: number;
  readonly y: number;
}

/** Which points carry the hull, in order round it (monotone chain, Andrew 1979, from memory). */
function hullOf(points: readonly Flat[]): number[] {
  const sorted = points
    .map((_, i) => i)
    .sort((i, j) => points[i]!.x - points[j]!.x || points[i]!.y - points[j]!.y || i - j);
  if (sorted.length < 2) return [];
  const half = (list: readonly number[]) => {
    const out: number[] = [];
    for (const i of list) {
      const p = points[i]!;
      for (let n = out.length; n >= 2; n = out.length) {
        const a = points[out[n - 2]!]!;
        const b = points[out[n - 1]!]!;
        if ((b.x - a.x) * (p.y - a.y) - (b.y - a.y) * (p.x - a.x) > 0) break;
        out.pop();
      }
      out.push(i);
    }
    return out.slice(0, -1);
  };
  return [...half(sorted), ...half(sorted.reverse())];
}

/** Which of the points a tape pulled tight round them in a plane touches, in order. */
export const hullOrder = (points: readonly Point3[], normal: Point3): number[] =>
  hullOf(seenAlong(points, normal));

export interface Opening extends ShellLoop {
  /** Vertices in walking order, the shell on the left. */
  readonly vertices: readonly number[];
  /** Largest distance between two of its corners. */
  readonly widest: Mm;
  readonly middle: Point3;
}

/** The openings: loops of edges with a face on one side only, longest first. */
export function openingsOf(shell: Shell): Opening[] {
  const count = shell.vertices.length;
  const sides = new Set<number>();
  for (const { vertices } of shell.faces)
    for (const [i, a] of vertices.entries()) sides.add(a * count + vertices[(i + 1) % vertices.length]!);
  const leaving = new Map<number, number[]>();
  for (const side of sides) {
    const a = Math.floor(side / count);
    const b = side % count;
    if (!sides.has(b * count + a)) leaving.set(a, [...(leaving.get(a) ?? []), b]);
  }
  const openings: Opening[] = [];
  for (const first of leaving.keys()) {
    const loop: number[] = [];
    for (let at: number | undefined = first; at !== undefined; ) {
      const to: number | undefined = leaving.get(at)?.pop();
      if (to !== undefined) loop.push(at);
      at = to;
    }
    if (loop.length < 2) continue;
    const points = loop.map((v) => shell.vertices[v]!);
    let girth = 0;
    let widest = 0;
    let sum = point3(0, 0, 0);
    points.forEach((p, i) => {
      girth += distance3(p, points[(i + 1) % points.length]!);
      sum = point3(sum.x + p.x, sum.y + p.y, sum.z + p.z);
      for (const q of points) widest = Math.max(widest, distance3(p, q));
    });
    openings.push({ vertices: loop, points, girth, widest, middle: scaleBy3(sum, 1 / points.length) });
  }
  return openings.sort((p, q) => q.girth - p.girth);
}

/** Volume inside a closed shell, mm³ (sum of signed tetrahedra); meaningless for an open one. */
export function volumeOf(shell: Shell): number {
  const o = shell.vertices[0];
  if (!o) return 0;
  let six = 0;
  for (const { vertices } of shell.faces)
    for (let i = 1; i + 1 < vertices.length; i++) {
      const [a, b, c] = [vertices[0]!, vertices[i]!, vertices[i + 1]!].map((v) =>
        subtract3(shell.vertices[v]!, o),
      ) as [Point3, Point3, Point3];
      six += dot3(a, cross3(b, c));
    }
  return six / 6;
}

/** Angle left out round a vertex of the flat faces: 2π less its corner angles inside, π less them on a border. */
export function angleDefects(shell: Shell): number[] {
  const total = shell.vertices.map(() => 0);
  for (const { flat, vertices } of shell.faces) {
    const n = vertices.length;
    vertices.forEach((v, i) => {
      const p = flat[i]!;
      const q = flat[(i + 1) % n]!;
      const r = flat[(i + n - 1) % n]!;
      const ax = q.x - p.x;
      const ay = q.y - p.y;
      const bx = r.x - p.x;
      const by = r.y - p.y;
      const angle = Math.atan2(ax * by - ay * bx, ax * bx + ay * by);
      total[v]! += angle < 0 ? angle + 2 * Math.PI : angle;
    });
  }
  const border = new Set(openingsOf(shell).flatMap((o) => [...o.vertices]));
  return total.map((sum, v) => (border.has(v) ? Math.PI : 2 * Math.PI) - sum);
}
