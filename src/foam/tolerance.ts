import type { Mm, Rad } from '../units';

/** Seams and folds bent this far or further are refused: tan(φ/2) passes 11 and grows without bound, and two sheets of
 *  foam laid back on each other are no seam. */
export const refusedBend: Rad = (170 * Math.PI) / 180;

/** A fold bent further should become a seam: at 40° the outer skin must stretch by 0.7 thicknesses in one crease. */
export const softBendLimit: Rad = (40 * Math.PI) / 180;

/** Points of a piece closer than this are the same corner: ten thousandths of what reading joins (0.1 mm), far above
 *  the rounding of coordinates. */
export const sameCorner: Mm = 1e-3;

/** Rounds in which bevelled edges that collide are changed to square cuts; a trial on seven shells needed 6 at most. */
export const fallbackRounds = 6;

/** A difference between the two sides of a seam that is worth a sentence: soft foam takes less by hand. */
export const mismatchWorthSaying: Mm = 2;
