/** A cylinder or cone of a given axis with the section that comes nearest to points, by least squares. */
import { add3, cross3, dot3, type Point3, point3, scaleBy3, subtract3, unitOf3 } from '../math';
import type { Mm, Rad } from '../units';
import { chebyshev, fitChebyshev } from './chebyshev';
import { sheetTerms, widestSheet } from './tolerance';

/** Which way the sheet is straight. */
export interface Axis {
  readonly along: Point3;
  /** 1 / distance of the apex from the middle along the axis; 0 for a cylinder. */
  readonly taper: number;
}

export interface Fitted {
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

export function fitted(
  points: readonly Point3[],
  middle: Point3,
  axis: Axis,
  closed: boolean,
): Fitted | null {
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
export const offs = ({ seen, section }: Fitted): Mm[] =>
  seen.map(({ angle, radius, size }) => {
    const s = section(angle);
    return ((radius - s.radius) * size) / Math.hypot(1, s.slope / s.radius);
  });

/** Unit vectors square to a direction, right-handed with it. */
export function across(along: Point3): [Point3, Point3] {
  const other = Math.abs(along.z) < 0.9 ? point3(0, 0, 1) : point3(0, 1, 0);
  const u = unitOf3(cross3(other, along));
  return [u, cross3(along, u)];
}

/** The way up the line of the sheet at an angle, from the apex or to it. */
export function rayAt({ axis, frame, section }: Fitted, angle: Rad, apex: Mm): Point3 {
  const { radius } = section(angle);
  const foot = add3(
    scaleBy3(frame[0], radius * Math.cos(angle)),
    scaleBy3(frame[1], radius * Math.sin(angle)),
  );
  return scaleBy3(subtract3(scaleBy3(axis.along, apex), foot), Math.sign(apex));
}

/** Unit tangent of the section, the way that angles grow. */
export function tangentAt(section: Fitted['section'], frame: Fitted['frame'], angle: Rad): Point3 {
  const { radius, slope } = section(angle);
  const [c, s] = [Math.cos(angle), Math.sin(angle)];
  return unitOf3(
    add3(scaleBy3(frame[0], slope * c - radius * s), scaleBy3(frame[1], slope * s + radius * c)),
  );
}
