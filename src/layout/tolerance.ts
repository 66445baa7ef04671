/** Sizes of what the layout adds to pages, and the step of its searches. All in mm; ours, chosen on paper prints. */
import type { Mm } from '../units';

/** The frame must hold the check square with its labels and leave something for panels. */
export const leastPrinted: Mm = 120;
/** Below this two pages cannot share a mark that can be seen. */
export const leastOverlap: Mm = 4;
/** Strip under the frame for title, page name and page number. */
export const footerHeight: Mm = 6.5;
/** Free space between panels, and between panels and the rim of the layout. */
export const panelGap: Mm = 4;
export const rimGap: Mm = 2;
/**
 * Columns of the panel profiles: a four-hundredth of the side of a square of all panels, within these limits. Finer
 * packs hardly tighter and takes four times as long per halving; coarser wastes room beside slanted edges.
 */
export const finestProfile: Mm = 2;
export const coarsestProfile: Mm = 5;
export const profileParts = 400;
/** Cells that score a placement, in profile columns; the pages themselves are decided exactly afterwards. */
export const scoreColumns = 3;
/** A printed check square further from 100 mm than this is a misreading (inches, centimetres), not a printer. */
export const leastMeasured: Mm = 80;
export const mostMeasured: Mm = 120;
/**
 * A line of the check page that is off by more than this part was fitted to the page by the print dialog: ordinary
 * printers are off by less than 1 % (common practice, no source).
 */
export const fittedFrom = 0.02;
/** Printers are off by about the same along and across; more than this apart is a slip of the ruler. */
export const mostApart = 0.015;
/** Ticks of the check page's ladders, one a millimetre; no printer for sheets leaves more empty (common practice, no source). */
export const mostReach: Mm = 20;
/** Ladders and their figures take this much of each edge of the check page. */
export const checkPageInset: Mm = 27;
/** Room for the ladders along the short side of the check page. */
export const leastCheckPaper: Mm = 120;
/** Distance between pages that stand by themselves in layout space. */
export const blockGap: Mm = 20;
/** Positions on two pages agree within this: far below a printer's dot, far above rounding. */
export const coincide: Mm = 0.001;
