/** Where a flat face lies in space: its flat axes, its normal, and its points. */
import { add3, cross3, type Point, type Point3, scaleBy3 } from '../math';

export interface Pose {
  readonly x: Point3;
  readonly y: Point3;
  readonly normal: Point3;
  readonly put: (p: Point) => Point3;
}

/** @param x, y unit and square to each other */
export const poseOf = (x: Point3, y: Point3, origin: Point3): Pose => ({
  x,
  y,
  normal: cross3(x, y),
  put: (p) => add3(origin, add3(scaleBy3(x, p.x), scaleBy3(y, p.y))),
});
