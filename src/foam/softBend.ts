/**
 * Length that a fold takes when it stays inside a panel as a soft bend.
 *
 * Bend allowance BA = |φ| (R + K t), setback = (R + depth) tan(|φ|/2), with φ the angle bent through, R the radius of
 * the inner skin of the bend, K the neutral ratio, t the thickness, depth the distance from the inner skin to the
 * surface on which the flat lengths are given: the formulas of sheet-metal bending (BD = 2 · OSSB − BA for legs
 * measured to the outer mould lines, depth = t). No neutral ratio of foam is published: 0.5 unless measured.
 */
import type { FoamDepths } from '../model';
import type { Mm, Rad } from '../units';

/** The properties of the foam that a bend needs. */
export interface BendFoam {
  readonly thickness: Mm;
  readonly neutralRatio: number;
  readonly bendRadius: Mm;
}

/** Length of the neutral layer within a bend, mm. */
export function bendAllowance(bend: Rad, foam: BendFoam): Mm {
  return Math.abs(bend) * (foam.bendRadius + foam.neutralRatio * foam.thickness);
}

/** Distance from the end of the bend to the corner that the two flat sides would make, on the surface that lies
 *  `depth` from the inner skin of the bend, mm. */
export function setback(bend: Rad, radius: Mm, depth: Mm): Mm {
  return (radius + depth) * Math.tan(Math.abs(bend) / 2);
}

/**
 * By how much the flat panel is longer across a fold than the paper: positive longer, in mm. A convex bend has its
 * inner skin on the inside of the shell, a concave one on the outside.
 */
export function bendLengthChange(bend: Rad, foam: BendFoam, depths: FoamDepths): Mm {
  const depth = bend > 0 ? depths.inside : depths.outside;
  return bendAllowance(bend, foam) - 2 * setback(bend, foam.bendRadius, depth);
}
