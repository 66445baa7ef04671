import type { Mm, Rad } from '../units';

/**
 * Faces that are laid flat together may be stretched or squeezed by this much along a side: foam gives it without being
 * seen. Ten times more shows as puckers, ten times less takes layers over gentle domes apart.
 */
export const flatMisfit: Mm = 1;
/** Area of faces on each other, as a part of the area of all, from which they do not lie flat together. Rounding is 1e-6. */
export const overlapShare = 1e-3;
/** The rim of a part of a band is as long as the shell's within this: half of what is seen where a band ends. */
export const rimSlack: Mm = 0.5;
/** Corners of an outline that turn by less belong to one curved edge. A fold's end is sharper; a fair curve is not. */
export const edgeTurn: Rad = (25 * Math.PI) / 180;
/** How far a mitred corner of a margin or ribbon may stand out, in distances. */
export const mitreLimit = 3;
/** Ends of placement lines this near are one point: lines of neighbouring faces, mapped face by face. */
export const sameEnd: Mm = 0.3;
/** Skins that differ by less count as one height: a blade does not see it. */
export const sameHeight: Mm = 0.05;
/** Folds of a layer that bend less are not drawn: nobody sees them. */
export const visibleBend: Rad = (1.5 * Math.PI) / 180;
/** Room between parts on the bench, and between them and the panels. */
export const standApart: Mm = 15;
/** Chords of circles stay this near to them. */
export const sagitta: Mm = 0.02;
/** Islands of less area fall out of a margin or a ribbon: no blade cuts them. */
export const shaving = 4;
/** A ruler is read to this: a wedge that is wider by so little is foam that is not squeezed at all. */
export const rulerReading: Mm = 0.5;
/**
 * A rim that leaves a sheet that bends one way by more is not covered by one: soft foam or a thin clear sheet is pulled
 * in by about so much over a hand's breadth (common practice, no source). Half of it refuses usual face openings.
 */
export const visorOff: Mm = 4;
/** From here on the person is told to look: a gap of so much is seen. */
export const visorLook: Mm = 1.5;
/** A sheet covers less than so much of a turn round the shell's middle; beyond it it would close to a tube. */
export const widestSheet: Rad = (300 * Math.PI) / 180;
/** Degree of a sheet's section: more follows the facets of a coarse shell, half leaves turned-in cheeks by millimetres. */
export const sheetTerms = 8;
/**
 * What a sheet that stands square off the shell beside the rim costs, mm, against one that goes on as the shell does: a
 * level stretch of rim lies on sheets of any lean. Small beside the errors that are told.
 */
export const leanPrice = 0.2;
/** A cone must leave less than this part of a cylinder's error. */
export const clearlyBetter = 0.8;
/** A folded visor bends no sharper along a line: more does not close by scoring one side of foam (common practice, no source). */
export const visorFold: Rad = (80 * Math.PI) / 180;
/** A rim that comes out longer or shorter by more than this, all round, puckers or gapes where it is glued (common practice, no source). */
export const visorStretch: Mm = 3;
/** An outline on the shell may be off by so much where the shell is curved both ways; beyond it its size means nothing. */
export const outlineMisfit: Mm = 5;
/** A face of which less is covered, mm², is not covered. */
export const sliver = 0.5;
/** A face that rises by less, mm a mm, is level: what is in front counts as up on it. */
export const leastUp = 0.25;
/** Parts that lie on less than this of a layer's ground do not carry it. */
export const carriesFrom = 0.05;
/** Card or film for stencils, mm; common practice, no source. */
export const stencilThickness: Mm = 0.2;
/** Marks on stencils: arms of a cross, ticks at seams, and how far crosses stay from the edge. */
export const crossArm: Mm = 3;
export const seamTick: Mm = 6;
export const crossClear: Mm = 4.5;
/** Size of the patches that a part is drawn with on the shell: bends look even, and there are hundreds of them, not thousands. */
export const patchSize: Mm = 12;
