/** A sheet over an opening, bent or folded, as the parts that are cut from it need it; and how well it follows a rim. */
import { distance, distance3, type Point, type Point3 } from '../math';
import type { Plane3 } from '../model';
import type { Mm, Rad } from '../units';
import { visorOff, visorStretch } from './tolerance';

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
  /** Where a point of the flat sheet lies in space; beyond the rim the sheet goes on as it ends there. */
  readonly inSpace: (p: Point) => Point3;
  /** Sharp folds; none on a sheet that bends evenly. */
  readonly folds: readonly { readonly points: readonly [Point, Point]; readonly bend: Rad }[];
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
