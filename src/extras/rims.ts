/** Stretches of the rim of an opening that a part is made for, and the shell beside them. */
import { add3, cross3, distance3, type Point3, point3, subtract3, unitOf3 } from '../math';
import type { VisorPart } from '../model';
import { faceNormals } from '../shell';
import type { Ground } from './ground';

/** A stretch of rim in the order of the shell's sides: the shell lies on its left. */
export interface Rim {
  readonly vertices: readonly number[];
  readonly closed: boolean;
  /** Edges were chosen in several places, and this is the longest. */
  readonly inPart: boolean;
}

export const sidesOf = ({ vertices, closed }: Pick<Rim, 'vertices' | 'closed'>): [number, number][] =>
  vertices.flatMap((v, i): [number, number][] => {
    const next = i + 1 < vertices.length ? vertices[i + 1]! : closed ? vertices[0]! : null;
    return next === null ? [] : [[v, next]];
  });

export function rimOf(part: VisorPart, ground: Ground, vertices: readonly number[]): Rim {
  const whole: Rim = { vertices, closed: true, inPart: false };
  if (part.rim === 'whole') return whole;
  const wanted = new Set(part.edges);
  const chosen = new Map(
    ground.sides.flatMap((s) => (s.kind === 'open' && wanted.has(s.id) ? [[s.from, s.to] as const] : [])),
  );
  const n = vertices.length;
  const on = vertices.map((v, i) => chosen.get(v) === vertices[(i + 1) % n]);
  if (on.every(Boolean)) return whole;
  const first = on.findIndex((is, i) => is && !on[(i + n - 1) % n]);
  const runs: number[][] = [];
  for (let k = 0; k < n; k++) {
    const i = (first + k) % n;
    if (!on[i]) continue;
    const last = runs.at(-1);
    if (last && last.at(-1) === vertices[i]) last.push(vertices[(i + 1) % n]!);
    else runs.push([vertices[i]!, vertices[(i + 1) % n]!]);
  }
  const lengthOf = (run: readonly number[]) =>
    run.slice(1).reduce((sum, v, i) => sum + distance3(ground.places[run[i]!]!, ground.places[v]!), 0);
  const longest = runs.reduce((best, run) => (lengthOf(run) > lengthOf(best) ? run : best));
  return { vertices: longest, closed: false, inPart: runs.length > 1 };
}

/** Of each side of a line of the shell, the unit way square to it into the face on its left; null where there is none. */
export function waysLeft(
  sides: readonly (readonly [number, number])[],
  ground: Ground,
  places: readonly Point3[],
): (Point3 | null)[] {
  const normals = faceNormals({ vertices: places, faces: ground.patches });
  return sides.map(([a, b]) => {
    const side = ground.sideAt(a, b);
    return side ? unitOf3(cross3(normals[side.face]!, subtract3(places[b]!, places[a]!))) : null;
  });
}

/** At each corner of the rim the way into the shell beside it, square to the rim: the mean of both sides. */
export function intoShell(rim: Rim, ground: Ground, places: readonly Point3[]): Point3[] {
  const found = new Map<number, Point3>();
  const sides = sidesOf(rim);
  waysLeft(sides, ground, places).forEach((into, i) => {
    if (into) for (const v of sides[i]!) found.set(v, add3(found.get(v) ?? point3(0, 0, 0), into));
  });
  return rim.vertices.map((v) => unitOf3(found.get(v) ?? point3(0, 0, 0)));
}
