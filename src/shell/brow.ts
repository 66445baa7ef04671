/**
 * The brow section: where a level or tilted plane cuts the largest part of a shell, as one closed line with its taut
 * girth. Axes as those of the shell: x right, y front, z up.
 */
import { distance3, dot3, type Point3, point3 } from '../math';
import type { BrowSection, Plane3, Shell } from '../model';
import type { Mm, Rad } from '../units';
import { ellipseGirth } from './ellipse';
import { openingsOf, sectionOf, tautGirthOf } from './measures';

/** The largest connected part of a shell alone; vertices keep their numbers. */
export function largestPart(shell: Shell): Shell {
  const part = shell.components[0];
  if (!part || shell.components.length === 1) return shell;
  return { ...shell, faces: part.faces.map((f) => shell.faces[f]!) };
}

interface Extent {
  readonly least: Point3;
  readonly most: Point3;
}

/** Box round the largest part of a shell, upright with the axes. */
export function extentOf(shell: Shell, places: readonly Point3[] = shell.vertices): Extent {
  const own = shell.components[0]?.vertices ?? [];
  let least = point3(Infinity, Infinity, Infinity);
  let most = point3(-Infinity, -Infinity, -Infinity);
  for (const v of own) {
    const p = places[v]!;
    least = point3(Math.min(least.x, p.x), Math.min(least.y, p.y), Math.min(least.z, p.z));
    most = point3(Math.max(most.x, p.x), Math.max(most.y, p.y), Math.max(most.z, p.z));
  }
  return { least, most };
}

/**
 * The plane at a height and tilt. It passes at `at` (0 lowest, 1 highest point of the largest part) through the
 * upright line in the middle of the part's box, which for a symmetric shell lies in the mirror plane; `tilt` turns it
 * about the x axis, + higher in front.
 */
export function browPlane(shell: Shell, at: number, tilt: Rad): Plane3 {
  const { least, most } = extentOf(shell);
  const through = point3((least.x + most.x) / 2, (least.y + most.y) / 2, least.z + at * (most.z - least.z));
  const normal = point3(0, -Math.sin(tilt), Math.cos(tilt));
  return { normal, offset: dot3(normal, through) };
}

/** A section as one closed line. */
export interface ClosedSection {
  /** In walking order; an opening is crossed in a straight line. */
  readonly points: readonly Point3[];
  readonly girth: Mm;
  readonly tautGirth: Mm;
  readonly length: Mm;
  readonly breadth: Mm;
  /** Total length of the stretches that bridge openings; 0 for a full round. */
  readonly bridged: Mm;
}

/**
 * A full round that the hull of all crossings exceeds by no more than this part stands for the section alone; what
 * else the plane meets (a crest's own ring, an inner fold) lies within it.
 */
const roundEnough = 1.02;

/**
 * The section of the largest part by a plane as one closed line; null when the plane misses it.
 * @param places where the vertices are: the shell's own, or those of an offset surface
 */
export function closedSection(
  shell: Shell,
  plane: Plane3,
  places: readonly Point3[] = shell.vertices,
): ClosedSection | null {
  const { loops } = sectionOf({ ...largestPart(shell), vertices: places }, plane);
  const chains = loops.filter((loop) => loop.points.length > 1);
  if (chains.length === 0) return null;
  const all = tautGirthOf(
    chains.flatMap((c) => [...c.points]),
    plane.normal,
  );
  const rounds = chains.filter((c) => c.closed).sort((p, q) => q.tautGirth - p.tautGirth);
  const round = rounds[0];
  if (round && round.tautGirth * roundEnough >= all) return measured(round.points, plane, 0);
  const { points, bridged } = joinChains(chains.filter((c) => !c.closed).map((c) => c.points));
  const joined = points.length > 2 ? measured(points, plane, bridged) : null;
  if (!joined) return round ? measured(round.points, plane, 0) : null;
  return round && round.tautGirth >= joined.tautGirth ? measured(round.points, plane, 0) : joined;
}

/** Open chains, all running the same way round, put one after the other: from each end to the nearest start. */
function joinChains(chains: readonly (readonly Point3[])[]): { points: Point3[]; bridged: Mm } {
  const rest = [...chains];
  const first = rest.shift();
  if (!first) return { points: [], bridged: 0 };
  const points = [...first];
  let bridged = 0;
  for (;;) {
    const end = points.at(-1)!;
    const home = distance3(end, points[0]!);
    let best = -1;
    let nearest = Number.POSITIVE_INFINITY;
    rest.forEach((chain, i) => {
      const d = distance3(end, chain[0]!);
      if (d < nearest) {
        nearest = d;
        best = i;
      }
    });
    if (best < 0) return { points, bridged: bridged + home };
    bridged += nearest;
    points.push(...rest.splice(best, 1)[0]!);
  }
}

function measured(points: readonly Point3[], plane: Plane3, bridged: Mm): ClosedSection {
  // Front along the plane: square to x and to the plane's normal.
  const { y, z } = plane.normal;
  const level = Math.hypot(y, z);
  const front = level === 0 ? point3(0, 1, 0) : point3(0, z / level, -y / level);
  const along = points.map((p) => dot3(p, front));
  const across = points.map((p) => p.x);
  return {
    points,
    girth: points.reduce((sum, p, i) => sum + distance3(p, points[(i + 1) % points.length]!), 0),
    tautGirth: tautGirthOf(points, plane.normal),
    length: Math.max(...along) - Math.min(...along),
    breadth: Math.max(...across) - Math.min(...across),
    bridged,
  };
}

/** A level plane that suits a head. */
export interface ProposedBrow {
  readonly at: number;
  readonly tilt: Rad;
}

/**
 * Levels that are tried, as parts of the height: first roughly, then finely (every 1 to 2 mm of a helmet) beside the
 * best rough one.
 */
const levels = { from: 0.1, to: 0.92, rough: 0.02, fine: 0.005 } as const;
/**
 * Openings with less girth than this part of the longest are eyelets and vents: a tape runs over them.
 */
const realOpening = 0.2;
/**
 * A brow keeps so far above an opening, as a part of the height: the inside of the foam lies a little lower where the
 * wall slopes, and its rim must not cut the tape's way.
 */
const aboveOpening = 0.02;
/**
 * How much each part by which a section departs from a head's shape (an ellipse, convex) counts against its girth. A
 * beak, a ridge or a crest departs by 1.5 to 4 %, which must outweigh the 10 to 20 % that it adds to the girth.
 */
const shapeWeight = 8;
/** Length to breadth that still can hold a head; people have 1.19 to 1.39 (5th to 95th percentile, ANSUR II). */
const headRatio = { least: 0.95, most: 1.55 } as const;

/**
 * Proposes the brow: the level section of largest taut girth, less a penalty for every departure from a convex ellipse,
 * above the face and neck openings. Where no level above them is a full round, the best full round anywhere; failing
 * that the section of largest taut girth with its openings bridged.
 */
export function proposeBrow(shell: Shell): ProposedBrow {
  const floor = openingTop(shell) + aboveOpening;
  const count = Math.round((levels.to - levels.from) / levels.rough);
  const rough = Array.from({ length: count + 1 }, (_, i) => levels.from + i * levels.rough);
  const first = bestLevel(
    rough.flatMap((at) => judgeLevel(shell, at)),
    floor,
  );
  if (!first) return { at: 0.5, tilt: 0 };
  const steps = Math.round(levels.rough / levels.fine);
  const fine = Array.from({ length: 2 * steps - 1 }, (_, i) => first.at + (i + 1 - steps) * levels.fine);
  const level = bestLevel([...fine.flatMap((at) => judgeLevel(shell, at))], floor) ?? first;
  return { at: level.at, tilt: 0 };
}

interface JudgedLevel {
  readonly at: number;
  readonly score: Mm;
  /** A full round that could hold a head. */
  readonly round: boolean;
}

/** One judged level, or none where the plane meets nothing to measure. */
function judgeLevel(shell: Shell, at: number): JudgedLevel[] {
  const section = closedSection(shell, browPlane(shell, at, 0));
  if (!section || section.tautGirth === 0) return [];
  const { length, breadth, girth, tautGirth, bridged } = section;
  const ratio = length / breadth;
  const round = bridged === 0 && ratio >= headRatio.least && ratio <= headRatio.most;
  const departure =
    Math.abs(tautGirth / ellipseGirth(length, breadth) - 1) + Math.max(0, girth / tautGirth - 1);
  return [{ at, score: tautGirth * (round ? Math.max(0.01, 1 - shapeWeight * departure) : 1), round }];
}

function bestLevel(found: readonly JudgedLevel[], floor: number): JudgedLevel | null {
  // The first of equals, so that rounding does not choose between levels of an upright wall.
  const best = (list: readonly JudgedLevel[]) =>
    list.reduce<JudgedLevel | null>(
      (top, level) => (top === null || level.score > top.score * (1 + 1e-9) ? level : top),
      null,
    );
  const rounds = found.filter((level) => level.round);
  return best(rounds.filter(({ at }) => at >= floor)) ?? best(rounds) ?? best(found);
}

/** Highest place of the real openings, as a part of the height; openings at the crown are left out. */
function openingTop(shell: Shell): number {
  const { least, most } = extentOf(shell);
  const openings = openingsOf(largestPart(shell));
  const longest = openings[0]?.girth ?? 0;
  const tops = openings
    .filter((o) => o.girth >= realOpening * longest)
    .map((o) => (Math.max(...o.points.map((p) => p.z)) - least.z) / (most.z - least.z))
    .filter((top) => top < levels.to - aboveOpening);
  return Math.max(0, ...tops);
}

/** The brow section as the contract has it; null when the plane misses the shell. */
export function browSection(
  shell: Shell,
  brow: { readonly at: number; readonly tilt: Rad; readonly proposed: boolean },
  plane: Plane3 = browPlane(shell, brow.at, brow.tilt),
  places: readonly Point3[] = shell.vertices,
): BrowSection | null {
  const section = closedSection(shell, plane, places);
  if (!section) return null;
  const { points, girth, tautGirth, length, breadth } = section;
  return { plane, ...brow, loop: { points, girth }, tautGirth, length, breadth };
}
