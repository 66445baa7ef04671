/**
 * Faces of the shell laid flat together, whatever panels they are of: across folds and seams alike, at the depth of a
 * layer's own neutral surface. Where they do not lie flat as one, they are taken apart.
 */
import { cross3, dot3, type Point, type Point3, ringArea, subtract3, unitOf3 } from '../math';
import type { ShellPatch } from '../model';
import { uniteRings } from '../plane';
import { faceNormals, flattenPatches } from '../shell';
import type { Mm, Rad } from '../units';
import type { Ground } from './ground';
import { flatMisfit, overlapShare } from './tolerance';

export interface LaidFaces {
  readonly faces: readonly number[];
  /** Flat corners by face, in the order of its vertices. */
  readonly rings: ReadonlyMap<number, readonly Point[]>;
  /** Rings round all faces: outline counter-clockwise first, holes clockwise. */
  readonly outline: readonly (readonly Point[])[];
  /** Lines between two faces, with the bend there at this depth. */
  readonly folds: readonly { readonly points: readonly [Point, Point]; readonly bend: Rad }[];
  /** Largest difference between a side's length in space and flat. */
  readonly misfit: Mm;
}

/** The faces in groups that each lie flat within the tolerance. */
export function layFlat(ground: Ground, faces: readonly number[], depth: Mm): LaidFaces[] {
  const places = ground.at(depth);
  return connected(ground, faces).flatMap((group) => taken(ground, group, places));
}

/** The group as one if it lies flat; else as much as does, breadth first, and the rest in the same way. */
function taken(ground: Ground, group: readonly number[], places: readonly Point3[]): LaidFaces[] {
  const whole = lay(ground, group, places);
  if (liesFlat(whole) || group.length === 1) return [whole];
  const order = breadthFirst(ground, group);
  // The longest beginning that lies flat; a single face always does.
  let [low, high] = [1, order.length];
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if (liesFlat(lay(ground, order.slice(0, middle), places))) low = middle;
    else high = middle;
  }
  const rest = order.slice(low);
  return [
    lay(ground, order.slice(0, low), places),
    ...connected(ground, rest).flatMap((part) => taken(ground, part, places)),
  ];
}

const liesFlat = (laid: LaidFaces): boolean => laid.misfit <= flatMisfit && overlapOf(laid) <= overlapShare;

/** How much of the flat faces lies on others of them, as a part of their area. */
export function overlapOf({ rings }: LaidFaces): number {
  const list = [...rings.values()];
  const sum = list.reduce((total, ring) => total + Math.abs(ringArea(ring)), 0);
  const covered = uniteRings(list).reduce((total, ring) => total + ringArea(ring), 0);
  return (sum - covered) / sum;
}

/** The faces as one, however much they are stretched. */
export function lay(ground: Ground, faces: readonly number[], places: readonly Point3[]): LaidFaces {
  const patches = faces.map((f) => ground.patches[f]!);
  const { flats, misfit } = flattenPatches(patches.map(acrossSeams), places);
  const rings = new Map(faces.map((f, k) => [f, flats[k]!] as const));
  const normals = new Map(
    faceNormals({ vertices: places, faces: patches }).map((n, k) => [faces[k]!, n] as const),
  );
  const folds: LaidFaces['folds'][number][] = [];
  for (const f of faces) {
    const { vertices } = ground.patches[f]!;
    vertices.forEach((v, i) => {
      const w = vertices[(i + 1) % vertices.length]!;
      const other = ground.sideAt(w, v)?.face;
      if (other === undefined || other <= f || !rings.has(other)) return;
      const along = unitOf3(subtract3(places[w]!, places[v]!));
      const [a, b] = [normals.get(f)!, normals.get(other)!];
      const ring = rings.get(f)!;
      folds.push({
        points: [ring[i]!, ring[(i + 1) % ring.length]!],
        bend: Math.atan2(dot3(cross3(a, b), along), dot3(a, b)),
      });
    });
  }
  return { faces, rings, outline: outlineOf(ground, faces, rings), folds, misfit };
}

/** Neighbours of a panel are told by their corners on the drawing; here by the vertices that they share. */
const acrossSeams = (patch: ShellPatch): ShellPatch => ({
  ...patch,
  flat: patch.vertices.map((v) => ({ x: v, y: 0 })),
});

/** The sides without a neighbour among the faces, as rings; the largest first. */
function outlineOf(
  ground: Ground,
  faces: readonly number[],
  rings: ReadonlyMap<number, readonly Point[]>,
): Point[][] {
  const own = new Set(faces);
  const inner = (face: number, corner: number) => {
    const { vertices } = ground.patches[face]!;
    const twin = ground.sideAt(vertices[(corner + 1) % vertices.length]!, vertices[corner]!);
    return twin && own.has(twin.face) ? twin : null;
  };
  const key = (face: number, corner: number) => `${face} ${corner}`;
  const left = new Map<string, { face: number; corner: number }>();
  for (const face of faces)
    ground.patches[face]!.vertices.forEach((_, corner) => {
      if (!inner(face, corner)) left.set(key(face, corner), { face, corner });
    });
  const found: Point[][] = [];
  for (const start of left.values()) {
    const ring: Point[] = [];
    let at = start;
    while (left.delete(key(at.face, at.corner))) {
      ring.push(rings.get(at.face)![at.corner]!);
      // Round the end of the side, from face to face, to the next side without a neighbour.
      let { face, corner } = at;
      for (;;) {
        corner = (corner + 1) % ground.patches[face]!.vertices.length;
        const twin = inner(face, corner);
        if (!twin) break;
        ({ face, corner } = twin);
      }
      at = { face, corner };
    }
    if (ring.length >= 3) found.push(ring);
  }
  return found.sort((a, b) => ringArea(b) - ringArea(a));
}

/** Groups of faces that hang together. */
export function connected(ground: Ground, faces: readonly number[]): number[][] {
  const left = new Set(faces);
  const groups: number[][] = [];
  for (const first of faces) if (left.has(first)) groups.push(spread(ground, first, left));
  return groups;
}

const breadthFirst = (ground: Ground, group: readonly number[]): number[] =>
  spread(ground, group[0]!, new Set(group));

/** Takes all faces that hang together with the first out of `left`, nearest first. */
function spread(ground: Ground, first: number, left: Set<number>): number[] {
  left.delete(first);
  const group = [first];
  for (const face of group) {
    const { vertices } = ground.patches[face]!;
    vertices.forEach((v, i) => {
      const other = ground.sideAt(vertices[(i + 1) % vertices.length]!, v);
      if (other && left.delete(other.face)) group.push(other.face);
    });
  }
  return group;
}
