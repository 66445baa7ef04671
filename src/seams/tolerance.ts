import type { Mm, Rad } from '../units';

/**
 * Tolerances and weights of pairing, each with its reason.
 */

/** Mates are reported as unequal when they differ by more than this … A blade follows a line to about 0.5 mm, so a
 *  maker can lose 1 mm over a seam without seeing it. Ten times larger would hide swapped neighbours; ten times smaller
 *  would report the rounding of hand-drawn patterns. */
export const unequalBeyond: Mm = 1;
/** … and by more than this part of the longer one: long seams stretch into place, short ones do not. */
export const unequalBeyondPart = 0.02;

/** Lengths count as the same within this … Drawing programs round to 0.01 mm and loose lines are joined within
 *  0.1 mm at either end. Ten times larger would let neighbours of a regular pattern pass for each other. */
export const sameWithin: Mm = 0.3;
/** … plus this part of the longer one, for patterns drawn by hand. */
export const sameWithinPart = 0.005;

/** A turn of the outline by more than this is a corner that bounds a run of edges under one number, rad. Outlines of
 *  unfolded strips turn by less at the folds; the ends of a seam usually turn by a right angle or so. */
export const cornerTurn: Rad = 0.6;

/** Confidence of a seam from a number that is on exactly two edges: printing errors do happen. */
export const numberConfidence = 0.98;
/** The same when the two lengths are unequal: the number may be wrong, or name a run of edges. */
export const unequalNumberConfidence = 0.6;
/** A number on three or more edges, and the two lengths are the same. */
export const repeatedSameConfidence = 0.8;
/** A number on three or more edges, and the two lengths are not the same: only a candidate. */
export const repeatedOtherConfidence = 0.3;

/** Proposals below this are candidates to show, never seams. */
export const acceptFrom = 0.5;
/** A proposal must lead the next best one of either edge by this, else both stay open. */
export const clearLead = 0.15;
