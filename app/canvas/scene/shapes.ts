/** Small geometry that several scenes share. Scene positions, mm, y up. */
import {
  boxOf,
  cross,
  lerp,
  type Point,
  pointAlong,
  polylineLength,
  ringArea,
  subtract,
  turnLeft,
  unitOf,
} from '../../../src/math';
import type { Edge } from '../../../src/model';
import type { Mm, Rad } from '../../../src/units';
import type { Polyline } from './scene';

export const openLine = (points: readonly Point[]): Polyline => ({ points, closed: false });
export const ring = (points: readonly Point[]): Polyline => ({ points, closed: true });

/** The ring of a loop of edges, first point not repeated. */
export const ringOfEdges = (loop: readonly Pick<Edge, 'points'>[]): Point[] =>
  loop.flatMap((e) => e.points.slice(0, -1));

export interface Place {
  readonly at: Point;
  /** Unit vector along the line there. */
  readonly along: Point;
}

/** The middle of a line by length. */
export function middleOf(points: readonly Point[]): Place {
  return placeAt(points, polylineLength(points) / 2);
}

/** Where a walk along a line stands after some mm. */
export function placeAt(points: readonly Point[], mm: Mm): Place {
  const { at, segment } = pointAlong(points, mm);
  const a = points[segment];
  const b = points[segment + 1];
  return { at, along: a && b ? unitOf(subtract(b, a)) : { x: 1, y: 0 } };
}

/** Into the material: edges have it on their left. */
export const inwards = (place: Place): Point => turnLeft(place.along);

/**
 * A place for a ring's name, inside it: on several level lines the middles of the stretches inside are tried, each
 * moved to the middle of the ring's height there; the one with the most room for words wins.
 */
export function heartOf(points: readonly Point[]): Point {
  const box = boxOf(points);
  const upright = points.map((p) => ({ x: p.y, y: p.x }));
  let best: { readonly at: Point; readonly room: number } | null = null;
  for (const part of [0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8, 0.1, 0.9]) {
    const y = box.minY + (box.maxY - box.minY) * part;
    for (const [from, to] of stretchesAt(points, y)) {
      const x = (from + to) / 2;
      const height = stretchesAt(upright, x).find(([low, high]) => low <= y && y <= high);
      if (!height) continue;
      // Words are about three times as wide as high.
      const room = Math.min(to - from, 3 * (height[1] - height[0]));
      if (!best || room > best.room * 1.02) best = { at: { x, y: (height[0] + height[1]) / 2 }, room };
    }
  }
  return best?.at ?? { x: (box.minX + box.maxX) / 2, y: (box.minY + box.maxY) / 2 };
}

/** Stretches of a level line that lie inside a ring. */
function stretchesAt(points: readonly Point[], y: number): (readonly [number, number])[] {
  const xs = crossingsAt(points, y);
  return xs.flatMap((x, i) => (i % 2 === 0 && xs[i + 1] !== undefined ? [[x, xs[i + 1]!] as const] : []));
}

/** Where a level line crosses a ring, from left to right. */
function crossingsAt(points: readonly Point[], y: number): number[] {
  const xs: number[] = [];
  for (let i = 0, j = points.length - 1; i < points.length; j = i++) {
    const a = points[i]!;
    const b = points[j]!;
    if (a.y > y !== b.y > y) xs.push(((b.x - a.x) * (y - a.y)) / (b.y - a.y) + a.x);
  }
  return xs.sort((p, q) => p - q);
}

/** How far it is from a place of a ring's border straight into the ring, mm, until its border is met again. */
export function depthAt(place: Place, rings: readonly (readonly Point[])[]): Mm {
  const way = inwards(place);
  let depth = Number.POSITIVE_INFINITY;
  for (const points of rings) {
    for (let i = 0, j = points.length - 1; i < points.length; j = i++) {
      const a = points[j]!;
      const side = subtract(points[i]!, a);
      const across = cross(way, side);
      if (across === 0) continue;
      const to = subtract(a, place.at);
      const t = cross(to, side) / across;
      const u = cross(to, way) / across;
      // The border's own stretch is met at t = 0 but for rounding.
      if (u >= 0 && u <= 1 && t > onBorder) depth = Math.min(depth, t);
    }
  }
  return depth;
}

/** Nearer than this a stretch of border is the one that the place lies on, mm. */
const onBorder: Mm = 1e-6;

/** Side of the square with the same area: how much room a name has. */
export const roomOf = (points: readonly Point[]): Mm => Math.sqrt(Math.abs(ringArea(points)));

/**
 * Parallel lines across a ring, `apart` mm from each other, at an angle; phases agree between rings. They are one line
 * that goes to and fro and turns along the ring's border, where its own outline hides the turns: one line to draw
 * instead of many. Where a level crosses the ring more than twice, each further stretch is a line of its own.
 */
export function hatchOf(points: readonly Point[], apart: Mm, angle: Rad): Polyline[] {
  const c = Math.cos(-angle);
  const s = Math.sin(-angle);
  const turned = points.map((p) => ({ x: p.x * c - p.y * s, y: p.x * s + p.y * c }));
  const box = boxOf(turned);
  const back = (x: number, y: number): Point => ({ x: x * c + y * s, y: -x * s + y * c });
  const main: Point[] = [];
  const lines: Polyline[] = [];
  for (let i = Math.ceil(box.minY / apart); i * apart < box.maxY; i++) {
    const y = i * apart;
    const xs = crossingsAt(turned, y);
    for (let k = 0; k + 1 < xs.length; k += 2) {
      const stretch = [back(xs[k]!, y), back(xs[k + 1]!, y)];
      if (k > 0) lines.push(openLine(stretch));
      else main.push(...(i % 2 === 0 ? stretch : stretch.reverse()));
    }
  }
  return main.length > 0 ? [openLine(main), ...lines] : lines;
}

/**
 * The edges of a loop as few lines: neighbours of one kind become one line, a loop of one kind a ring. Fewer lines are
 * quicker to draw, and their corners join.
 */
export function joinedLoop<Kind>(
  loop: readonly { readonly points: readonly Point[]; readonly kind: Kind }[],
): { readonly kind: Kind; readonly line: Polyline }[] {
  const first = loop[0];
  if (!first) return [];
  if (loop.every((e) => e.kind === first.kind)) return [{ kind: first.kind, line: ring(ringOfEdges(loop)) }];
  // Starts where the kind changes, so that no stretch is cut by the loop's own start.
  const start = loop.findIndex((e, i) => e.kind !== loop.at(i - 1)!.kind);
  const joined: { kind: Kind; points: Point[] }[] = [];
  for (const edge of [...loop.slice(start), ...loop.slice(0, start)]) {
    const last = joined.at(-1);
    if (last && last.kind === edge.kind) last.points.push(...edge.points.slice(1));
    else joined.push({ kind: edge.kind, points: [...edge.points] });
  }
  return joined.map(({ kind, points }) => ({ kind, line: openLine(points) }));
}

/** Cross ticks on an edge that stays open: how far apart, and how far they reach to each side, mm. */
const ticks = { apart: 7, half: 1 } as const;

/** Short cross ticks along a line, for an edge that stays open. */
export function crossTicks(points: readonly Point[]): Polyline[] {
  const { apart, half } = ticks;
  const length = polylineLength(points);
  const count = Math.max(1, Math.floor(length / apart));
  return Array.from({ length: count }, (_, i) => {
    const { at, along } = placeAt(points, (length * (i + 0.5)) / count);
    const side = turnLeft(along);
    return openLine([
      { x: at.x - side.x * half, y: at.y - side.y * half },
      { x: at.x + side.x * half, y: at.y + side.y * half },
    ]);
  });
}

/** The curve of a thread between two places: it bows to the left of the way from one to the other. */
export function threadCurve(from: Point, to: Point): { readonly c1: Point; readonly c2: Point } {
  const bow = 0.18;
  const side = turnLeft(subtract(to, from));
  const lift = (t: number): Point => {
    const p = lerp(from, to, t);
    return { x: p.x + side.x * bow, y: p.y + side.y * bow };
  };
  return { c1: lift(0.3), c2: lift(0.7) };
}
