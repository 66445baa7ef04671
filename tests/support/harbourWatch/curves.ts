/** Points on the curves that a pattern draws. */
import { distance, type Point, point } from '../../../src/math';
import type { CurvePart } from './truth';

/** Flattening tolerance of the model, mm. */
const flatness = 0.02;

/** Points along a chain of curve parts, the first point included, no farther than 0.02 mm from the curve. */
export function flatten(start: Point, parts: readonly CurvePart[]): Point[] {
  const points = [start];
  for (const part of parts) {
    const from = points[points.length - 1]!;
    if (part.kind === 'cubic') {
      const n = cubicSteps(from, part.c1, part.c2, part.to);
      for (let i = 1; i <= n; i++) points.push(cubicAt(from, part.c1, part.c2, part.to, i / n));
    } else if (part.kind === 'arc') {
      const centre = arcCentre(from, part.to, part.radius, part.ccw);
      const a = Math.atan2(from.y - centre.y, from.x - centre.x);
      let sweep = Math.atan2(part.to.y - centre.y, part.to.x - centre.x) - a;
      if (part.ccw && sweep < 0) sweep += 2 * Math.PI;
      if (!part.ccw && sweep > 0) sweep -= 2 * Math.PI;
      const n = Math.max(1, Math.ceil(Math.abs(sweep) / (2 * Math.acos(1 - flatness / part.radius))));
      for (let i = 1; i < n; i++) {
        const angle = a + (sweep * i) / n;
        points.push(
          point(centre.x + part.radius * Math.cos(angle), centre.y + part.radius * Math.sin(angle)),
        );
      }
      points.push(part.to);
    } else points.push(part.to);
  }
  return points;
}

export function cubicAt(p: Point, c1: Point, c2: Point, q: Point, t: number): Point {
  const u = 1 - t;
  const [a, b, c, d] = [u * u * u, 3 * u * u * t, 3 * u * t * t, t * t * t];
  return point(a * p.x + b * c1.x + c * c2.x + d * q.x, a * p.y + b * c1.y + c * c2.y + d * q.y);
}

/** Equal steps in t that keep the chords within the tolerance: chord error ≤ |second derivative| / 8 n². */
function cubicSteps(p: Point, c1: Point, c2: Point, q: Point): number {
  const second = Math.max(
    Math.hypot(p.x - 2 * c1.x + c2.x, p.y - 2 * c1.y + c2.y),
    Math.hypot(c1.x - 2 * c2.x + q.x, c1.y - 2 * c2.y + q.y),
  );
  return Math.max(1, Math.ceil(Math.sqrt((6 * second) / (8 * flatness))));
}

/** Centre of the arc of less than half a turn between two points. */
function arcCentre(from: Point, to: Point, radius: number, ccw: boolean): Point {
  const d = distance(from, to);
  const h = Math.sqrt(Math.max(0, radius * radius - (d * d) / 4));
  const side = ccw ? 1 : -1;
  const nx = (-(to.y - from.y) / d) * side;
  const ny = ((to.x - from.x) / d) * side;
  return point((from.x + to.x) / 2 + nx * h, (from.y + to.y) / 2 + ny * h);
}

/** The chain run the other way: its start is the old end. */
export function reversed(start: Point, parts: readonly CurvePart[]): { start: Point; parts: CurvePart[] } {
  const points = [start, ...parts.map((p) => p.to)];
  const back = parts
    .map((part, i): CurvePart => {
      const to = points[i]!;
      if (part.kind === 'cubic') return { kind: 'cubic', c1: part.c2, c2: part.c1, to };
      if (part.kind === 'arc') return { ...part, ccw: !part.ccw, to };
      return { kind: 'line', to };
    })
    .reverse();
  return { start: points[points.length - 1]!, parts: back };
}
