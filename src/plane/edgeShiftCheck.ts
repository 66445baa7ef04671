/**
 * The self-check of the per-edge shift: how far every moved edge is from being parallel at its distance.
 */
import { dot, lerp, type Point, subtract, turnRight, unitOf } from '../math';
import type { Mm } from '../units';
import type { ShiftEdge, ShiftResult } from './edgeShift';

export interface EdgeDeviation {
  readonly id: string;
  /** Largest difference between the moved edge's distance from its source and its shift, mm. */
  readonly deviation: Mm;
  /** An end of it was blended or capped, which is where such a difference comes from. */
  readonly blended: boolean;
}

/**
 * The deviation of each edge that is left, measured on the lines before clean-up. A straight edge is measured at both
 * ends against its source line; a curved one at the middle of every stretch against the nearest line of its source.
 */
export function shiftDeviations(
  loops: readonly (readonly ShiftEdge[])[],
  result: ShiftResult,
): readonly EdgeDeviation[] {
  return loops.flatMap((loop, l) =>
    loop.flatMap((edge, k) => {
      const moved = result.loops[l]![k]!;
      if (moved.line.length < 2) return [];
      const deviation = Math.max(
        ...measurePoints(edge.points, moved.line).map((p) =>
          Math.abs(distanceBeyond(p, edge.points) - edge.shift),
        ),
      );
      return [{ id: edge.id, deviation, blended: moved.blended }];
    }),
  );
}

function measurePoints(source: readonly Point[], line: readonly Point[]): readonly Point[] {
  if (source.length === 2) return line;
  return line.slice(1).map((p, k) => lerp(line[k]!, p, 0.5));
}

/** Signed distance of p to the right of a polyline: from the nearest of its stretches, or from the line of the first
 *  or last stretch where p lies beyond that end. */
function distanceBeyond(p: Point, source: readonly Point[]): Mm {
  let nearest = Number.POSITIVE_INFINITY;
  let beyond = 0;
  for (let k = 1; k < source.length; k++) {
    const a = source[k - 1]!;
    const d = subtract(source[k]!, a);
    const length2 = dot(d, d);
    if (length2 === 0) continue;
    const t = dot(subtract(p, a), d) / length2;
    const clamped = Math.max(0, Math.min(1, t));
    const off = Math.hypot(p.x - a.x - clamped * d.x, p.y - a.y - clamped * d.y);
    if (off >= nearest) continue;
    nearest = off;
    const aside = dot(subtract(p, a), turnRight(unitOf(d)));
    const pastEnd = (k === 1 && t < 0) || (k === source.length - 1 && t > 1);
    beyond = pastEnd ? aside : Math.sign(aside) * off;
  }
  return beyond;
}
