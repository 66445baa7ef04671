import type { Mm, Rad } from '../units';

/**
 * Edges of a clean fold-up of an exact drawing keep their lengths to 1e-4 mm; a drawing with 0.02 mm of noise stays
 * under 0.002 mm, and one wrong seam passes 0.01 mm at once (own study). Ten times more would pass wrong seams, ten
 * times less would doubt noisy drawings.
 */
export const doubtfulResidual: Mm = 0.01;
/** rho is 1.00–1.08 at a clean minimum, 1.3–4 with a snapped-through spot (own study). */
export const doubtfulRho = 1.5;
/**
 * A shape that is less sure than this part of its size (rms) is doubtful: the worst that the aims allow any shell. Own
 * family: nets in rows and random nets 0.2–0.55 %, moved at random 0.5–1.1 %, tubes 0.7–0.85 %, pauldron 1–2.5 %.
 */
export const doubtfulShape = 0.008;
/** A fold that bends against its drawn direction by less counts as flat: about 2°. */
export const wrongSignBend: Rad = 0.03;
/** A face that bends by less counts as flat: half a degree is less than anybody can see or cut. */
export const toldBend: Rad = 0.0087;
/** Room between components that stand side by side. */
export const besideGap: Mm = 40;
/** Lengths are mirror images of each other within this: 0.02 mm of drawing noise at both ends, four times over. */
export const mirrorSlack: Mm = 0.2;
