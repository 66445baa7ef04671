/**
 * Pieces that look the same turned round, like a rectangle turned by half a turn: glued in either way they make the same
 * shell, so which way is no question.
 */
import { distance, type Point } from '../math';
import type { Pattern, Piece } from '../model';
import type { Mm } from '../units';
import type { GluedOutlines } from './gluedOutlines';
import { twinAngle, twinAngleOffset } from './matchTolerance';

/** A turn: where each edge of the piece comes to lie. */
export type Turn = ReadonlyMap<number, number>;

/**
 * The turns of each piece that map it onto itself, by its number in the outlines; the turn by nothing is left out. Only
 * pieces that nothing is glued to, of one outline.
 * @param reach most difference in length, mm
 */
export function pieceTurns(pattern: Pattern, glued: GluedOutlines, reach: Mm): ReadonlyMap<number, Turn[]> {
  const { half, mate } = glued;
  const turnsOf = new Map<number, Turn[]>();
  for (const piece of pattern.pieces) {
    if (piece.holes.length > 0) continue;
    const edges = piece.outline.map((e) => half.indexOf.get(e.id)!);
    if (edges.some((e) => mate[e] !== -1)) continue;
    const turns: Turn[] = [];
    for (let shift = 1; shift < edges.length; shift++) {
      const to = (k: number) => edges[(k + shift) % edges.length]!;
      const alike = edges.every((e, k) => {
        const slack = Math.max(twinAngle, twinAngleOffset / Math.max(half.length[e]!, 1e-3));
        return (
          Math.abs(half.length[e]! - half.length[to(k)]!) <= reach &&
          Math.abs(half.angle[e]! - half.angle[to(k)]!) <= slack
        );
      });
      if (alike && facesAgree(piece, shift)) turns.push(new Map(edges.map((e, k) => [e, to(k)])));
    }
    if (turns.length > 0) turnsOf.set(half.piece[edges[0]!]!, turns);
  }
  return turnsOf;
}

/** Whether the faces, too, come to lie on faces when edge k comes to lie on edge k + shift. */
function facesAgree(piece: Piece, shift: number): boolean {
  const corners = piece.outline.map((e) => e.points[0]!);
  const middle = meanOf(corners);
  const angle = directionOf(middle, corners[shift]!) - directionOf(middle, corners[0]!);
  const [cos, sin] = [Math.cos(angle), Math.sin(angle)];
  const centres = piece.faces.map((f) => meanOf(f.polygon));
  return centres.every((p) => {
    const [x, y] = [p.x - middle.x, p.y - middle.y];
    const turned = { x: middle.x + cos * x - sin * y, y: middle.y + sin * x + cos * y };
    return centres.some((q) => distance(turned, q) <= twinAngleOffset);
  });
}

const meanOf = (points: readonly Point[]): Point => ({
  x: points.reduce((sum, p) => sum + p.x, 0) / points.length,
  y: points.reduce((sum, p) => sum + p.y, 0) / points.length,
});

const directionOf = (from: Point, to: Point): number => Math.atan2(to.y - from.y, to.x - from.x);
