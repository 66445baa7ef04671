import type { Mm } from '../units';

/** A point or vector of space, mm: x to the wearer's left, y to the front, z up where a shell is oriented. */
export interface Point3 {
  readonly x: Mm;
  readonly y: Mm;
  readonly z: Mm;
}

export const point3 = (x: number, y: number, z: number): Point3 => ({ x, y, z });
export const add3 = (a: Point3, b: Point3): Point3 => ({ x: a.x + b.x, y: a.y + b.y, z: a.z + b.z });
export const subtract3 = (a: Point3, b: Point3): Point3 => ({ x: a.x - b.x, y: a.y - b.y, z: a.z - b.z });
export const scaleBy3 = (a: Point3, k: number): Point3 => ({ x: a.x * k, y: a.y * k, z: a.z * k });
export const dot3 = (a: Point3, b: Point3): number => a.x * b.x + a.y * b.y + a.z * b.z;
export const cross3 = (a: Point3, b: Point3): Point3 => ({
  x: a.y * b.z - a.z * b.y,
  y: a.z * b.x - a.x * b.z,
  z: a.x * b.y - a.y * b.x,
});
export const norm3 = (a: Point3): number => Math.hypot(a.x, a.y, a.z);
export const distance3 = (a: Point3, b: Point3): Mm => Math.hypot(a.x - b.x, a.y - b.y, a.z - b.z);
/** Unit vector of a; the zero vector stays zero. */
export const unitOf3 = (a: Point3): Point3 => {
  const n = norm3(a);
  return n === 0 ? a : scaleBy3(a, 1 / n);
};
