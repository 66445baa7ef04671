/**
 * The sheet that bends one way only and comes nearest to points round an opening: a general cylinder or cone. From the
 * middle of the shell the points are seen at angles round the axis; what the sheet's section has for each angle is
 * found by least squares. All of it is developable by construction, so laying it flat neither stretches nor squeezes
 * it: what is not developable about an opening shows as the distance of its rim from the sheet.
 *
 * A cone is a cylinder seen in perspective: points are projected from the apex onto the plane through the middle.
 */
import {
  add3,
  cross3,
  distance,
  distance3,
  dot3,
  norm3,
  type Point,
  type Point3,
  point,
  point3,
  ringArea,
  scaleBy3,
  subtract3,
  unitOf3,
} from '../math';
import type { Plane3 } from '../model';
import type { Mm, Rad } from '../units';
import { chebyshev, eliminated, fitChebyshev } from './chebyshev';
import { clearlyBetter, leanPrice, sheetTerms, visorOff, visorStretch, widestSheet } from './tolerance';

/** Which way the sheet is straight. */
interface Axis {
  readonly along: Point3;
  /** 1 / distance of the apex from the middle along the axis; 0 for a cylinder. */
  readonly taper: number;
}

/** A developable sheet over an opening. */
export interface CoveringSheet {
  /** The points on the flat sheet, seen from outside, the axis upright. */
  readonly flat: readonly Point[];
  /** Distance of each point from the sheet, + outside. */
  readonly off: readonly Mm[];
  /** Unit normal of the sheet at each point, outwards. */
  readonly normals: readonly Point3[];
  /** Where a plane meets the sheet, over as much of it as the points take: stretches from left to right. */
  readonly lineOf: (plane: Plane3) => readonly (readonly [Point, Point])[];
  /** Sharp folds; none on a sheet that bends evenly. */
  readonly folds: readonly { readonly points: readonly [Point, Point]; readonly bend: Rad }[];
}

/** Steps of the first search over directions, and rounds in which each of the best is refined. */
const directions = 120;
const refinements = 25;
/** Step of the slopes, and the largest of a round, radians and parts of the reach. */
const tinyStep = 1e-5;
const largestStep = 0.3;
/** Kinds of sheet that are looked into, and the cosine between their axes below which they are different kinds. */
const kindsTried = 4;
/** Sheets whose areas differ by less than this factor are of one kind: the nearer one is taken. */
const sameArea = 1.15;
const otherKind = Math.cos(Math.PI / 6);
const firstTapers: readonly number[] = [-0.35, 0.35];

/**
 * Several directions can fit: a U-shaped channel holds the rim of a window as a barrel does. Of the best of each kind
 * that fit, one of the least area is taken.
 * @param points round an opening, or along a part of its rim, in order
 * @param into from each point into the shell beside it, unit vectors: a sheet that goes on as the shell does is preferred
 * @param middle of the shell, on the inner side of the opening
 * @param closed whether the last point is followed by the first
 * @returns null when no sheet covers them without going round the middle
 */
export function bentSheet(
  points: readonly Point3[],
  into: readonly Point3[],
  middle: Point3,
  closed: boolean,
): CoveringSheet | null {
  const reach = Math.max(...points.map((p) => norm3(subtract3(p, middle))));
  const misses = (axis: Axis) => missesOf(fitted(points, middle, axis, closed), into);
  const cost = (axis: Axis): number => costOf(misses(axis));
  const tried = hemisphere(directions)
    .map((along): Priced => {
      const axis = { along, taper: 0 };
      return { axis, cost: cost(axis) };
    })
    .filter((p) => Number.isFinite(p.cost))
    .sort((p, q) => p.cost - q.cost);
  const kinds: Priced[] = [];
  for (const one of tried) {
    if (kinds.length === kindsTried) break;
    if (kinds.every((k) => Math.abs(dot3(k.axis.along, one.axis.along)) < otherKind)) kinds.push(one);
  }
  const sheets = kinds.map((start) => {
    const cylinder = refined(start, misses, null);
    const tapered = [cylinder, ...firstTapers.map((t) => tapering(cylinder, t / reach, cost))].reduce(
      cheaper,
    );
    const cone = refined(tapered, misses, reach);
    // A cone has one more figure to choose: it must be worth it.
    const { axis } = cone.cost < clearlyBetter * cylinder.cost ? cone : cylinder;
    // So slight a taper is none; rounding would move the apex about.
    const taper = Math.abs(axis.taper * reach) < 1e-3 ? 0 : axis.taper;
    return laid(fitted(points, middle, { ...axis, taper }, closed)!);
  });
  const fitting = sheets.filter((sheet) => follows(sheet, points, closed));
  const areaOf = ({ flat }: CoveringSheet) => Math.abs(ringArea(flat));
  const small = Math.min(...fitting.map(areaOf)) * sameArea;
  const eligible = fitting.length > 0 ? fitting.filter((sheet) => areaOf(sheet) <= small + 1) : sheets;
  return eligible.reduce<CoveringSheet | null>(
    (best, sheet) => (best && mostOff(best) <= mostOff(sheet) ? best : sheet),
    null,
  );
}

/** Largest distance of a point from the sheet. */
export const mostOff = ({ off }: CoveringSheet): Mm => Math.max(...off.map(Math.abs));

/** By how much the line of the points is longer on the sheet than in space. */
export function longerBy({ flat }: CoveringSheet, points: readonly Point3[], closed: boolean): Mm {
  let sum = 0;
  for (let i = closed ? 0 : 1; i < points.length; i++) {
    const before = (i + points.length - 1) % points.length;
    sum += distance(flat[before]!, flat[i]!) - distance3(points[before]!, points[i]!);
  }
  return sum;
}

/** Whether foam can be pulled in to the points. */
export const follows = (sheet: CoveringSheet, points: readonly Point3[], closed: boolean): boolean =>
  mostOff(sheet) <= visorOff && Math.abs(longerBy(sheet, points, closed)) <= visorStretch;

interface Priced {
  readonly axis: Axis;
  readonly cost: number;
}

const cheaper = (p: Priced, q: Priced): Priced => (q.cost < p.cost ? q : p);

const tapering = ({ axis: { along } }: Priced, taper: number, cost: (axis: Axis) => number): Priced => {
  const axis = { along, taper };
  return { axis, cost: cost(axis) };
};

/**
 * Levenberg-Marquardt over the two turns of the axis and, with a reach, the taper; slopes by differences.
 * @param misses what each point misses by with an axis; null where none can be fitted
 * @param reach of the points, to scale steps of the taper; null: a cylinder
 */
function refined(start: Priced, misses: (axis: Axis) => readonly number[] | null, reach: Mm | null): Priced {
  let best = start;
  let now = misses(start.axis);
  let damping = 1e-3;
  const count = reach === null ? 2 : 3;
  for (let round = 0; round < refinements && now; round++) {
    const { along, taper } = best.axis;
    const [u, v] = across(along);
    const moved = ([a, b, c]: readonly number[]): Axis => {
      return {
        along: unitOf3(add3(along, add3(scaleBy3(u, a!), scaleBy3(v, b!)))),
        taper: reach === null ? taper : taper + (c ?? 0) / reach,
      };
    };
    const slopes = Array.from({ length: count }, (_, k) => {
      const there = misses(moved([0, 1, 2].map((i) => (i === k ? tinyStep : 0))));
      return there ? there.map((r, i) => (r - now![i]!) / tinyStep) : null;
    });
    if (slopes.some((s) => s === null)) break;
    const rows = slopes.map((s) => [
      ...slopes.map((t) => s!.reduce((sum, x, i) => sum + x * t![i]!, 0)),
      -s!.reduce((sum, x, i) => sum + x * now![i]!, 0),
    ]);
    for (let k = 0; k < count; k++) rows[k]![k]! *= 1 + damping;
    const step = eliminated(rows).map((x) => Math.max(-largestStep, Math.min(largestStep, x)));
    const axis = moved(step);
    const there = misses(axis);
    const cost = costOf(there);
    if (there && cost < best.cost) {
      const gain = best.cost - cost;
      best = { axis, cost };
      now = there;
      damping /= 5;
      if (gain < 1e-6) break;
    } else damping *= 8;
  }
  return best;
}

/** Unit vectors square to a direction, right-handed with it. */
function across(along: Point3): [Point3, Point3] {
  const other = Math.abs(along.z) < 0.9 ? point3(0, 0, 1) : point3(0, 1, 0);
  const u = unitOf3(cross3(other, along));
  return [u, cross3(along, u)];
}

/** Directions spread evenly over the upper half of a sphere (golden spiral). */
function hemisphere(count: number): Point3[] {
  const golden = Math.PI * (3 - Math.sqrt(5));
  return Array.from({ length: count }, (_, i) => {
    const z = 1 - (i + 0.5) / count;
    const r = Math.sqrt(1 - z * z);
    return point3(r * Math.cos(golden * i), r * Math.sin(golden * i), z);
  });
}

interface Fitted {
  readonly axis: Axis;
  readonly frame: readonly [Point3, Point3];
  readonly middle: Point3;
  /** Of each point: angle round the axis, distance from it in the plane of the middle, height, enlargement there. */
  readonly seen: readonly {
    readonly angle: Rad;
    readonly radius: Mm;
    readonly height: Mm;
    readonly size: number;
  }[];
  readonly from: Rad;
  readonly to: Rad;
  /** Radius of the section at an angle, and how it changes. */
  readonly section: (angle: Rad) => { readonly radius: Mm; readonly slope: number };
}

function fitted(points: readonly Point3[], middle: Point3, axis: Axis, closed: boolean): Fitted | null {
  const { along, taper } = axis;
  const frame = across(along);
  const seen: { angle: Rad; radius: Mm; height: Mm; size: number }[] = [];
  let before: Rad | null = null;
  for (const p of points) {
    const d = subtract3(p, middle);
    const height = dot3(d, along);
    const size = 1 - taper * height;
    if (size < 0.2) return null;
    const [a, b] = [dot3(d, frame[0]) / size, dot3(d, frame[1]) / size];
    const radius = Math.hypot(a, b);
    const raw = Math.atan2(b, a);
    const angle: Rad = before === null ? raw : before + turned(raw - before);
    before = angle;
    seen.push({ angle, radius, height, size });
  }
  const angles = seen.map((s) => s.angle);
  const [from, to] = [Math.min(...angles), Math.max(...angles)];
  // Once round the axis is a tube, not a sheet over an opening.
  const back = turned(angles[0]! - before!);
  if (closed && Math.abs(before! + back - angles[0]!) > 1) return null;
  if (to - from > widestSheet || to - from < 1e-3) return null;
  if (seen.some((s) => s.radius < 1)) return null;
  const scaled = (angle: Rad) => (2 * (angle - from)) / (to - from) - 1;
  // 1 / radius is smooth even for a plane, where it is a cosine; a change of it by δ moves the section by radius² δ.
  const degree = Math.max(1, Math.min(sheetTerms, Math.floor(points.length / 4)));
  const terms = fitChebyshev(
    seen.map((s) => ({ at: scaled(s.angle), value: 1 / s.radius, weight: s.radius ** 2 })),
    degree,
  );
  const section = (angle: Rad) => {
    const { value, slope } = chebyshev(terms, scaled(angle));
    return { radius: 1 / value, slope: (-slope * 2) / (to - from) / (value * value) };
  };
  const inverse = Array.from({ length: 33 }, (_, k) => chebyshev(terms, -1 + k / 16).value);
  if (inverse.some((v) => !(v > 0))) return null;
  return { axis, frame, middle, seen, from, to, section };
}

const turned = (angle: Rad): Rad => Math.atan2(Math.sin(angle), Math.cos(angle));

/** Distance of each point from the sheet, to first order. */
const offs = ({ seen, section }: Fitted): Mm[] =>
  seen.map(({ angle, radius, size }) => {
    const s = section(angle);
    return ((radius - s.radius) * size) / Math.hypot(1, s.slope / s.radius);
  });

/** What each point misses the sheet by, and how far the sheet stands off the way that the shell goes on there. */
function missesOf(fit: Fitted | null, into: readonly Point3[]): number[] | null {
  if (!fit) return null;
  const { seen, axis, frame, section } = fit;
  const apex = axis.taper === 0 ? null : 1 / axis.taper;
  const leaning = seen.map(({ angle }, i) => {
    const ray = apex === null ? axis.along : rayAt(fit, angle, apex);
    return leanPrice * dot3(into[i]!, unitOf3(cross3(tangentAt(section, frame, angle), ray)));
  });
  return [...offs(fit), ...leaning];
}

const costOf = (misses: readonly number[] | null): number =>
  misses
    ? Math.sqrt((2 * misses.reduce((sum, d) => sum + d * d, 0)) / misses.length)
    : Number.POSITIVE_INFINITY;

/** The way up the line of the sheet at an angle, from the apex or to it. */
function rayAt({ axis, frame, section }: Fitted, angle: Rad, apex: Mm): Point3 {
  const { radius } = section(angle);
  const foot = add3(
    scaleBy3(frame[0], radius * Math.cos(angle)),
    scaleBy3(frame[1], radius * Math.sin(angle)),
  );
  return scaleBy3(subtract3(scaleBy3(axis.along, apex), foot), Math.sign(apex));
}

/** Steps of the section that is unrolled. */
const steps = 512;

function laid(fit: Fitted): CoveringSheet {
  const { axis, frame, middle, seen, from, to, section } = fit;
  const { along, taper } = axis;
  // A little beyond the points on both sides: feet of normals lie there.
  const wide = 0.05 * (to - from);
  const [start, end] = [from - wide, to + wide];
  const angleAt = (k: number): Rad => start + ((end - start) * k) / steps;
  const held = (angle: Rad): Rad => Math.min(Math.max(angle, from - wide), to + wide);
  const inPlane = (angle: Rad): Point3 => {
    const { radius } = section(angle);
    return add3(scaleBy3(frame[0], radius * Math.cos(angle)), scaleBy3(frame[1], radius * Math.sin(angle)));
  };
  const spots = Array.from({ length: steps + 1 }, (_, k) => inPlane(angleAt(k)));
  const apex = taper === 0 ? null : scaleBy3(along, 1 / taper);
  // How far each step unrolls: along a cylinder as a length, about the apex of a cone as an angle.
  const unrolled = [0];
  for (let k = 1; k <= steps; k++) {
    const [p, q] = [spots[k - 1]!, spots[k]!];
    const step = apex ? angleBetween(subtract3(p, apex), subtract3(q, apex)) : norm3(subtract3(q, p));
    unrolled.push(unrolled[k - 1]! + step);
  }
  const half = unrolled[steps]! / 2;
  const unrolledAt = (angle: Rad): number => {
    const k = Math.min(steps - 1, Math.max(0, ((angle - start) / (end - start)) * steps));
    const i = Math.floor(k);
    return unrolled[i]! + (k - i) * (unrolled[i + 1]! - unrolled[i]!) - half;
  };
  /** The flat place of a point of the line of the sheet at an angle, at a height above the plane of the middle. */
  const place = (angle: Rad, height: Mm): Point => {
    const t = unrolledAt(angle);
    if (!apex) return point(t, height);
    const ray = subtract3(inPlane(angle), apex);
    // The line from the apex reaches the plane of the middle at its full length; heights are parts of it.
    const far = norm3(ray) * Math.abs(1 - taper * height);
    const down = taper > 0 ? -1 : 1;
    return point(far * Math.sin(t), 1 / taper + down * far * Math.cos(t));
  };
  const off = offs(fit);
  const feet = seen.map(({ angle, radius, size }, i) => {
    const s = section(angle);
    // The foot of the normal, to first order: a step along the tangent by the offset's part in it.
    const step = ((radius - s.radius) * s.slope) / (s.radius ** 2 + s.slope ** 2);
    const at = held(angle + step);
    const tangent = tangentAt(section, frame, at);
    const ray = apex ? unitOf3(subtract3(inPlane(at), apex)) : along;
    const upward = apex && taper > 0 ? scaleBy3(ray, -1) : ray;
    const normal = unitOf3(cross3(tangent, upward));
    // On a cone the foot of the normal lies off the point's height by what the wall leans.
    const height = seen[i]!.height - off[i]! * dot3(normal, along);
    return { at, height, normal, size };
  });
  return {
    flat: feet.map(({ at, height }) => place(at, height)),
    off,
    normals: feet.map(({ normal }) => normal),
    folds: [],
    lineOf: ({ normal, offset }) => {
      const line: Point[] = [];
      for (let k = 0; k <= steps; k += 4) {
        const angle = angleAt(k);
        const foot = add3(middle, inPlane(angle));
        // The line of the sheet at this angle: foot + h · way, by height h over the plane of the middle.
        const way = apex ? scaleBy3(subtract3(apex, inPlane(angle)), taper) : along;
        const steep = dot3(normal, way);
        if (Math.abs(steep) < 1e-6) continue;
        const height = (offset - dot3(normal, foot)) / steep;
        if (1 - taper * height > 0.05) line.push(place(angle, height));
      }
      return line.slice(1).map((q, i) => [line[i]!, q] as const);
    },
  };
}

/** Unit tangent of the section, the way that angles grow. */
function tangentAt(section: Fitted['section'], frame: Fitted['frame'], angle: Rad): Point3 {
  const { radius, slope } = section(angle);
  const [c, s] = [Math.cos(angle), Math.sin(angle)];
  return unitOf3(
    add3(scaleBy3(frame[0], slope * c - radius * s), scaleBy3(frame[1], slope * s + radius * c)),
  );
}

function angleBetween(p: Point3, q: Point3): Rad {
  return Math.atan2(norm3(cross3(p, q)), dot3(p, q));
}
