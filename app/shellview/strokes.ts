/**
 * Lines on the shell as straight stretches in space, six numbers each: dashes along folds, cross ticks of open edges,
 * marks for bends, hatching of faces. Pure; the stage only gives them a weight and a colour.
 */
import { add3, cross3, dot3, lerp, type Point3, scaleBy3, subtract3, unitOf3 } from '../../src/math';
import type { Mm, Rad } from '../../src/units';

/** Adds the drawn parts of a line from p to q in this dash pattern (drawn first; none: all of it). */
export function addDashed(out: number[], p: Point3, q: Point3, dash: readonly Mm[]): void {
  const length = Math.hypot(q.x - p.x, q.y - p.y, q.z - p.z);
  const period = dash.reduce((sum, d) => sum + d, 0);
  // A line shorter than one dash would show nothing but that dash: it is drawn whole either way.
  if (period <= 0 || length <= (dash[0] ?? 0)) {
    out.push(p.x, p.y, p.z, q.x, q.y, q.z);
    return;
  }
  const at = (s: number) => {
    const t = Math.min(1, s / length);
    return [p.x + (q.x - p.x) * t, p.y + (q.y - p.y) * t, p.z + (q.z - p.z) * t] as const;
  };
  // The first dash is cut in half, so that both ends of a line look alike where lines meet.
  let s = -(dash[0] ?? 0) / 2;
  for (let i = 0; s < length; i = (i + 1) % dash.length) {
    const end = s + dash[i]!;
    if (i % 2 === 0 && end > 0) out.push(...at(Math.max(0, s)), ...at(end));
    s = end;
  }
}

/** Ticks across an open edge, lying in its face: `inwards` is the unit vector from the edge into the face. */
export function addTicks(out: number[], p: Point3, q: Point3, inwards: Point3, half: Mm, apart: Mm): void {
  const length = Math.hypot(q.x - p.x, q.y - p.y, q.z - p.z);
  const count = Math.max(1, Math.round(length / apart));
  for (let i = 0; i < count; i++) {
    const at = add3(p, scaleBy3(subtract3(q, p), (i + 0.5) / count));
    const a = add3(at, scaleBy3(inwards, -half));
    const b = add3(at, scaleBy3(inwards, half));
    out.push(a.x, a.y, a.z, b.x, b.y, b.z);
  }
}

/** One mark for each so much of a bend. */
const bendPerMark: Rad = (10 * Math.PI) / 180;
const mostMarks = 12;

/** How many marks a bend gets: one for each 10° begun, none below half a degree. */
export function marksOf(bend: Rad): number {
  const size = Math.abs(bend);
  if (size < (0.5 * Math.PI) / 180) return 0;
  return Math.min(mostMarks, Math.max(1, Math.ceil(size / bendPerMark - 1e-9)));
}

/**
 * Marks of a bend on one face beside its line: a comb of short lines for a convex bend, a zigzag of pairs that lean
 * together for a concave one, so that the two are told apart without colour. As many as `marksOf` says.
 */
export function addBendMarks(
  out: number[],
  p: Point3,
  q: Point3,
  inwards: Point3,
  bend: Rad,
  long: Mm,
): void {
  const count = marksOf(bend);
  const span = subtract3(q, p);
  const length = Math.hypot(span.x, span.y, span.z);
  const along = unitOf3(span);
  const reach = Math.min(long, 0.45 * length);
  for (let i = 0; i < count; i++) {
    const foot = add3(p, scaleBy3(span, (i + 0.5) / count));
    const lean = bend < 0 ? (i % 2 === 0 ? 1 : -1) * Math.min(0.5 * reach, (0.5 * length) / count) : 0;
    const tip = add3(add3(foot, scaleBy3(inwards, reach)), scaleBy3(along, lean));
    out.push(foot.x, foot.y, foot.z, tip.x, tip.y, tip.z);
  }
}

/** Unit vector in the plane of a face from its side p→q inwards, for a face whose outward unit normal is `out`. */
export const inwardsOf = (p: Point3, q: Point3, out: Point3): Point3 => unitOf3(cross3(out, subtract3(q, p)));

/** Parallel lines over a convex face, `apart` from each other, all faces in step with each other. */
export function addHatch(out: number[], ring: readonly Point3[], normal: Point3, apart: Mm): void {
  // Hatching runs level where it can: the direction is the level line of the face.
  const level =
    Math.hypot(normal.x, normal.y) > 0.05 ? { x: -normal.y, y: normal.x, z: 0 } : { x: 1, y: 0, z: 0 };
  const u = unitOf3(subtract3(level, scaleBy3(normal, dot3(level, normal))));
  const v = cross3(normal, u);
  const flat = ring.map((p) => ({ x: dot3(p, u), y: dot3(p, v) }));
  const height = dot3(ring[0]!, normal);
  const low = Math.min(...flat.map((p) => p.y));
  const high = Math.max(...flat.map((p) => p.y));
  for (let y = Math.ceil(low / apart) * apart; y < high; y += apart) {
    const xs: number[] = [];
    flat.forEach((p, i) => {
      const q = flat[(i + 1) % flat.length]!;
      if (p.y > y !== q.y > y) xs.push(lerp(p, q, (y - p.y) / (q.y - p.y)).x);
    });
    xs.sort((a, b) => a - b);
    for (let i = 0; i + 1 < xs.length; i += 2)
      for (const x of [xs[i]!, xs[i + 1]!]) {
        const at = add3(add3(scaleBy3(u, x), scaleBy3(v, y)), scaleBy3(normal, height));
        out.push(at.x, at.y, at.z);
      }
  }
}
