/** Lines of a drawing as corners, and their lengths. Everything in mm. */
import type { Point } from '../math';
import { distance } from '../math';
import type { DrawingLine, Segment } from '../model';
import { flattenCubic } from '../plane';
import type { Mm } from '../units';
import { lengthError } from './tolerance';

/**
 * The corners of a line, its start first; a closed line repeats its start at the end. Every point of the line lies
 * within `tolerance` of the corners' polyline, and the corners lie on the line.
 * @throws GirthwiseError when the tolerance is not above 0.
 */
export function flattenLine(line: DrawingLine, tolerance: Mm): Point[] {
  const out: Point[] = [line.start];
  let from = line.start;
  for (const segment of line.segments) {
    if (segment.kind === 'line') out.push(segment.to);
    else flattenCubic(from, segment.c1, segment.c2, segment.to, tolerance, out);
    from = segment.to;
  }
  if (line.closed && (from.x !== line.start.x || from.y !== line.start.y)) out.push(line.start);
  return out;
}

/** Length of a line along its curves, to a relative error of 1e-6. */
export function lineLength(line: DrawingLine): Mm {
  let sum = 0;
  let from = line.start;
  for (const segment of line.segments) {
    sum += segmentLength(from, segment);
    from = segment.to;
  }
  return line.closed ? sum + distance(from, line.start) : sum;
}

function segmentLength(from: Point, segment: Segment): Mm {
  if (segment.kind === 'line') return distance(from, segment.to);
  const { c1, c2, to } = segment;
  const cubic: Cubic = { p0: from, p1: c1, p2: c2, p3: to };
  return refined(cubic, 0, 1, quadrature(cubic, 0, 1), 0);
}

interface Cubic {
  readonly p0: Point;
  readonly p1: Point;
  readonly p2: Point;
  readonly p3: Point;
}

/** Nodes and weights of Gauss and Legendre's rule with five points (Abramowitz and Stegun, table 25.4). */
const nodes: readonly (readonly [number, number])[] = [
  [0, 0.568888888888889],
  [0.538469310105683, 0.478628670499366],
  [-0.538469310105683, 0.478628670499366],
  [0.906179845938664, 0.236926885056189],
  [-0.906179845938664, 0.236926885056189],
];
/** Halvings after which a curve is shorter than any rounding that matters. */
const mostHalvings = 24;

function quadrature(c: Cubic, a: number, b: number): number {
  const half = (b - a) / 2;
  const middle = (a + b) / 2;
  let sum = 0;
  for (const [node, weight] of nodes) sum += weight * speed(c, middle + half * node);
  return sum * half;
}

/** Halves the stretch until both halves together agree with the whole. */
function refined(c: Cubic, a: number, b: number, whole: number, depth: number): number {
  const middle = (a + b) / 2;
  const left = quadrature(c, a, middle);
  const right = quadrature(c, middle, b);
  if (depth >= mostHalvings || Math.abs(left + right - whole) <= lengthError * (left + right))
    return left + right;
  return refined(c, a, middle, left, depth + 1) + refined(c, middle, b, right, depth + 1);
}

function speed({ p0, p1, p2, p3 }: Cubic, t: number): number {
  const s = 1 - t;
  const x = 3 * (s * s * (p1.x - p0.x) + 2 * s * t * (p2.x - p1.x) + t * t * (p3.x - p2.x));
  const y = 3 * (s * s * (p1.y - p0.y) + 2 * s * t * (p2.y - p1.y) + t * t * (p3.y - p2.y));
  return Math.hypot(x, y);
}
