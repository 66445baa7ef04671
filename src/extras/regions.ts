/**
 * What a closed line encloses on the shell. The faces round it are laid flat together at the depth where it is to be
 * true to size; there the line is a ring, or the shape is laid at its place and turn.
 */
import {
  boxOf,
  distance3,
  distanceToSegment,
  type Point,
  type Point3,
  point,
  ringArea,
  rotate,
} from '../math';
import { type FacePoint, fromParts, type Pattern, type Recut, rootOf, type ShellOutline } from '../model';
import { closedCurve, intersectRings, uniteRings } from '../plane';
import type { Mm, Rad } from '../units';
import { carry, isInside } from './clip';
import type { Ground } from './ground';
import { connected, type LaidFaces, lay, overlapOf } from './layFlat';
import { leastUp, outlineMisfit, overlapShare, shaving, sliver } from './tolerance';

type Rings = readonly (readonly Point[])[];

/** What is enclosed, on faces that lie flat as one. */
export interface Region {
  readonly laid: LaidFaces;
  /** Outlines counter-clockwise, holes clockwise, as far as there is shell. */
  readonly rings: Rings;
  /** The line runs over a rim (or, kept to one panel, over the panel's edge) and is cut there. */
  readonly cutOff: boolean;
}

export interface NoRegion {
  readonly refused: string;
  readonly wayOut: string;
}

/** Where points of faces are told: the pattern as drawn, and where its faces lie now. */
export interface Drawing {
  readonly drawn: Pattern;
  readonly laid: Recut['laid'];
}

const again = 'Draw it again on the faces that are there now, or take the part out.';

/** @param depth of the surface on which sizes are true */
export function regionOf(
  ground: Ground,
  drawing: Drawing,
  outline: ShellOutline,
  depth: Mm,
): Region | NoRegion {
  const places = ground.at(depth);
  const marks = outline.kind === 'drawn' ? outline.points : [outline.at];
  const spots = marks.map((p) => spotOf(ground, drawing, p));
  if (spots.some((s) => s === null))
    return { refused: 'a face that it is drawn on is not there any more', wayOut: again };
  const found = spots.map((s) => s!);
  const reach =
    outline.kind === 'drawn' ? null : halfDiagonal(outline.rings) * (outline.width / widthOf(outline.rings));
  const around = nearFaces(
    ground,
    places,
    found.map((s) => s.face),
    reach,
    outline.within,
  );
  if (!around)
    return {
      refused:
        outline.within === 'panel'
          ? 'it leaves the panel that it begins on'
          : 'its corners lie on parts of the shell that do not hang together',
      wayOut: 'Draw it within one panel, or let it go on over seams.',
    };
  // First among all faces near it, then on those alone that it covers: the fewer, the less they are stretched.
  let laid = lay(ground, around, places);
  let rings = ringsOn(ground, laid, outline, found, places);
  const covered = around.filter((f) => areaOf(intersectRings(rings, [laid.rings.get(f)!])) > sliver);
  if (covered.length === 0) return { refused: 'nothing of it lies on the shell', wayOut: again };
  const marked = [...new Set([...covered, ...found.map((s) => s.face)])];
  if (marked.length < around.length && connected(ground, marked).length === 1) {
    laid = lay(ground, marked, places);
    rings = ringsOn(ground, laid, outline, found, places);
  }
  if (laid.misfit > outlineMisfit)
    return {
      refused: `the shell is curved both ways under it: laid flat it would be off by up to ${laid.misfit.toFixed(1)} mm`,
      wayOut: 'Make it smaller, or of several parts.',
    };
  if (overlapOf(laid) > overlapShare)
    return {
      refused: 'it reaches so far round the shell that it lies on itself when laid flat',
      wayOut: 'Make it smaller, or of several parts.',
    };
  const there = intersectRings(rings, laid.outline).filter((r) => Math.abs(ringArea(r)) > shaving);
  if (there.length === 0) return { refused: 'nothing of it lies on the shell', wayOut: again };
  return { laid, rings: there, cutOff: areaOf(rings) - areaOf(there) > 0.002 * areaOf(rings) + shaving };
}

export const areaOf = (rings: Rings): number => rings.reduce((sum, r) => sum + ringArea(r), 0);

/** A part of a region, face by face: what is covered of each, in the coordinates of another flat copy of the face. */
export function faceByFace(
  faces: readonly number[],
  from: ReadonlyMap<number, readonly Point[]>,
  rings: Rings,
  to: (face: number) => readonly Point[],
): { readonly face: number; readonly rings: readonly (readonly Point[])[] }[] {
  return faces.flatMap((face) => {
    const here = from.get(face);
    if (!here) return [];
    const own = intersectRings(rings, [here]);
    if (areaOf(own) <= sliver) return [];
    const carried = carry(here, to(face));
    return [{ face, rings: own.map((r) => r.map(carried)) }];
  });
}

/** The region on another group of flat faces: face by face, put together again. */
export function regionOn({ laid, rings }: Region, group: LaidFaces): Point[][] {
  if (group === laid) return rings.map((r) => [...r]);
  const parts = faceByFace(group.faces, laid.rings, rings, (f) => group.rings.get(f)!);
  return uniteRings(parts.flatMap((p) => p.rings)).filter((r) => Math.abs(ringArea(r)) > shaving);
}

/** A point of a face as it is drawn, on the flat corners of the shell's face that holds it. */
function spotOf(
  ground: Ground,
  { drawn, laid }: Drawing,
  mark: FacePoint,
): { face: number; at: Point } | null {
  const whole = drawn.pieces.flatMap((p) => p.faces).find((f) => f.id === mark.face);
  if (!whole) return null;
  const p = fromParts(mark, whole.polygon);
  let best: { face: number; at: Point; off: number } | null = null;
  ground.patches.forEach(({ face, flat }, i) => {
    if (rootOf(face) !== mark.face || !ground.seats[i]) return;
    const moved = laid[face];
    const at = moved ? carry(moved.drawn, moved.laid)(p) : p;
    const off = isInside(at, [flat]) ? 0 : distanceToRing(at, flat);
    if (!best || off < best.off) best = { face: i, at, off };
  });
  return best;
}

function distanceToRing(p: Point, ring: readonly Point[]): Mm {
  return Math.min(...ring.map((a, i) => distanceToSegment(p, a, ring[(i + 1) % ring.length]!)));
}

/**
 * Faces near those given, by the way over the middles of faces. Without a reach: as far as the farthest of those given
 * is from the first, and a little more. Null when they do not hang together.
 */
function nearFaces(
  ground: Ground,
  places: readonly Point3[],
  given: readonly number[],
  reach: Mm | null,
  within: ShellOutline['within'],
): number[] | null {
  const middles = ground.patches.map(({ vertices }) => {
    const n = vertices.length;
    const sum = vertices.reduce(
      (s, v) => ({ x: s.x + places[v]!.x / n, y: s.y + places[v]!.y / n, z: s.z + places[v]!.z / n }),
      { x: 0, y: 0, z: 0 },
    );
    return { at: sum, size: Math.max(...vertices.map((v) => distance3(places[v]!, sum))) };
  });
  const start = given[0]!;
  const home = ground.seats[start]?.panel;
  const may = (f: number) => ground.seats[f] && (within === 'shell' || ground.seats[f]!.panel === home);
  const far = new Map<number, Mm>([[start, 0]]);
  const open = new Set([start]);
  const done: number[] = [];
  while (open.size > 0) {
    let at = -1;
    for (const f of open) if (at < 0 || far.get(f)! < far.get(at)!) at = f;
    open.delete(at);
    done.push(at);
    const { vertices } = ground.patches[at]!;
    vertices.forEach((v, i) => {
      const next = ground.sideAt(vertices[(i + 1) % vertices.length]!, v)?.face;
      if (next === undefined || !may(next) || done.includes(next)) return;
      const way = far.get(at)! + distance3(middles[at]!.at, middles[next]!.at);
      if (way < (far.get(next) ?? Number.POSITIVE_INFINITY)) far.set(next, way);
      open.add(next);
    });
  }
  if (given.some((f) => !far.has(f))) return null;
  const own = reach ?? Math.max(...given.map((f) => far.get(f)! + middles[f]!.size));
  return done.filter((f) => far.get(f)! - middles[f]!.size <= 1.15 * own + middles[start]!.size);
}

const widthOf = (rings: Rings): Mm => {
  const box = boxOf(rings.flat());
  return Math.max(box.maxX - box.minX, 1e-6);
};
const halfDiagonal = (rings: Rings): Mm => {
  const box = boxOf(rings.flat());
  return Math.hypot(box.maxX - box.minX, box.maxY - box.minY) / 2;
};

function ringsOn(
  ground: Ground,
  laid: LaidFaces,
  outline: ShellOutline,
  spots: readonly { readonly face: number; readonly at: Point }[],
  places: readonly Point3[],
): Point[][] {
  const flat = spots.map(({ face, at }) => carry(ground.patches[face]!.flat, laid.rings.get(face)!)(at));
  if (outline.kind === 'drawn') return uniteRings([outline.curved ? closedCurve(flat) : flat], 'evenOdd');
  const middle = flat[0]!;
  const size = outline.width / widthOf(outline.rings);
  const turn = outline.turn + uprightOf(ground, laid, spots[0]!.face, places);
  return uniteRings(
    outline.rings.map((ring) =>
      ring.map((p) => {
        const q = rotate(p, turn);
        return point(middle.x + size * q.x, middle.y + size * q.y);
      }),
    ),
    'evenOdd',
  );
}

/** How far "up" on a flat face is turned from its y: what is higher on the wearer; on a level face, what is in front. */
function uprightOf(ground: Ground, laid: LaidFaces, face: number, places: readonly Point3[]): Rad {
  const { vertices } = ground.patches[face]!;
  const ring = laid.rings.get(face)!;
  const rise = (of: (p: Point3) => number): Point => {
    // A linear value over the face: its slope from the affine map of the corners.
    const map = carry(
      ring,
      vertices.map((v) => point(of(places[v]!), 0)),
    );
    const o = map(point(0, 0)).x;
    return point(map(point(1, 0)).x - o, map(point(0, 1)).x - o);
  };
  const up = rise((p) => p.z);
  const way = Math.hypot(up.x, up.y) > leastUp ? up : rise((p) => p.y);
  return Math.atan2(way.y, way.x) - Math.PI / 2;
}
