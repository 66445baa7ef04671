/** A point that is pointed at on a panel, as a point of a face of the pattern: how drawn lines are kept. */
import type { Point } from '../math';
import { type FacePoint, fromParts, type Pattern, type Recut, rootOf, toParts } from '../model';
import { inside, offSegment } from './crossing';
import { carriedBy } from './meanValue';

/**
 * @param pattern as drawn
 * @param recut what the edits made of it
 * @param panel id of the panel in `recut`
 * @param at where the panel stands in `recut`; beside it the nearest face counts
 * @returns null when there is no such panel, or it has no faces
 */
export function facePoint(
  pattern: Pattern,
  { pattern: panels, laid }: Pick<Recut, 'pattern' | 'laid'>,
  panel: string,
  at: Point,
): FacePoint | null {
  const piece = panels.pieces.find((p) => p.id === panel);
  let best: { face: string; ring: readonly Point[]; off: number } | null = null;
  for (const { id, polygon } of piece?.faces ?? []) {
    const ring = laid[id]?.laid ?? polygon;
    const off = inside(ring, at)
      ? 0
      : Math.min(...ring.map((a, i) => offSegment(at, a, ring[(i + 1) % ring.length]!)));
    if (off < (best?.off ?? Number.POSITIVE_INFINITY)) best = { face: id, ring, off };
  }
  if (!best) return null;
  const face = rootOf(best.face);
  const whole = pattern.pieces.flatMap((p) => p.faces).find((f) => f.id === face);
  if (!whole) return null;
  return toParts(face, whole.polygon, carriedBy(best.ring, laid[best.face]?.drawn ?? best.ring, at));
}

/**
 * Where such a point lies now.
 * @returns the panel that holds it and its place there, or null when its face is not there any more
 */
export function facePlace(
  pattern: Pattern,
  { pattern: panels, laid }: Pick<Recut, 'pattern' | 'laid'>,
  mark: FacePoint,
): { readonly panel: string; readonly at: Point } | null {
  const whole = pattern.pieces.flatMap((p) => p.faces).find((f) => f.id === mark.face);
  if (!whole) return null;
  const p = fromParts(mark, whole.polygon);
  let best: { panel: string; at: Point; off: number } | null = null;
  for (const piece of panels.pieces)
    for (const { id, polygon } of piece.faces) {
      if (rootOf(id) !== mark.face) continue;
      const drawn = laid[id]?.drawn ?? polygon;
      const off = inside(drawn, p)
        ? 0
        : Math.min(...drawn.map((a, i) => offSegment(p, a, drawn[(i + 1) % drawn.length]!)));
      if (best && best.off <= off) continue;
      best = { panel: piece.id, at: carriedBy(drawn, laid[id]?.laid ?? drawn, p), off };
    }
  return best;
}
