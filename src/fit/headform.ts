/** The headform seated in the finished shell, and the room round it. */
import { dot3, type Point3, point3 } from '../math';
import type { BrowSection, Clearances, Headform } from '../model';
import type { Mm } from '../units';
import { crownRoom, frameAt, type HeadFrame, inFrame, inSpace } from './crown';
import type { FinishedShell } from './finishedShell';
import type { HeadMeasures } from './headMeasures';
import { gaugeOf, type HeadShape, headShape, withinHead } from './headShape';
import { nearestOn, skinOf, type Triangle, triangle } from './nearest';

export interface SeatedHead {
  readonly shape: HeadShape;
  readonly frame: HeadFrame;
  readonly headform: Headform;
  readonly clearances: Clearances;
}

/** Seats a head at the brow of the inside and measures the room round it. */
export function seatHead(
  finished: FinishedShell,
  insideBrow: BrowSection,
  measures: HeadMeasures,
): SeatedHead {
  const shape = headShape(measures);
  const frame = seatFrame(finished, insideBrow, shape);
  const headform: Headform = {
    girth: shape.girth,
    length: measures.length,
    breadth: measures.breadth,
    height: measures.height,
    assumed: measures.assumed,
    vertices: shape.vertices.map((p) => inSpace(frame, p)),
    triangles: shape.triangles,
  };
  return { shape, frame, headform, clearances: clearancesOf(finished, insideBrow, shape, frame, headform) };
}

/** The brow's middle between front and back, and on the mirror plane (or between left and right). */
export function browFrame(finished: FinishedShell, brow: BrowSection): HeadFrame {
  const { normal, offset } = brow.plane;
  const origin = point3(normal.x * offset, normal.y * offset, normal.z * offset);
  const flat = frameAt(normal, origin);
  const seen = brow.loop.points.map((p) => inFrame(flat, p));
  const middleOf = (values: readonly number[]) => (Math.min(...values) + Math.max(...values)) / 2;
  const mirror = finished.shell.symmetry?.plane;
  const upright = mirror && Math.abs(Math.abs(mirror.normal.x) - 1) < uprightMirror;
  const x = upright
    ? mirror.offset * mirror.normal.x * finished.scales.breadth
    : middleOf(seen.map((p) => p.x));
  return frameAt(normal, inSpace(flat, point3(x, middleOf(seen.map((p) => p.y)), 0)));
}

/** A mirror plane counts as square to x when its normal is off by less: the person's turns are whole degrees. */
const uprightMirror = 1e-9;

/** The seat is looked for so far from the middle, mm, in these steps. */
const seat = { reach: 15, step: 0.25 } as const;

/**
 * Where the head sits between front and back: where the least room to the inside is largest at the brow. Places within
 * 0.001 mm of it are as good; the one nearest the middle is taken.
 */
function seatFrame(finished: FinishedShell, brow: BrowSection, shape: HeadShape): HeadFrame {
  const middle = browFrame(finished, brow);
  const ring = brow.loop.points.map((p) => inFrame(middle, p));
  const least = (shift: Mm) =>
    Math.min(
      ...ring.map((p) => {
        const y = p.y - shift;
        const gauge = gaugeOf(shape, p.x, y);
        return gauge === 0 ? -Math.hypot(shape.front, shape.side) : Math.hypot(p.x, y) * (1 - 1 / gauge);
      }),
    );
  let best = { shift: 0, room: least(0) };
  for (let k = 1; k * seat.step <= seat.reach; k++)
    for (const shift of [k * seat.step, -k * seat.step]) {
      const room = least(shift);
      if (room > best.room + 1e-3) best = { shift, room };
    }
  return frameAt(middle.up, inSpace(middle, point3(0, best.shift, 0)));
}

function clearancesOf(
  finished: FinishedShell,
  brow: BrowSection,
  shape: HeadShape,
  frame: HeadFrame,
  headform: Headform,
): Clearances {
  const ring = brow.loop.points.map((p) => inFrame(frame, p));
  const xs = ring.map((p) => p.x);
  const ys = ring.map((p) => p.y);
  const room = crownRoom(finished, frame, shape.side, shape.front);
  const wall = skinOf(insideTriangles(finished));
  let smallest: Clearances['smallest'] | null = null;
  let hint = 0;
  for (let i = 0; i < headform.vertices.length; i++) {
    // The lower head is no measure of anybody; room is counted from the brow up.
    const upper = i < shape.below || shape.vertices[i]!.z > 0;
    if (!upper) continue;
    const p = headform.vertices[i]!;
    const near = nearestOn(wall, p, hint);
    if (!near) continue;
    hint = near.index;
    const value = near.side > 0 ? -near.distance : near.distance;
    if (!smallest || value < smallest.room - 1e-9) smallest = { room: value, at: near.at, face: near.face };
  }
  return {
    front: Math.max(...ys) - shape.front,
    back: -Math.min(...ys) - shape.front,
    left: -Math.min(...xs) - shape.side,
    right: Math.max(...xs) - shape.side,
    crown: room === null ? null : room - shape.measures.height,
    smallest: smallest ?? { room: Number.POSITIVE_INFINITY, at: frame.middle, face: -1 },
    ofVertex: roomOfVertices(finished, shape, frame, headform),
  };
}

/** The inside of the largest part as triangles; the faces' fans. */
function insideTriangles({ shell, inside }: FinishedShell): Triangle[] {
  const faces = shell.components[0]?.faces ?? [];
  const count = inside.length;
  const sides = new Set<number>();
  for (const f of faces) {
    const { vertices } = shell.faces[f]!;
    vertices.forEach((a, i) => {
      sides.add(a * count + vertices[(i + 1) % vertices.length]!);
    });
  }
  return faces.flatMap((f) => {
    const { vertices } = shell.faces[f]!;
    const last = vertices.length - 1;
    const open = (i: number) =>
      sides.has(vertices[(i + 1) % vertices.length]! * count + vertices[i]!) ? 0 : 1;
    return Array.from({ length: last - 1 }, (_, k) => {
      const i = k + 1;
      const bits = (i === 1 ? open(0) : 0) | (open(i) << 1) | (i + 1 === last ? open(last) << 2 : 0);
      return triangle([inside[vertices[0]!]!, inside[vertices[i]!]!, inside[vertices[i + 1]!]!], f, bits);
    });
  });
}

/** Distance of each vertex of the inside from the head; negative where it lies within the head. */
function roomOfVertices(
  finished: FinishedShell,
  shape: HeadShape,
  frame: HeadFrame,
  headform: Headform,
): Mm[] {
  const skin = skinOf(
    headform.triangles.map(([a, b, c], i) =>
      triangle([headform.vertices[a]!, headform.vertices[b]!, headform.vertices[c]!], i, 0),
    ),
  );
  let hint = 0;
  return finished.inside.map((p) => {
    const near = nearestOn(skin, p, hint);
    hint = near?.index ?? 0;
    const distance = near?.distance ?? Number.POSITIVE_INFINITY;
    return withinHead(shape, inFrame(frame, p)) ? -distance : distance;
  });
}

/** Height of a point above the brow plane of a frame. */
export const aboveBrow = (frame: HeadFrame, p: Point3): Mm =>
  dot3(p, frame.up) - dot3(frame.middle, frame.up);
