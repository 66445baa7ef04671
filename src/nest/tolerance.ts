/** Tolerances of nesting, with their reasons. All lengths in mm. */
import type { Mm } from '../units';

/**
 * Two panels may reach this far into each other, or into their gap, before the check objects: a micrometre, far below
 * any cutter. Ten times smaller would be the grid of the polygon library; ten times larger would show as contact.
 */
export const nestTouch: Mm = 1e-3;

/**
 * Every outline is drawn in by this much before no-fit polygons are made, so that a pocket as wide as the part that
 * belongs in it stays open: a slit of no width would be closed by the union. Twice this, plus {@link freeDepth}, plus
 * the rounding of the grid stays under {@link nestTouch}.
 */
export const slitInset: Mm = 3e-4;

/**
 * Sheets are drawn in by this much, so that the margin is kept by the true outlines: a little less than the forms, so
 * that the rounding of the polygon library does not shut out a panel as wide as its sheet.
 */
export const rimInset: Mm = 0.99 * slitInset;

/** A depth up to this counts as free. Without a dead band the descent would never end. */
export const freeDepth: Mm = 1.5e-4;

/** Outlines of more vertices than this are simplified outwards: no-fit polygons take time with their square. */
export const plainVertices = 44;

/** … and so are outlines with more dents than this, which fall into many convex parts. */
export const plainDents = 22;

/** Sums of convex parts are united in groups when there are more than this: the library takes time with their square. */
export const sumsAtOnce = 60;

/** Simplified outlines stop losing vertices here … */
export const fewVertices = 26;

/** … or when the next one would move the outline out by more than this share of the panel's larger side. */
export const simplifyShare = 0.006;

/** Vertices that move the outline by less than this share go in any case when an outline is simplified. */
export const straightShare = 0.0004;

/** Cells along each side of a no-fit polygon's grid. Finer grids shorten lists that are short already. */
export const gridSide = 24;

/** Circles inside each form. */
export const formPoles = 3;

/** An offcut has at least this width and height, mm: ten times less and slips of the pointer count as offcuts, ten times more and scraps for ears and studs are refused. */
export const leastOffcut: Mm = 20;

/** Sheets reach at most so far, mm: rolls are cut to 2 m at most, and the polygon library is exact to twice this. */
export const sheetReach: Mm = 4000;

/** Part of an offcut's box that its outline may lose when it is read by the polygon library: rounding to its grid alone. */
export const offcutLoss = 1e-5;
