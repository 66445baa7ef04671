/** Bends of a shell whose corners were moved: the same faces and seams, other places. */
import { cross3, dot3, type Point3, subtract3 } from '../math';
import type { Pattern, Seams, Shell } from '../model';
import type { Rad } from '../units';
import { glueFaces } from './glue';

/**
 * The bend at every fold and glued seam, + convex seen from outside, by fold id and seam id; along several stretches
 * their mean by length. Faces that are no longer flat count with their mean normal (Newell's).
 * @param places one for each vertex of the shell, in its order
 */
export function bendsAt(
  pattern: Pattern,
  seams: Seams,
  shell: Shell,
  places: readonly Point3[],
): Readonly<Record<string, Rad>> {
  const glued = glueFaces(pattern, seams);
  const patches = new Map(shell.faces.map((f) => [`${f.piece} ${f.face} ${f.part ?? 0}`, f] as const));
  const normalOn = new Map<string, Point3>();
  const bends = new Map<string, { sum: number; length: number }>();
  for (const face of glued.faces) {
    const patch = patches.get(`${face.piece} ${face.face} ${face.part ?? 0}`);
    if (!patch) continue;
    const corners = patch.vertices.map((v) => places[v]!);
    const normal = newellNormal(corners);
    patch.vertices.forEach((v, i) => {
      const w = patch.vertices[(i + 1) % patch.vertices.length]!;
      const across = normalOn.get(`${w} ${v}`);
      normalOn.set(`${v} ${w}`, normal);
      if (!across) return;
      const along = subtract3(places[w]!, places[v]!);
      const length = Math.hypot(along.x, along.y, along.z);
      if (length === 0) return;
      const bend = Math.atan2(dot3(cross3(normal, across), along) / length, dot3(normal, across));
      const id = face.seamIds[i] ?? face.sideIds[i]!;
      if (id === '') return;
      const so = bends.get(id) ?? { sum: 0, length: 0 };
      bends.set(id, { sum: so.sum + bend * length, length: so.length + length });
    });
  }
  return Object.fromEntries([...bends].map(([id, { sum, length }]) => [id, sum / length]));
}

function newellNormal(ring: readonly Point3[]): Point3 {
  let normal = { x: 0, y: 0, z: 0 };
  ring.forEach((p, i) => {
    const c = cross3(p, ring[(i + 1) % ring.length]!);
    normal = { x: normal.x + c.x, y: normal.y + c.y, z: normal.z + c.z };
  });
  return normal;
}
