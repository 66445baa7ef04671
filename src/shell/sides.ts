import { lerp, type Point, pointAlong, polylineLength } from '../math';
import type { Pattern } from '../model';

/**
 * Edges and folds as chains of a few straight stretches with ends at equal shares of the length, so that both sides
 * of a seam have corners that meet. A straight line is one stretch; a curve gets one for every few degrees of turn.
 */

/** A stretch of a curve turns at most so far, rad: 15° keeps a circle within 1 % of its girth. */
const turnPerStretch = Math.PI / 12;
/** A curve leaves its stretches by no more, mm: a long flat arc turns little and yet bulges. */
const mostBulge = 0.5;
/** No curve needs more: beyond it the drawn line is ragged rather than round. */
const mostStretches = 24;

/** Stretches that a drawn line asks for. */
export function stretchesOf(points: readonly Point[]): number {
  let turn = 0;
  for (let i = 1; i + 1 < points.length; i++) {
    const p = points[i - 1]!;
    const q = points[i]!;
    const r = points[i + 1]!;
    const ux = q.x - p.x;
    const uy = q.y - p.y;
    const vx = r.x - q.x;
    const vy = r.y - q.y;
    turn += Math.abs(Math.atan2(ux * vy - uy * vx, ux * vx + uy * vy));
  }
  const forTurn = turn / turnPerStretch;
  // An arc of n stretches bulges turn · length / 8 n² beyond each.
  const forBulge = Math.sqrt((turn * polylineLength(points)) / (8 * mostBulge));
  return Math.max(1, Math.min(mostStretches, Math.ceil(Math.max(forTurn, forBulge) - 1e-9)));
}

/** Ends of n stretches at equal shares of the length, both ends included. */
export function splitLine(points: readonly Point[], stretches: number): Point[] {
  const first = points[0]!;
  const last = points.at(-1)!;
  if (points.length === 2)
    return Array.from({ length: stretches + 1 }, (_, i) => lerp(first, last, i / stretches));
  const length = polylineLength(points);
  return Array.from({ length: stretches + 1 }, (_, i) =>
    i === 0 ? first : i === stretches ? last : pointAlong(points, (length * i) / stretches).at,
  );
}

/** The stretch of a line between two places along it, mm. */
export function partOfLine(points: readonly Point[], from: number, to: number): Point[] {
  const out: Point[] = [pointAlong(points, from).at];
  let along = 0;
  for (let i = 1; i < points.length; i++) {
    along += Math.hypot(points[i]!.x - points[i - 1]!.x, points[i]!.y - points[i - 1]!.y);
    if (along > from + samePlace && along < to - samePlace) out.push(points[i]!);
  }
  out.push(pointAlong(points, to).at);
  return out;
}

/** Places along a line nearer than this are one, mm: rounding, far below what can be drawn. */
const samePlace = 1e-6;

/** Every edge of the pattern by id, holes included, with its piece. */
export function edgesOf(
  pattern: Pattern,
): Map<string, { piece: string; points: readonly Point[]; flat?: true }> {
  return new Map(
    pattern.pieces.flatMap((piece) =>
      [...piece.outline, ...piece.holes.flat()].map(
        (edge) =>
          [
            edge.id,
            { piece: piece.id, points: edge.points, ...(edge.flat ? { flat: true as const } : {}) },
          ] as const,
      ),
    ),
  );
}
