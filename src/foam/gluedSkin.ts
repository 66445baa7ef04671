/** At which depth the two sides of a seam are glued: there mates have to agree in length, and marks to meet. */
import { type Point, point } from '../math';
import type { FoamDepths } from '../model';
import type { Mm, Rad } from '../units';
import type { PiecePlan, PlannedSeam } from './shapePiece';

/** What of a stretch of outline the depth depends on. */
interface Glued {
  readonly planned: PlannedSeam | null;
  readonly bend: Rad;
}

/**
 * The height above a panel's own neutral layer at which a stretch of its outline meets its mate. Square cuts touch on
 * one skin only, inside at a convex bend and outside at a concave one, flush ones at the neutral layer; what bevels
 * touch everywhere, and what laps or borders, is measured where it is traced. Mates of different thickness meet within
 * the depth that both have.
 * @param plan of a panel from the shell, its depths about its own neutral layer
 */
export function gluedHeight({ planned, bend }: Glued, plan: PiecePlan): Mm {
  const { depths, neutralRatio, traced } = plan;
  const mate = planned?.mate ?? depths;
  switch (planned?.preparation) {
    case 'square':
      return bend < 0 ? Math.min(depths.outside, mate.outside) : -Math.min(depths.inside, mate.inside);
    case 'flush':
      return neutralOf(mate, neutralRatio) / 2;
    default:
      return traced === 'outside' ? depths.outside : -depths.inside;
  }
}

/** Where a corner goes at a height above the neutral layer, between what it does on the two skins. */
export function moveAt(
  { inside, outside }: Readonly<Record<'inside' | 'outside', Point>>,
  height: Mm,
  { depths }: PiecePlan,
): Point {
  const thickness = depths.inside + depths.outside;
  const part = thickness > 0 ? (height + depths.inside) / thickness : 0;
  return point(inside.x + part * (outside.x - inside.x), inside.y + part * (outside.y - inside.y));
}

/** The neutral layer of a mate, above that of the panel; that of a mate of the same foam is rounding. */
const neutralOf = ({ outside, inside }: FoamDepths, ratio: number): Mm =>
  outside - (1 - ratio) * (outside + inside);
