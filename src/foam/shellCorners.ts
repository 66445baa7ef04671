/**
 * Where the corners of a panel go from the neutral surface to a skin at height h above it.
 *
 * Two rules are exact in one model of foam each: "lines" (the two shifted edges meet, along their bisector where they
 * hardly turn) when every face stays rigid, "shell" (the corner of the offset shell pulled back into the plane) when
 * the skin stretches to the bisector plane of each fold. Between bevels half of each is taken: the best worst case (own
 * study); where a bevel ends on a border, the shell's.
 */

import type { Point3 } from '../math';
import {
  add,
  add3,
  dot,
  dot3,
  norm,
  type Point,
  point,
  scaleBy,
  scaleBy3,
  subtract3,
  turnRight,
} from '../math';
import type { Mm } from '../units';
import type { FanFace } from './neutralPieces';
import { blendBelow, cornerReach } from './tolerance';

/** One of the two edges at a corner: its direction as the outline runs, and how far it moves out. */
export interface MovedSide {
  readonly direction: Point;
  readonly shift: Mm;
}

/** The mitre of the faces round a corner: mean normal over its mean rise. A corner at height h of the bent panel stands
 *  at h times it above the neutral corner, before the outline's own shift. */
export function fanMitre(fan: readonly FanFace[]): Point3 {
  const sum = fan.reduce((n, f) => add3(n, f.normal), { x: 0, y: 0, z: 0 });
  const rise = fan.reduce((r, f) => r + dot3(sum, f.normal), 0) / fan.length;
  return rise > 0 ? scaleBy3(sum, 1 / rise) : sum;
}

/** The corner of the offset shell pulled back into the flat panel, for one unit of height. */
export function shellCorner(fan: readonly FanFace[], vector: Point3): Point {
  const off = subtract3(vector, fanMitre(fan));
  return point(
    fan.reduce((s, f) => s + dot3(off, f.x), 0) / fan.length,
    fan.reduce((s, f) => s + dot3(off, f.y), 0) / fan.length,
  );
}

/**
 * Where the two shifted edges meet. Below 20° of turn along the bisector by the mean of both shifts, or by the deeper
 * one; at most `cornerReach` times the larger shift away.
 */
export function lineCorner(before: MovedSide, after: MovedSide, blend: 'mean' | 'deeper'): Point {
  const n1 = turnRight(before.direction);
  const n2 = turnRight(after.direction);
  const cos = dot(n1, n2);
  const sin = n1.x * n2.y - n1.y * n2.x;
  const { shift: s1 } = before;
  const { shift: s2 } = after;
  const sum = add(n1, n2);
  let d: Point;
  if (Math.abs(Math.atan2(sin, cos)) < blendBelow)
    d = scaleBy(sum, (blend === 'deeper' ? 2 * Math.min(s1, s2) : s1 + s2) / dot(sum, sum));
  // n · d = s for both edges; lines that run straight back have no meeting place.
  else if (Math.abs(sin) < 1e-9) d = scaleBy(before.direction, Math.max(Math.abs(s1), Math.abs(s2)));
  else d = point((s1 * n2.y - s2 * n1.y) / sin, (s2 * n1.x - s1 * n2.x) / sin);
  const reach = cornerReach * Math.max(Math.abs(s1), Math.abs(s2));
  const far = norm(d);
  return far > reach ? scaleBy(d, reach / far) : d;
}

/** A displacement in the flat panel as it is in space: the mean over the faces round the corner. */
export function inSpace(fan: readonly FanFace[], d: Point): Point3 {
  return scaleBy3(
    fan.reduce((p, f) => add3(p, add3(scaleBy3(f.x, d.x), scaleBy3(f.y, d.y))), { x: 0, y: 0, z: 0 }),
    1 / fan.length,
  );
}
