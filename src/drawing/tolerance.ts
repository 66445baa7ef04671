import type { Mm } from '../units';

/**
 * How far a cubic may lie from the elliptical arc it stands for, mm. Arcs are the only curves that are not carried
 * over exactly. At ×10 a circle of a hand's size would miss its own gauge line by a visible hair on an enlarged
 * print; at ÷10 arcs get about half as many cubics again without any cutter being able to follow the difference.
 */
export const arcError: Mm = 0.0005;

/**
 * A closed line whose drawn end comes this close to its start is taken to end there, mm; otherwise the closing
 * stretch is added. Relative commands add up rounding of about 1e-12 of the page. At ×1000 short real stretches
 * would be swallowed; at ÷1000 sums of long relative paths would leave stretches of no length.
 */
export const sameEnd: Mm = 1e-6;

/** Relative error of a measured curve length; 1000 mm are known to a micrometre. */
export const lengthError = 1e-6;

/**
 * How well two statements of a page's size must agree (width against height through the viewBox) before they count
 * as two different scales, as a part of the size. Files written with whole millimetres or two decimals differ by up
 * to about 0.2 %; a real difference, such as 90 against 96 per inch, is 6 %.
 */
export const sameScale = 0.005;
