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
/** Distance between pages that stand by themselves in layout space. */
export const blockGap: Mm = 20;
/** Positions on two pages agree within this: far below a printer's dot, far above rounding. */
export const coincide: Mm = 0.001;
