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
  dot3,
  norm3,
  type Point3,
  point3,
  ringArea,
  scaleBy3,
  subtract3,
  unitOf3,
} from '../math';
import type { Mm } from '../units';
import { eliminated } from './chebyshev';
import { type CoveringSheet, follows, mostOff } from './coveringSheet';
import { type Axis, across, type Fitted, fitted, offs, rayAt, tangentAt } from './sheetSection';
import { clearlyBetter, leanPrice } from './tolerance';
import { unrolled } from './unrolledSheet';

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
    return unrolled(fitted(points, middle, { ...axis, taper }, closed)!);
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

/** Directions spread evenly over the upper half of a sphere (golden spiral). */
function hemisphere(count: number): Point3[] {
  const golden = Math.PI * (3 - Math.sqrt(5));
  return Array.from({ length: count }, (_, i) => {
    const z = 1 - (i + 0.5) / count;
    const r = Math.sqrt(1 - z * z);
    return point3(r * Math.cos(golden * i), r * Math.sin(golden * i), z);
  });
}

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
