import type { Mm, Rad } from '../units';
import { gridPitch } from './polygonLibrary';

/**
 * Neighbours that turn by less than this are nearly collinear: their shifted lines meet far away, so the corner goes
 * along the bisector instead. 20° is the value of our own trial on seven shells, where 10° gave the same within
 * noise; at 2° single corners moved by 6–18 mm.
 */
export const blendBelow: Rad = (20 * Math.PI) / 180;

/** Beyond this turn two neighbours run back along each other and have no usable meeting point. */
export const reversalAbove: Rad = (179.9 * Math.PI) / 180;

/**
 * A kink inside one curved edge is a leftover of its flattening. Above this turn it is rounded on its outer side;
 * below, a mitre departs from the arc by less than 1 % of the shift.
 */
export const roundAbove: Rad = (15 * Math.PI) / 180;

/** Largest gap between such an arc and its chords: a tenth of a pencil line would be 0.03 mm. */
export const arcSagitta: Mm = 0.005;

/** A stretch shorter than this has no direction; drawings are joined at 0.1 mm or so. */
export const shortestRun: Mm = 1e-7;

/** A moved stretch no longer than this is a leftover of rounding and counts as collapsed. Must stay well below
 *  {@link shortestRun}, so that a shift of zero takes nothing out. */
export const collapseSlack: Mm = 1e-9;

/** A point of a cleaned ring this close to a raw line lies on it: rounding to the grid moves it by at most 0.71 pitch,
 *  a crossing of two lines that meet at a small angle by a little more. */
export const onLine: Mm = 4 * gridPitch;
