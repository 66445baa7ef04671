import type { Mm, Rad } from '../units';

/** Places along a side of a seam at which its gap is measured, both ends included: cut faces are ruled, so the ends show
 *  the extremes; those between make the mean. */
export const placesPerSide = 5;

/** Panels that are not neighbours clash when they share more than this, mm³: a cube of 2 mm. Less is the corner of a
 *  bevel that soft foam takes. */
export const clashVolume = 8;

/** A gap that is worth a remedy: wider than a bead of contact adhesive closes (common practice, no source). */
export const gapWorthSaying: Mm = 0.5;

/** A fold that ends on a seam and is bent further is the likely reason when the seam gapes: the skins of 5 mm foam stretch
 *  there by 1.4 mm. Common practice, no source. */
export const foldWorthMending: Rad = (30 * Math.PI) / 180;

/** How far the neutral layer of real foam may lie from where it was reckoned with, in thicknesses (own study). */
export const neutralDoubt = 0.15;

/** Prisms with less volume, mm³, are slivers of vanished edges; the solid library is not asked about them. */
export const leastPrism = 1e-3;

/** Faces of a panel that bend less against the first of them are one slab: strips of a flank that is drawn flat come out
 *  of the fold-up bent by 0.2° against each other. It moves the far side of a strip of 14 mm by 0.1 mm. */
export const onePlane: Rad = Math.PI / 360;

/** Faces of a panel further apart than this at a corner have folds that do not close their rings as the shell bends them;
 *  below it the misfit is less than a gap figure shows. */
export const ringMisfit: Mm = 0.005;

/** Faces that are brought together at their hinges come this near, and in this many turns at the most. */
export const hingeSlack: Mm = 0.1;
export const hingeRounds = 400;
