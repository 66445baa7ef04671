import type { Mm } from '../units';

/** Heads outside are a slip of the unit: newborns measure 320 mm and more, the largest of 6,068 adults 635 mm. */
export const plausibleHead: { readonly least: Mm; readonly most: Mm } = { least: 300, most: 750 };

/** A scale outside means that the drawing's unit or a measure is wrong. */
export const plausibleScale = { least: 0.2, most: 5 } as const;

/**
 * By how much girth − 2πb is too large where the wall slopes, per mm of foam inside the paper: 0.4–5.1 mm at 65 % of
 * the height of six trial shells in 5 mm foam, 9–21 mm at 85 % (own trial; proportional to the depth).
 */
export const slopeError = {
  browLeast: 0.4 / 5,
  browMost: 5.1 / 5,
  crownLeast: 9 / 5,
  crownMost: 21 / 5,
} as const;

/** From this depth on the error above can pass 1 mm and is worth a note. */
export const slopeWorthSaying: Mm = 1;

/**
 * The inside girth is solved to this. A hundred times finer than the 0.1 mm that a tape could ever show, so that
 * fitting twice gives the same scale; secants reach it in three or four sections.
 */
export const girthTolerance: Mm = 1e-3;
/** Sections that are measured at most for one scale; secants take three or four, halving fifty at worst. */
export const mostScaleSteps = 60;
