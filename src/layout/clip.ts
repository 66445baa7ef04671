/** Cutting lines and filled rings to an axis-parallel box, exactly. Positions keep their space. */
import { type Box, distance, type Point } from '../math';
import type { Mm } from '../units';

/** A part of a line inside the box. */
export interface ClippedLine {
  readonly points: readonly Point[];
  readonly closed: boolean;
  /** Where it starts along the whole line. */
  readonly from: Mm;
}

/**
 * The parts of a polyline inside the box, rim included. A closed line that lies inside throughout stays closed; parts
 * that only touch the rim in a point are dropped. Each segment is cut by its parameter range (Liang and Barsky, 1984).
 */
export function clipLine(points: readonly Point[], closed: boolean, box: Box): ClippedLine[] {
  const whole = closed && points[0] ? [...points, points[0]] : points;
  if (whole.every((p) => contains(box, p))) return [{ points, closed, from: 0 }];
  const parts: { points: Point[]; from: Mm; startsAtStart: boolean; reachesEnd: boolean }[] = [];
  let open: (typeof parts)[number] | null = null;
  let walked = 0;
  for (let i = 1; i < whole.length; i++) {
    const a = whole[i - 1]!;
    const b = whole[i]!;
    const length = distance(a, b);
    const range = insideRange(a, b, box);
    if (!range) {
      open = null;
      walked += length;
      continue;
    }
    const [t0, t1] = range;
    if (!open || t0 > 0) {
      open = {
        points: [at(a, b, t0)],
        from: walked + t0 * length,
        startsAtStart: i === 1 && t0 === 0,
        reachesEnd: false,
      };
      parts.push(open);
    }
    open.points.push(at(a, b, t1));
    open.reachesEnd = i === whole.length - 1 && t1 === 1;
    if (t1 < 1) open = null;
    walked += length;
  }
  const first = parts[0];
  const last = parts.at(-1);
  if (closed && first && last && first !== last && first.startsAtStart && last.reachesEnd) {
    last.points.push(...first.points.slice(1));
    parts.shift();
  }
  return parts
    .filter((p) => p.points.some((q) => q.x !== p.points[0]!.x || q.y !== p.points[0]!.y))
    .map((p) => ({ points: p.points, closed: false, from: p.from }));
}

/** A filled ring cut to the box (Sutherland and Hodgman, 1974): edges along the rim may run double, fills stay right. */
export function clipRing(ring: readonly Point[], box: Box): Point[] {
  let kept = [...ring];
  const sides: [(p: Point) => boolean, (a: Point, b: Point) => Point][] = [
    [
      (p) => p.x >= box.minX,
      (a, b) => ({ x: box.minX, y: crossAt(a.y, b.y, (box.minX - a.x) / (b.x - a.x)) }),
    ],
    [
      (p) => p.x <= box.maxX,
      (a, b) => ({ x: box.maxX, y: crossAt(a.y, b.y, (box.maxX - a.x) / (b.x - a.x)) }),
    ],
    [
      (p) => p.y >= box.minY,
      (a, b) => ({ x: crossAt(a.x, b.x, (box.minY - a.y) / (b.y - a.y)), y: box.minY }),
    ],
    [
      (p) => p.y <= box.maxY,
      (a, b) => ({ x: crossAt(a.x, b.x, (box.maxY - a.y) / (b.y - a.y)), y: box.maxY }),
    ],
  ];
  for (const [isIn, meet] of sides) {
    const next: Point[] = [];
    for (const [i, b] of kept.entries()) {
      const a = kept[(i + kept.length - 1) % kept.length]!;
      if (isIn(a) !== isIn(b)) next.push(meet(a, b));
      if (isIn(b)) next.push(b);
    }
    kept = next;
    if (kept.length === 0) break;
  }
  return kept.length < 3 ? [] : kept;
}

const crossAt = (a: number, b: number, t: number): number => a + (b - a) * t;

const contains = (box: Box, p: Point): boolean =>
  p.x >= box.minX && p.x <= box.maxX && p.y >= box.minY && p.y <= box.maxY;

export const boxesMeet = (a: Box, b: Box): boolean =>
  a.minX <= b.maxX && b.minX <= a.maxX && a.minY <= b.maxY && b.minY <= a.maxY;

function at(a: Point, b: Point, t: number): Point {
  if (t === 0) return a;
  if (t === 1) return b;
  return { x: a.x + (b.x - a.x) * t, y: a.y + (b.y - a.y) * t };
}

/** Parameter range of the segment inside the box, or null. */
export function insideRange(a: Point, b: Point, box: Box): [number, number] | null {
  let t0 = 0;
  let t1 = 1;
  const dx = b.x - a.x;
  const dy = b.y - a.y;
  for (const [d, room] of [
    [-dx, a.x - box.minX],
    [dx, box.maxX - a.x],
    [-dy, a.y - box.minY],
    [dy, box.maxY - a.y],
  ] as const) {
    if (d === 0) {
      if (room < 0) return null;
      continue;
    }
    const t = room / d;
    if (d < 0) t0 = Math.max(t0, t);
    else t1 = Math.min(t1, t);
    if (t0 > t1) return null;
  }
  return [t0, t1];
}
