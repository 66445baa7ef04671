/** Polylines by the way along them. */
import { type Point, pointAlong, polylineLength } from '../math';
import { samePlace } from './tolerance';

export const alongLine = (points: readonly Point[], s: number): Point => pointAlong(points, s).at;

/** Places in order, those that are one taken once. */
export function joinPlaces(places: readonly number[]): number[] {
  const out: number[] = [];
  for (const s of [...places].sort((a, b) => a - b)) if (s - (out.at(-1) ?? -1) > samePlace) out.push(s);
  return out;
}

/** The line cut at places along it, in order: one part more than places. */
export function partsOfLine(points: readonly Point[], places: readonly number[]): Point[][] {
  const stops = [0, ...places, polylineLength(points)];
  return stops.slice(1).map((to, i) => {
    const from = stops[i]!;
    const out: Point[] = [i === 0 ? points[0]! : alongLine(points, from)];
    let run = 0;
    for (let k = 1; k < points.length; k++) {
      run += Math.hypot(points[k]!.x - points[k - 1]!.x, points[k]!.y - points[k - 1]!.y);
      if (run > from + samePlace / 2 && run < to - samePlace / 2) out.push(points[k]!);
    }
    out.push(i + 2 === stops.length ? points.at(-1)! : alongLine(points, to));
    return out;
  });
}
