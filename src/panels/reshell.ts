/** The shell with the panels' faces: the same vertices, bends under the ids of the panels' folds and seams too. */
import type { Point3 } from '../math';
import {
  type AddedVertex,
  cutSeamId,
  joinedFoldId,
  type Pattern,
  type Seams,
  type Shell,
  type ShellPatch,
} from '../model';
import { glueFaces } from '../shell';
import type { Rad } from '../units';
import type { Surface } from './surface';

/**
 * @param surface of the pattern that `shell` belongs to
 * @param vertexOf shell vertex of each vertex of the surface
 * @param pattern the panels
 * @param untouched ids of pieces that are as they were
 */
export function reshell(
  shell: Shell,
  surface: Surface,
  vertexOf: ReadonlyMap<number, number>,
  pattern: Pattern,
  seams: Seams,
  untouched: ReadonlySet<string>,
): Shell {
  const glued = glueFaces(pattern, seams);
  const faceOf = new Map(surface.faces.map((f) => [f.face, f]));
  const toOld = new Map<number, number>();
  for (const face of glued.whole) {
    const known = faceOf.get(face.face);
    if (!known || known.vertices.length !== face.vertices.length) continue;
    // Changed panels are written from the table, ring for ring; the others begin where they did before it.
    const n = face.vertices.length;
    const by = untouched.has(face.piece) ? known.turnedBy : 0;
    face.vertices.forEach((v, i) => {
      const old = vertexOf.get(known.vertices[(i + n - by) % n]!);
      if (old !== undefined) toOld.set(v, old);
    });
  }
  const before = new Map(shell.faces.map((f) => [`${f.piece} ${f.face} ${f.part ?? 0}`, f] as const));
  // The table knows no holes: their rims are where they were.
  for (const f of glued.faces) {
    const same = before.get(`${f.piece} ${f.face} ${f.part ?? 0}`);
    if (!same || same.vertices.length !== f.vertices.length || !samePlaces(same, { flat: f.drawn })) continue;
    f.vertices.forEach((v, i) => {
      if (!toOld.has(v)) toOld.set(v, same.vertices[i]!);
    });
  }
  const faces = glued.faces.flatMap((f): ShellPatch[] => {
    const same = before.get(`${f.piece} ${f.face} ${f.part ?? 0}`);
    const vertices = f.vertices.map((v) => toOld.get(v) ?? -1);
    if (vertices.some((v) => v < 0)) return [];
    const next: ShellPatch = {
      piece: f.piece,
      face: f.face,
      ...(f.part === undefined ? {} : { part: f.part }),
      flat: f.drawn,
      vertices,
    };
    return [same && sameNumbers(same.vertices, vertices) && samePlaces(same, next) ? same : next];
  });
  const at = new Map<number, number>();
  shell.components.forEach((c, k) => {
    for (const v of c.vertices) at.set(v, k);
  });
  const bends: Record<string, Rad> = { ...shell.bends };
  const bendSpread: Record<string, Rad> = { ...shell.bendSpread };
  for (const { id, kind } of surface.hinges) {
    const name = kind === 'fold' ? cutSeamId(id) : joinedFoldId(id);
    if (shell.bends[id] !== undefined) bends[name] = shell.bends[id];
    if (shell.bendSpread[id] !== undefined) bendSpread[name] = shell.bendSpread[id];
  }
  return {
    ...shell,
    faces,
    bends,
    bendSpread,
    components: shell.components.map((c, k) => ({
      ...c,
      faces: faces.flatMap((f, i) => (at.get(f.vertices[0]!) === k ? [i] : [])),
    })),
  };
}

const sameNumbers = (a: readonly number[], b: readonly number[]) =>
  a.length === b.length && a.every((v, i) => v === b[i]);

const samePlaces = (a: Pick<ShellPatch, 'flat'>, b: Pick<ShellPatch, 'flat'>) =>
  a.flat.every((p, i) => p.x === b.flat[i]!.x && p.y === b.flat[i]!.y);

/** Places of all vertices of the recut shell, where those of the shell it was made from lie at `places`. */
export function placesWith(places: readonly Point3[], added: readonly AddedVertex[]): readonly Point3[] {
  if (added.length === 0) return places;
  return [
    ...places,
    ...added.map((parts) => {
      let [x, y, z] = [0, 0, 0];
      for (const { vertex, weight } of parts) {
        const p = places[vertex]!;
        x += weight * p.x;
        y += weight * p.y;
        z += weight * p.z;
      }
      return { x, y, z };
    }),
  ];
}
