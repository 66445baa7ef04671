import type { Mm, Rad } from '../units';

/** A point or vector of the plane, mm. Which space it lies in is said by the record that holds it. */
export interface Point {
  readonly x: Mm;
  readonly y: Mm;
}

export const point = (x: number, y: number): Point => ({ x, y });
export const add = (a: Point, b: Point): Point => ({ x: a.x + b.x, y: a.y + b.y });
export const subtract = (a: Point, b: Point): Point => ({ x: a.x - b.x, y: a.y - b.y });
export const scaleBy = (a: Point, k: number): Point => ({ x: a.x * k, y: a.y * k });
export const dot = (a: Point, b: Point): number => a.x * b.x + a.y * b.y;
/** z of the cross product: positive when b lies counter-clockwise of a (y up). */
export const cross = (a: Point, b: Point): number => a.x * b.y - a.y * b.x;
export const norm = (a: Point): number => Math.hypot(a.x, a.y);
export const distance = (a: Point, b: Point): Mm => Math.hypot(a.x - b.x, a.y - b.y);
export const lerp = (a: Point, b: Point, t: number): Point => ({
  x: a.x + (b.x - a.x) * t,
  y: a.y + (b.y - a.y) * t,
});
/** Unit vector of a; the zero vector stays zero. */
export const unitOf = (a: Point): Point => {
  const n = norm(a);
  return n === 0 ? { x: 0, y: 0 } : { x: a.x / n, y: a.y / n };
};
/** a turned by +90 degrees (counter-clockwise, y up). */
export const turnLeft = (a: Point): Point => ({ x: -a.y, y: a.x });
/** a turned by −90 degrees: for a counter-clockwise outline the outward normal of a forward edge. */
export const turnRight = (a: Point): Point => ({ x: a.y, y: -a.x });
/** a turned counter-clockwise by the angle. */
export const rotate = (a: Point, angle: Rad): Point => {
  const c = Math.cos(angle);
  const s = Math.sin(angle);
  return { x: a.x * c - a.y * s, y: a.x * s + a.y * c };
};
export const directionAngle = (a: Point): Rad => Math.atan2(a.y, a.x);
