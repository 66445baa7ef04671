/**
 * How far the edges of a glued seam move, face by face, and how they are cut.
 *
 * Moving both sheets of foam by d at a bend φ moves the line in which they meet by d · tan(φ/2) in each sheet. With the
 * paper `outside` a below the outer skin and `inside` b above the inner one:
 * - bevelled: each skin ends on its own such line, outside +a tan(φ/2), inside −b tan(φ/2); the cut leans by φ/2;
 * - square: one line for all depths, that of the skin that touches first: the inner one at a convex bend,
 *   −b tan(φ/2), the outer one at a concave bend, +a tan(φ/2); a wedge of 2 t sin(|φ|/2) stays open at the other skin.
 */
import type { FoamDepths, SeamPreparation } from '../model';
import type { Mm, Rad } from '../units';

export interface SeamCut {
  /** Shift of the edge on the outer skin, + away from the material. */
  readonly outside: Mm;
  /** The same on the inner skin. */
  readonly inside: Mm;
  /** Tilt of the cut from square as seen from the outer skin: + the outer skin reaches further. */
  readonly tilt: Rad;
  /** Width of the wedge that stays open. */
  readonly openWedge: Mm;
}

/** The cut of an edge at a seam with this bend; a bend of zero is a plain square cut that does not move. */
export function seamCut(bend: Rad, preparation: SeamPreparation, depths: FoamDepths): SeamCut {
  const slope = Math.tan(bend / 2);
  if (preparation === 'bevel') {
    return {
      outside: depths.outside * slope,
      inside: -depths.inside * slope,
      tilt: bend / 2,
      openWedge: 0,
    };
  }
  const shift = bend > 0 ? -depths.inside * slope : depths.outside * slope;
  const thickness = depths.outside + depths.inside;
  return { outside: shift, inside: shift, tilt: 0, openWedge: 2 * thickness * Math.sin(Math.abs(bend) / 2) };
}

/** A border: cut square where it is drawn. */
export const borderCut: SeamCut = { outside: 0, inside: 0, tilt: 0, openWedge: 0 };
