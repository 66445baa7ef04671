/**
 * Free room on and around one panel: which rectangles of lettering can stand where without touching outline, folds,
 * notches or other lettering. Panel space, mm. Exact tests of rectangle against line and rectangle against rectangle;
 * bounds only narrow down which lines are looked at. A panel has some hundred lines: looking through all bounds is
 * quicker than asking a spatial index, and makes no garbage.
 */
import { type Box, boxOf, distance, distanceToSegment, type Point } from '../math';
import type { Mm, Rad } from '../units';

/** A turned rectangle. */
export interface Plate {
  readonly centre: Point;
  readonly angle: Rad;
  readonly halfWidth: Mm;
  readonly halfHeight: Mm;
}

export interface Line {
  readonly a: Point;
  readonly b: Point;
}

export interface Room {
  /** Bounds of the outline. */
  readonly box: Box;
  /** Whether the rectangle, with `clearance` round it, touches nothing and lies on the given side of the outline. */
  fits(plate: Plate, clearance: Mm, side: 'inside' | 'outside'): boolean;
  /** Whether a leader crosses neither outline, notches nor lettering; folds may be crossed. */
  leaderFits(leader: Line, clearance: Mm): boolean;
  /** Keeps the rectangle for lettering. */
  occupy(plate: Plate): void;
  /** Keeps a leader clear. */
  addLeader(leader: Line): void;
  inside(p: Point): boolean;
  /** Distance to the nearest outline or ink line. */
  freeRadius(p: Point): Mm;
  /** Distance along a ray to the first outline or fold, up to `reach`. */
  clearAlong(from: Point, direction: Point, reach: Mm): Mm;
  readonly plates: readonly Plate[];
}

/** @param rings outline and holes. @param folds may be crossed by leaders. @param ink notches and other short ticks. */
export function makeRoom(
  rings: readonly (readonly Point[])[],
  folds: readonly Line[],
  ink: readonly Line[],
): Room {
  const outline = rings.flatMap((ring) => ring.map((a, i) => ({ a, b: ring[(i + 1) % ring.length]! })));
  const lines = [...outline, ...folds, ...ink];
  const firstFold = outline.length;
  const firstInk = firstFold + folds.length;
  const bounds = boundsOfLines(lines);
  const plates: Plate[] = [];
  const leaders: Line[] = [];

  /** Whether any line with bounds that meet the box passes the test. */
  const anyNear = (box: Box, test: (line: Line, index: number) => boolean): boolean => {
    for (let i = 0; i < lines.length; i++) {
      const k = 4 * i;
      const far =
        bounds[k]! > box.maxX ||
        bounds[k + 1]! > box.maxY ||
        bounds[k + 2]! < box.minX ||
        bounds[k + 3]! < box.minY;
      if (!far && test(lines[i]!, i)) return true;
    }
    return false;
  };
  const inside = (p: Point): boolean => {
    let odd = false;
    for (const { a, b } of outline) {
      if (a.y > p.y !== b.y > p.y && p.x < a.x + ((p.y - a.y) / (b.y - a.y)) * (b.x - a.x)) odd = !odd;
    }
    return odd;
  };
  return {
    box: boxOf(rings.flat()),
    plates,
    inside,
    fits: (plate, clearance, side) => {
      const grown = grow(plate, clearance);
      if (anyNear(boundsOf(grown), (line) => touches(grown, line))) return false;
      if (leaders.some((l) => touches(grown, l))) return false;
      if (plates.some((other) => overlap(grown, other))) return false;
      return inside(plate.centre) === (side === 'inside');
    },
    leaderFits: (leader, clearance) => {
      const box = boxOf([leader.a, leader.b]);
      const crossed = anyNear(box, (line, i) => (i < firstFold || i >= firstInk) && cross(leader, line));
      return (
        !crossed &&
        !leaders.some((l) => cross(leader, l)) &&
        !plates.some((p) => touches(grow(p, clearance), leader))
      );
    },
    occupy: (plate) => plates.push(plate),
    addLeader: (leader) => leaders.push(leader),
    freeRadius: (p) => {
      let least = Number.POSITIVE_INFINITY;
      for (const line of lines) least = Math.min(least, distanceTo(p, line));
      return least;
    },
    clearAlong: (from, direction, reach) => {
      const to = { x: from.x + direction.x * reach, y: from.y + direction.y * reach };
      // The tick's own edge is touched at its start: a start moved in by a part of a hair's width looks past it.
      const start = { x: from.x + direction.x * pastOwnEdge, y: from.y + direction.y * pastOwnEdge };
      let clear = reach;
      anyNear(boxOf([start, to]), (line, i) => {
        const t = i < firstInk ? crossingAt({ a: start, b: to }, line) : null;
        if (t !== null) clear = Math.min(clear, pastOwnEdge + t * (reach - pastOwnEdge));
        return false;
      });
      return clear;
    },
  };
}

/** A hundredth of a millimetre: far below a drawn line's width, far above rounding. */
const pastOwnEdge: Mm = 0.01;

/** minX, minY, maxX, maxY of each line. */
function boundsOfLines(lines: readonly Line[]): Float64Array {
  const bounds = new Float64Array(4 * lines.length);
  for (const [i, { a, b }] of lines.entries()) {
    bounds[4 * i] = Math.min(a.x, b.x);
    bounds[4 * i + 1] = Math.min(a.y, b.y);
    bounds[4 * i + 2] = Math.max(a.x, b.x);
    bounds[4 * i + 3] = Math.max(a.y, b.y);
  }
  return bounds;
}

/** Corners, counter-clockwise. */
function cornersOf(plate: Plate): Point[] {
  const c = Math.cos(plate.angle);
  const s = Math.sin(plate.angle);
  const corner = (x: number, y: number) => ({
    x: plate.centre.x + x * c - y * s,
    y: plate.centre.y + x * s + y * c,
  });
  const { halfWidth: w, halfHeight: h } = plate;
  return [corner(-w, -h), corner(w, -h), corner(w, h), corner(-w, h)];
}

function boundsOf({ centre, angle, halfWidth, halfHeight }: Plate): Box {
  const c = Math.abs(Math.cos(angle));
  const s = Math.abs(Math.sin(angle));
  const w = halfWidth * c + halfHeight * s;
  const h = halfWidth * s + halfHeight * c;
  return { minX: centre.x - w, minY: centre.y - h, maxX: centre.x + w, maxY: centre.y + h };
}
const grow = (plate: Plate, by: Mm): Plate => ({
  ...plate,
  halfWidth: plate.halfWidth + by,
  halfHeight: plate.halfHeight + by,
});

/** Whether a line has a part inside the rectangle: the line clipped in the rectangle's own axes. */
function touches(plate: Plate, line: Line): boolean {
  const c = Math.cos(plate.angle);
  const s = Math.sin(plate.angle);
  const { x, y } = plate.centre;
  const ax = (line.a.x - x) * c + (line.a.y - y) * s;
  const ay = (line.a.y - y) * c - (line.a.x - x) * s;
  const dx = (line.b.x - line.a.x) * c + (line.b.y - line.a.y) * s;
  const dy = (line.b.y - line.a.y) * c - (line.b.x - line.a.x) * s;
  const [fromX, toX] = rangeWithin(ax, dx, plate.halfWidth);
  const [fromY, toY] = rangeWithin(ay, dy, plate.halfHeight);
  return Math.max(0, fromX, fromY) <= Math.min(1, toX, toY);
}

/** Parameters of start + t · d between −half and half; an empty range (1, 0) when there are none. */
function rangeWithin(start: number, d: number, half: number): readonly [number, number] {
  if (d === 0) return Math.abs(start) > half ? nowhere : everywhere;
  const t0 = (-half - start) / d;
  const t1 = (half - start) / d;
  return t0 < t1 ? [t0, t1] : [t1, t0];
}

const nowhere: readonly [number, number] = [1, 0];
const everywhere: readonly [number, number] = [0, 1];

/** Whether two rectangles overlap: no side of either separates them. */
function overlap(p: Plate, q: Plate): boolean {
  if (
    distance(p.centre, q.centre) >
    Math.hypot(p.halfWidth, p.halfHeight) + Math.hypot(q.halfWidth, q.halfHeight)
  )
    return false;
  const corners = [cornersOf(p), cornersOf(q)] as const;
  for (const angle of [p.angle, p.angle + Math.PI / 2, q.angle, q.angle + Math.PI / 2]) {
    const c = Math.cos(angle);
    const s = Math.sin(angle);
    const [a, b] = corners.map((set) => {
      const along = set.map((k) => k.x * c + k.y * s);
      return { min: Math.min(...along), max: Math.max(...along) };
    });
    if (a!.max <= b!.min || b!.max <= a!.min) return false;
  }
  return true;
}

const cross = (p: Line, q: Line): boolean => crossingAt(p, q) !== null;

/** Where along p (0..1) it meets q, or null. Parallel lines count as not meeting. */
function crossingAt(p: Line, q: Line): number | null {
  const dx = p.b.x - p.a.x;
  const dy = p.b.y - p.a.y;
  const ex = q.b.x - q.a.x;
  const ey = q.b.y - q.a.y;
  const det = dx * ey - dy * ex;
  if (det === 0) return null;
  const ox = q.a.x - p.a.x;
  const oy = q.a.y - p.a.y;
  const t = (ox * ey - oy * ex) / det;
  const u = (ox * dy - oy * dx) / det;
  return t >= 0 && t <= 1 && u >= 0 && u <= 1 ? t : null;
}

/** Distance from a point to a line between two points. */
export const distanceTo = (p: Point, { a, b }: Line): Mm => distanceToSegment(p, a, b);

/** The lines of an open polyline. */
export function linesOf(points: readonly Point[]): Line[] {
  return points.slice(1).map((b, i) => ({ a: points[i]!, b }));
}
