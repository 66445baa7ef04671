/**
 * Sizes and tolerances of marking, in mm unless said. Those about legibility are ours, chosen on paper prints; none is
 * from a published source.
 */
import type { Mm, Rad } from '../units';

/**
 * Chord error of flattened letters, em: 0.02 mm on a 10 mm capital and on a 3 mm one, half the dot of a 600 dpi print.
 * Ten times more shows as corners; ten times less only makes files three times as large.
 */
export const glyphFlatness = { tall: 0.0015, small: 0.0045 };
/** Letters up to this height are small. */
export const smallLetter: Mm = 3.2;
/** Points of a letter closer than this (em) are one point. */
export const glyphSamePoint = 1e-5;

/** Smallest lettering that is printed: 2 mm capitals are about 8 pt type. */
export const smallestLetter: Mm = 2;
/** Free space kept round lettering. */
export const letterClearance: Mm = 0.8;
/** A long run gets its number again after this much of its length, so that each page of it shows one. */
export const numberEvery: Mm = 220;

/** An edge pair shorter than this carries no notch: the ticks would merge with the corners. */
export const shortestNotchedEdge: Mm = 6;
/** Notches keep this far from the ends of their edge, where a corner cut would take them away. */
export const notchFromCorner: Mm = 2.5;
/** On the shortest notched edges. */
export const notchFromCornerLeast: Mm = 1.5;
/** On panels from a shell a notch moves along its edge to where it meets its mate; no nearer to a corner than this. */
export const notchWithinEdge: Mm = 0.5;
/** Two tick patterns that agree within this are taken for the same by a maker holding two edges together. */
export const notchesLookAlike: Mm = 2;
/** Long runs get a further single tick after about this length, to spread stretch and cutting errors. */
export const notchEvery: Mm = 90;
/** A notch is placed only where the traced edge still lies on the cleaned outline, within this. */
export const onOutline: Mm = 0.05;

/** Ticks across an open edge: one every so many mm, reaching so far to each side. */
export const borderTickEvery: Mm = 8;
export const borderTickReach: Mm = 1;

/** Bevels below half a degree are cut square: nobody holds a knife truer. */
export const leastBevel: Rad = (0.5 * Math.PI) / 180;
