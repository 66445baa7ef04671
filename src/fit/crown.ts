/** The room for a crown: how high a head's dome may stand above the brow. */
import { add3, cross3, dot3, type Point3, scaleBy3, subtract3 } from '../math';
import type { Mm } from '../units';
import type { FinishedShell } from './finishedShell';

/** The head's own frame in space: middle of the brow, right, front, up. */
export interface HeadFrame {
  readonly middle: Point3;
  readonly right: Point3;
  readonly front: Point3;
  readonly up: Point3;
}

export const inSpace = (f: HeadFrame, p: Point3): Point3 =>
  add3(f.middle, add3(add3(scaleBy3(f.right, p.x), scaleBy3(f.front, p.y)), scaleBy3(f.up, p.z)));

export function inFrame(f: HeadFrame, p: Point3): Point3 {
  const d = subtract3(p, f.middle);
  return { x: dot3(d, f.right), y: dot3(d, f.front), z: dot3(d, f.up) };
}

/**
 * Where the dome is felt for, as parts of the half breadth and length about the middle: circles close enough together
 * that a crest or a keel no wider than a finger cannot pass for the room of a head.
 */
const circles = [0, 0.06, 0.12, 0.18, 0.24, 0.3] as const;
const spokes = 12;

/**
 * Height of the largest dome (an ellipsoid's upper half, with these half axes at the brow) that stays inside: the least
 * over the spots of z / √(1 − g²), with z the height of the inside straight above a spot and g its distance from the
 * axis as a part of the half axes. A hollow crest above the dome does not count as room. Null when nothing is above.
 */
export function crownRoom(finished: FinishedShell, frame: HeadFrame, side: Mm, front: Mm): Mm | null {
  const faces = finished.shell.components[0]?.faces ?? [];
  const places = finished.inside.map((p) => inFrame(frame, p));
  const triangles: (readonly [Point3, Point3, Point3])[] = [];
  const reach = circles.at(-1)! * Math.max(side, front);
  for (const f of faces) {
    const { vertices } = finished.shell.faces[f]!;
    for (let i = 1; i + 1 < vertices.length; i++) {
      const t = [places[vertices[0]!]!, places[vertices[i]!]!, places[vertices[i + 1]!]!] as const;
      const far = (k: 'x' | 'y') => t.every((p) => p[k] > reach) || t.every((p) => p[k] < -reach);
      if (!far('x') && !far('y') && t.some((p) => p.z > 0)) triangles.push(t);
    }
  }
  let room: Mm | null = null;
  for (const g of circles)
    for (let k = 0; k < (g === 0 ? 1 : spokes); k++) {
      const angle = (2 * Math.PI * k) / spokes;
      const z = lowestAbove(triangles, side * g * Math.cos(angle), front * g * Math.sin(angle));
      if (z === null) continue;
      const height = z / Math.sqrt(1 - g * g);
      if (room === null || height < room) room = height;
    }
  return room;
}

/** Height of the lowest triangle straight above a spot of the brow plane. */
function lowestAbove(triangles: readonly (readonly [Point3, Point3, Point3])[], x: Mm, y: Mm): Mm | null {
  let best: Mm | null = null;
  for (const [a, b, c] of triangles) {
    const area = (b.x - a.x) * (c.y - a.y) - (b.y - a.y) * (c.x - a.x);
    if (area === 0) continue;
    const v = ((x - a.x) * (c.y - a.y) - (y - a.y) * (c.x - a.x)) / area;
    const w = ((b.x - a.x) * (y - a.y) - (b.y - a.y) * (x - a.x)) / area;
    // A spot on a shared side counts for both triangles.
    if (v < -1e-12 || w < -1e-12 || v + w > 1 + 1e-12) continue;
    const z = a.z + v * (b.z - a.z) + w * (c.z - a.z);
    if (z > 0 && (best === null || z < best)) best = z;
  }
  return best;
}

/** The frame of a plane: right along x, front square to it, with the middle at a place of the plane. */
export function frameAt(normal: Point3, middle: Point3): HeadFrame {
  const level = Math.hypot(normal.y, normal.z);
  const front = level === 0 ? { x: 0, y: 1, z: 0 } : { x: 0, y: normal.z / level, z: -normal.y / level };
  return { middle, right: cross3(front, normal), front, up: normal };
}
