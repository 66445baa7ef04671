/** Nearest places on triangles. */
import { add3, cross3, distance3, dot3, norm3, type Point3, scaleBy3, subtract3, unitOf3 } from '../math';
import type { Mm } from '../units';

export interface Triangle {
  readonly corners: readonly [Point3, Point3, Point3];
  readonly normal: Point3;
  /** Bit k: the side from corner k to the next is an open border. */
  readonly open: number;
  /** Number of the face it is part of. */
  readonly face: number;
  readonly centre: Point3;
  readonly radius: Mm;
}

export function triangle(corners: readonly [Point3, Point3, Point3], face: number, open: number): Triangle {
  const [a, b, c] = corners;
  const centre = scaleBy3(add3(add3(a, b), c), 1 / 3);
  const radius = Math.max(...corners.map((p) => norm3(subtract3(p, centre))));
  return { corners, face, open, centre, radius, normal: unitOf3(cross3(subtract3(b, a), subtract3(c, a))) };
}

export interface Nearest {
  readonly distance: Mm;
  readonly at: Point3;
  readonly face: number;
  /** Place of its triangle in the list: a hint for a point close by. */
  readonly index: number;
  /** + the side that the normals point to, − the other one, 0 at an open border, where there is no side. */
  readonly side: number;
}

/** Triangles whose nearest places are this close to the nearest of all share it: they meet in an edge or corner. */
const together: Mm = 1e-6;

/** Triangles to look for nearest places on, with their bounding balls side by side. */
export interface Skin {
  readonly triangles: readonly Triangle[];
  /** Centre and radius of each ball: x, y, z, r. */
  readonly balls: Float64Array;
}

export function skinOf(triangles: readonly Triangle[]): Skin {
  const balls = new Float64Array(4 * triangles.length);
  triangles.forEach(({ centre, radius }, i) => {
    balls.set([centre.x, centre.y, centre.z, radius], 4 * i);
  });
  return { triangles, balls };
}

/**
 * The place of a surface nearest to a point; ties go to the first triangle. Null for no triangles.
 * @param hint the triangle that was nearest to a point close by: with a good one most others are soon left out
 */
export function nearestOn({ triangles, balls }: Skin, p: Point3, hint = 0): Nearest | null {
  let best = Number.POSITIVE_INFINITY;
  const guess = triangles[hint];
  // The hint only bounds the search, so that the result does not depend on it.
  if (guess) best = distance3(p, nearestOnTriangle(guess, p).at);
  let sharing: { index: number; triangle: Triangle; at: Point3; distance: Mm; open: boolean }[] = [];
  for (let index = 0, i = 0; index < triangles.length; index++, i += 4) {
    const dx = p.x - balls[i]!;
    const dy = p.y - balls[i + 1]!;
    const dz = p.z - balls[i + 2]!;
    const reach = best + balls[i + 3]! + together;
    if (dx * dx + dy * dy + dz * dz > reach * reach) continue;
    const t = triangles[index]!;
    const { at, open } = nearestOnTriangle(t, p);
    const distance = distance3(p, at);
    if (distance > best + together) continue;
    sharing.push({ index, triangle: t, at, distance, open });
    if (distance < best) best = distance;
  }
  sharing = sharing.filter((s) => s.distance <= best + together);
  const first = sharing[0];
  if (!first) return null;
  const found = { at: first.at, face: first.triangle.face, index: first.index };
  if (sharing.some((s) => s.open)) return { distance: best, ...found, side: 0 };
  let normal = { x: 0, y: 0, z: 0 };
  for (const s of sharing) normal = add3(normal, s.triangle.normal);
  const side = dot3(subtract3(p, found.at), normal);
  return { distance: best, ...found, side: side < 0 ? -1 : 1 };
}

/** Nearest place of a triangle by the region that the point lies over (Ericson 2005, from memory). */
function nearestOnTriangle(t: Triangle, p: Point3): { at: Point3; open: boolean } {
  const [a, b, c] = t.corners;
  const ab = subtract3(b, a);
  const ac = subtract3(c, a);
  const ap = subtract3(p, a);
  const openAt = (side: number) => (t.open & (1 << side)) !== 0;
  const d1 = dot3(ab, ap);
  const d2 = dot3(ac, ap);
  if (d1 <= 0 && d2 <= 0) return { at: a, open: openAt(0) || openAt(2) };
  const bp = subtract3(p, b);
  const d3 = dot3(ab, bp);
  const d4 = dot3(ac, bp);
  if (d3 >= 0 && d4 <= d3) return { at: b, open: openAt(0) || openAt(1) };
  const vc = d1 * d4 - d3 * d2;
  if (vc <= 0 && d1 >= 0 && d3 <= 0) return { at: add3(a, scaleBy3(ab, d1 / (d1 - d3))), open: openAt(0) };
  const cp = subtract3(p, c);
  const d5 = dot3(ab, cp);
  const d6 = dot3(ac, cp);
  if (d6 >= 0 && d5 <= d6) return { at: c, open: openAt(1) || openAt(2) };
  const vb = d5 * d2 - d1 * d6;
  if (vb <= 0 && d2 >= 0 && d6 <= 0) return { at: add3(a, scaleBy3(ac, d2 / (d2 - d6))), open: openAt(2) };
  const va = d3 * d6 - d5 * d4;
  if (va <= 0 && d4 - d3 >= 0 && d5 - d6 >= 0) {
    const w = (d4 - d3) / (d4 - d3 + (d5 - d6));
    return { at: add3(b, scaleBy3(subtract3(c, b), w)), open: openAt(1) };
  }
  const sum = va + vb + vc;
  if (sum === 0) return { at: a, open: false };
  return { at: add3(a, add3(scaleBy3(ab, vb / sum), scaleBy3(ac, vc / sum))), open: false };
}
