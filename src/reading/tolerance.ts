/** The distances and angles that reading decides by, each with its reason. */
import type { Mm, Rad } from '../units';

const degree: Rad = Math.PI / 180;

/**
 * Curves are flattened to this. Ten times coarser shows as wrong seam lengths (0.1 % on a 20 mm radius); ten times
 * finer triples the points of every curve for nothing that paper can show.
 */
export const flatness: Mm = 0.02;

/** A curve whose control points lie this close to its chord is a straight line. Half the flatness. */
export const straightCurve: Mm = 0.01;

/**
 * Two curves that meet with less turn than this run on as one edge. Drawing programs place smooth joints within a
 * fraction of a degree; a corner that a maker would cut as a corner turns by more than 10 degrees.
 */
export const smoothTurn: Rad = 10 * degree;

/** Line ends further apart than the join distance but closer than this are reported as a gap. */
export const gapLimit: Mm = 1;

/** A cut line into a piece shorter than this is an overshoot, not a slit. */
export const shortestSlit: Mm = 1;

/** The join distance is at most this part of the short lines, so that no real line shrinks to a point. */
export const joinShare = 0.25;

/** Lines shorter than the ones that make up this part of all length do not count as short lines: letter strokes. */
export const shortLineShare = 0.02;

/** Angles of a rectangle may be off by this much: noise of 0.02 mm on a side of 3 mm. */
export const squareness: Rad = 0.6 * degree;

/** Sides of a check square and lengths of a scale bar may differ from the named size by this part. */
export const namedSizeSlack = 0.015;

/** Two tab tops or bases count as parallel within this turn. */
export const parallelTurn: Rad = 3 * degree;

/** Base angles that a glue tab can have; steeper ends are faces, flatter ones slivers. */
export const tabAngles: { readonly least: Rad; readonly most: Rad } = {
  least: 20 * degree,
  most: 84 * degree,
};

/** A tab is hardly ever higher than this part of its base; higher ones count only when they match others exactly. */
export const tabHeightShare = 0.65;
export const tabHeightMost = 1.4;

/** Outlines smaller than this across, and than this part of the largest piece, are specks, not pieces. */
export const smallestPiece: Mm = 2;
export const speckShare = 0.05;

export { degree };
