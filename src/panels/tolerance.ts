import type { Mm, Rad } from '../units';

/** Corners of faces that were cut out of one drawn piece agree this well; beyond it a join has left a misfit that is
 *  shared out. Ten times more would leave steps in outlines, ten times less would settle rounding noise. */
export const flatSlack: Mm = 1e-6;
/** Rounds of sharing out a misfit (local/global): residuals no longer change in the third digit (own study). */
export const settleRounds = 300;
/** Outline sides hold their length by this weight against the faces' own: seams stay equal (own study). */
export const stiffWeight = 20;
/** Room between panels on the bench. */
export const standApart: Mm = 12;
/** Faces of one panel may lie on each other by this much besides the misfit: noise of the drawing. */
export const overlapSlack: Mm = 0.3;
/** A misfit up to this is foam giving a little, and tips of darts may lie on each other by it; beyond, it is a fault (own
 *  study: 1 of 0.5, 1 and 2 mm tried). */
export const closedMisfit: Mm = 1;
/** A piece that foam would have to be stretched by more to lay flat in its hole stands up from it: a plug cut by hand is
 *  off by a millimetre or two, a wall of 5 mm sewn to a rim of 30 mm radius by ten. */
export const standsUpFrom: Mm = 3;
/** Corners that turn less, on both panels of a seam, are facets and become a curve; sharper ones are meant (own study). */
export const smoothTurn: Rad = (15 * Math.PI) / 180;
/** No curve leaves the straight edge that it replaces farther than this: the study saw 0.6, and 0.9 on coarse shells. */
export const smoothReach: Mm = 1;
/** Ends of neighbouring edges of one outline are the same numbers but for rounding. */
export const sameCorner: Mm = 1e-6;
/** Drawn lines: corners of faces this near to a line lie on it. A tenth would miss corners by rounding of the layout,
 *  ten times more would take a real crossing beside a corner for the corner. */
export const touching: Mm = 1e-5;
/** A line that passes a corner this closely goes through it: a strip narrower than that is no foam. */
export const throughCorner: Mm = 1;
/** A drawn line goes on by so much beyond its ends on the outline, so that rounding can't leave it short. */
export const lineReach: Mm = 0.05;
/** Beyond an end on a curved edge: curves leave the stretches that stand for them by 0.5 mm at the most. */
export const curveReach: Mm = 1;
/** Places on one line this near are one: far below what can be cut, far above rounding. */
export const samePlace: Mm = 1e-3;
/**
 * Panels whose outlines differ by more than this part of their size (√area) are not near mirror images. Of shells of the
 * generator (60 faces in 10 panels) and the Gannet helm, panels that are none differ by 12 % and more; half as much
 * misses pairs that were drawn by hand.
 */
export const likeShape = 0.08;
/** Outlines of few corners are alike by chance: triangles of one net from 4 % on. */
export const fewCorners = 6;
export const likeShapeOfFew = 0.03;
/** Sides of a seam that come to differ by more when a panel is made symmetric are told: less goes into the glue line. */
export const seamPull: Mm = 0.3;
