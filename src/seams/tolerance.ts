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

/** Where one pair of mates follows another, the turns of both outlines add up to the angle that is missing from (or
 *  beyond) a full turn round that corner of the shell, rad. Costume shells stay well under this; past the end of a seam
 *  the sum is nearer to a half turn. Ten times smaller would cut runs at every doubly curved spot. */
export const openCorner: Rad = 0.8;
/** The same beyond the two numbered edges, where a run may end and its neighbours be equally long by symmetry. On 52
 *  drawings of 26 generated patterns 0.6 let 8 wrong seams through beside 6,931 right ones, 0.45 none. */
export const openEnd: Rad = 0.4;

/** Confidence of a seam from a number that is on exactly two edges: printing errors do happen. */
export const numberConfidence = 0.98;
/** The same when the two lengths are unequal: the number may be wrong, or name a run of edges. */
export const unequalNumberConfidence = 0.6;
/** A seam of a run whose number stands for all of it, between the two numbered edges. */
export const runConfidence = 0.95;
/** The same beyond them, where the run may already have ended. */
export const runEndConfidence = 0.75;
/** A seam of a run that can be laid out in several ways: enough to keep others from guessing at the same edges. */
export const unclearRunConfidence = 0.65;
/** A pattern is taken to be numbered by runs when so many numbers stand on unequal edges and fit one run only … */
export const fewestRunNumbers = 2;
/** … which must be this part of all numbers that stand on two edges: a few misprints do not make it so. */
export const fewestRunNumbersPart = 0.05;
/** A number on three or more edges, and the two lengths are the same. */
export const repeatedSameConfidence = 0.8;
/** A number on three or more edges, and the two lengths are not the same: only a candidate. */
export const repeatedOtherConfidence = 0.3;

/** Proposals below this are candidates to show, never seams. */
export const acceptFrom = 0.5;
/** A proposal must lead the next best one of either edge by this, else both stay open. */
export const clearLead = 0.15;
