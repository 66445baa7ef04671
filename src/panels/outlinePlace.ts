/** Places on the outline of a panel, told by the way along it. */
import { distance, lerp, type Point, pointAlong, polylineLength, subtract, turnLeft, unitOf } from '../math';
import type { Piece } from '../model';
import type { Mm } from '../units';

export interface OutlinePlace {
  readonly at: Point;
  /** Way along the outline from its first corner, counter-clockwise. */
  readonly along: Mm;
  /** Distance of the point that was asked for. */
  readonly off: Mm;
}

const lineOf = (piece: Piece): Point[] => {
  const ring = piece.outline.flatMap((e) => e.points.slice(0, -1));
  return ring[0] ? [...ring, ring[0]] : [];
};

export const outlineLength = (piece: Piece): Mm => polylineLength(lineOf(piece));

/** @param along taken round and round */
export function outlinePoint(piece: Piece, along: Mm): Point {
  const line = lineOf(piece);
  const length = polylineLength(line);
  return pointAlong(line, ((along % length) + length) % length).at;
}

/** A point inside, straight in from the outline. */
export function inwardsFrom(piece: Piece, along: Mm, depth: Mm): Point {
  const at = outlinePoint(piece, along);
  // Across the mean direction of the outline there, so that a corner is left halfway between its sides.
  const reach = Math.min(1, outlineLength(piece) / 100);
  const way = subtract(outlinePoint(piece, along + reach), outlinePoint(piece, along - reach));
  const inwards = turnLeft(unitOf(way));
  return { x: at.x + inwards.x * depth, y: at.y + inwards.y * depth };
}

/**
 * The place on the outline nearest to a point; a corner goes before all else within its reach.
 * @returns null for a piece without an outline
 */
export function nearestOnOutline(piece: Piece, p: Point, cornerReach: Mm): OutlinePlace | null {
  const line = lineOf(piece);
  let best: OutlinePlace | null = null;
  let corner: OutlinePlace | null = null;
  let run = 0;
  for (let i = 0; i + 1 < line.length; i++) {
    const [a, b] = [line[i]!, line[i + 1]!];
    const length = distance(a, b);
    const t = length === 0 ? 0 : ((p.x - a.x) * (b.x - a.x) + (p.y - a.y) * (b.y - a.y)) / length ** 2;
    const part = Math.min(1, Math.max(0, t));
    const at = lerp(a, b, part);
    const off = distance(p, at);
    if (!best || off < best.off) best = { at, along: run + part * length, off };
    const toCorner = distance(p, a);
    if (toCorner <= cornerReach && (!corner || toCorner < corner.off))
      corner = { at: a, along: run, off: toCorner };
    run += length;
  }
  return corner ?? best;
}
