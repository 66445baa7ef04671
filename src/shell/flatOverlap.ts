/** Outlines that cross, of one piece or of two. */
import { type Box, boxOf, type Point } from '../math';
import type { Edge, Piece } from '../model';

interface Stretch {
  readonly a: Point;
  readonly b: Point;
  readonly edge: string;
}

const stretchesOf = (edges: readonly Edge[]): Stretch[] =>
  edges.flatMap((e) => e.points.slice(1).map((b, i) => ({ a: e.points[i]!, b, edge: e.id })));

const turn = (a: Point, b: Point, c: Point) => (b.x - a.x) * (c.y - a.y) - (b.y - a.y) * (c.x - a.x);

/**
 * Two stretches cross when each has its ends on both sides of the other; ends that only touch do not. An end counts
 * as on the line within this distance, mm: neighbours meet in their common end, and slits close to nothing.
 */
const touching = 1e-3;

function cross(p: Stretch, q: Stretch): boolean {
  const lp = Math.hypot(p.b.x - p.a.x, p.b.y - p.a.y);
  const lq = Math.hypot(q.b.x - q.a.x, q.b.y - q.a.y);
  if (lp === 0 || lq === 0) return false;
  const s = turn(p.a, p.b, q.a) / lp;
  const t = turn(p.a, p.b, q.b) / lp;
  if (!((s > touching && t < -touching) || (s < -touching && t > touching))) return false;
  const u = turn(q.a, q.b, p.a) / lq;
  const v = turn(q.a, q.b, p.b) / lq;
  return (u > touching && v < -touching) || (u < -touching && v > touching);
}

/** Two edges of one piece that cross, or null. */
export function ringCrossing(edges: readonly Edge[]): readonly [string, string] | null {
  const list = stretchesOf(edges);
  for (let i = 0; i < list.length; i++)
    for (let j = i + 1; j < list.length; j++)
      if (cross(list[i]!, list[j]!)) return [list[i]!.edge, list[j]!.edge];
  return null;
}

/** Whether the outlines of any two pieces cross. */
export function outlinesCross(pieces: readonly Piece[]): boolean {
  const outlines = pieces.map((p) => ({
    box: boxOf(p.outline.flatMap((e) => [...e.points])),
    stretches: stretchesOf(p.outline),
  }));
  const apart = (a: Box, b: Box) => a.maxX < b.minX || b.maxX < a.minX || a.maxY < b.minY || b.maxY < a.minY;
  for (let i = 0; i < outlines.length; i++)
    for (let j = i + 1; j < outlines.length; j++) {
      const p = outlines[i]!;
      const q = outlines[j]!;
      if (apart(p.box, q.box)) continue;
      for (const s of p.stretches) for (const t of q.stretches) if (cross(s, t)) return true;
    }
  return false;
}
