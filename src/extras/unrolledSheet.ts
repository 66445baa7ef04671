/** A fitted cylinder or cone laid flat, with the ways from space to the flat sheet and back. */
import {
  add3,
  cross3,
  dot3,
  norm3,
  type Point,
  type Point3,
  point,
  scaleBy3,
  subtract3,
  unitOf3,
} from '../math';
import type { Mm, Rad } from '../units';
import type { CoveringSheet } from './coveringSheet';
import { type Fitted, offs, tangentAt } from './sheetSection';

/** Steps of the section that is unrolled. */
const steps = 512;

export function unrolled(fit: Fitted): CoveringSheet {
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
  const lengths = [0];
  for (let k = 1; k <= steps; k++) {
    const [p, q] = [spots[k - 1]!, spots[k]!];
    const step = apex ? angleBetween(subtract3(p, apex), subtract3(q, apex)) : norm3(subtract3(q, p));
    lengths.push(lengths[k - 1]! + step);
  }
  const half = lengths[steps]! / 2;
  const unrolledAt = (angle: Rad): number => {
    const k = Math.min(steps - 1, Math.max(0, ((angle - start) / (end - start)) * steps));
    const i = Math.floor(k);
    return lengths[i]! + (k - i) * (lengths[i + 1]! - lengths[i]!) - half;
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
    inSpace: (p) => {
      const fromApex = apex ? { x: p.x, y: (p.y - 1 / taper) * (taper > 0 ? -1 : 1) } : null;
      const t = half + (fromApex ? Math.atan2(fromApex.x, fromApex.y) : p.x);
      let [low, high] = [0, steps];
      while (high - low > 1) {
        const k = (low + high) >> 1;
        if (lengths[k]! <= t) low = k;
        else high = k;
      }
      // Beyond its ends the first and the last step go on straight.
      const part = (t - lengths[low]!) / (lengths[high]! - lengths[low]!);
      const foot = add3(spots[low]!, scaleBy3(subtract3(spots[high]!, spots[low]!), part));
      if (!apex || !fromApex) return add3(middle, add3(foot, scaleBy3(along, p.y)));
      const ray = subtract3(foot, apex);
      const far = Math.hypot(fromApex.x, fromApex.y) / norm3(ray);
      return add3(middle, add3(apex, scaleBy3(ray, far)));
    },
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

function angleBetween(p: Point3, q: Point3): Rad {
  return Math.atan2(norm3(cross3(p, q)), dot3(p, q));
}
