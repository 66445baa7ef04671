/**
 * How far the edges of a glued seam move, face by face, and how they are cut.
 *
 * Moving both sheets of foam by d at a bend φ moves the line in which they meet by d · tan(φ/2) in each sheet. With the
 * source surface `outside` a below the outer skin and `inside` b above the inner one:
 * - bevelled: each skin ends on its own such line, outside +a tan(φ/2), inside −b tan(φ/2); the cut leans by φ/2;
 * - square: one line for all depths, that of the skin that touches first: the inner one at a convex bend,
 *   −b tan(φ/2), the outer one at a concave bend, −a tan(|φ|/2); a wedge of 2 t sin(|φ|/2) stays open at the other skin.
 *   Mates of different thickness touch at the depth that both have.
 *   Foam that is squeezed by c there meets c deeper: b − c (or a − c), and t − c in the wedge;
 * - flush: one line for all depths, that of the neutral layer; half the wedge stays open, the other skin is squeezed;
 * - lapped: the panel that runs past is cut square where its end reaches the far skin of its mate, and the mate where it
 *   reaches the near skin of that panel; what is left open between them is t |cos φ|.
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

/** Which part of a lapped seam an edge is. */
export interface LapPart {
  readonly part: 'over' | 'under';
  /** The skins of the mate above and below this panel's own source surface. */
  readonly mate: FoamDepths;
}

export interface SeamCutMore {
  /** Height of the neutral layer above the source surface; 0 where that is the neutral surface itself. */
  readonly neutral?: Mm;
  readonly lap?: LapPart;
  /** How deep the touching edges of a square seam are squeezed. */
  readonly squeeze?: Mm;
  /** The skins of a mate of another thickness above and below this panel's own source surface. */
  readonly mate?: FoamDepths;
}

const square = (shift: Mm, openWedge: Mm): SeamCut => ({ outside: shift, inside: shift, tilt: 0, openWedge });

/** The cut of an edge at a seam with this bend; a bend of zero is a plain square cut that does not move. */
export function seamCut(
  bend: Rad,
  preparation: SeamPreparation,
  depths: FoamDepths,
  more: SeamCutMore = {},
): SeamCut {
  const slope = Math.tan(bend / 2);
  const thickness = depths.outside + depths.inside;
  switch (preparation) {
    case 'bevel':
      return {
        outside: depths.outside * slope,
        inside: -depths.inside * slope,
        tilt: bend / 2,
        openWedge: 0,
      };
    case 'square': {
      const squeeze = Math.min(more.squeeze ?? 0, thickness / 2);
      const mate = more.mate ?? depths;
      // Seen from the closing side everything is a convex bend.
      const [own, other, far] =
        bend > 0
          ? [depths.inside, mate.inside, Math.min(depths.outside, mate.outside)]
          : [depths.outside, mate.outside, Math.min(depths.inside, mate.inside)];
      const common = Math.min(own, other);
      return square(
        squeeze * Math.abs(slope) - closingBack(Math.abs(bend), own, other),
        2 * Math.max(0, common + far - squeeze) * Math.sin(Math.abs(bend) / 2),
      );
    }
    case 'flush': {
      const neutral = more.neutral ?? 0;
      const opening = bend > 0 ? depths.outside - neutral : depths.inside + neutral;
      return square(neutral * slope, 2 * opening * Math.sin(Math.abs(bend) / 2));
    }
    case 'lapped': {
      if (!more.lap) return seamCut(bend, 'square', depths);
      return square(lapShift(bend, depths, more.lap), thickness * Math.abs(Math.cos(bend)));
    }
  }
}

/**
 * How far the edge of a square cut stays back on the closing side: mates touch at the depth that both have. The thicker
 * one, whose edge goes on deeper, passes behind its mate's skin up to a right angle; past it its far edge stops there.
 */
function closingBack(bend: Rad, own: Mm, other: Mm): Mm {
  const touching = Math.min(own, other) * Math.tan(bend / 2);
  if (own <= other || bend <= Math.PI / 2) return touching;
  return Math.max(touching, (other - own * Math.cos(bend)) / Math.sin(bend));
}

/** The largest shift at which no depth of the edge passes the skin of the mate that it stops at. */
function lapShift(bend: Rad, own: FoamDepths, { part, mate }: LapPart): Mm {
  const sin = Math.sin(Math.abs(bend));
  const cos = Math.cos(bend);
  // Seen from the closing side everything is a convex bend.
  const [far, near] = bend > 0 ? [mate.outside, mate.inside] : [mate.inside, mate.outside];
  const [high, low] = bend > 0 ? [own.outside, own.inside] : [own.inside, own.outside];
  const limit = part === 'over' ? far : -near;
  return Math.min((limit - high * cos) / sin, (limit + low * cos) / sin);
}

/** A border: cut square where it is drawn. */
export const borderCut: SeamCut = { outside: 0, inside: 0, tilt: 0, openWedge: 0 };
