/** What can be a measure of a head. Wide: a child's first hat and a wig are inside, a slip of the unit is outside. */
import type { Mm } from '../units';

/** Head girth. */
export const leastGirth: Mm = 300;
export const mostGirth: Mm = 900;
/** Length, breadth and height of a head. */
export const leastMeasure: Mm = 60;
export const mostMeasure: Mm = 350;
/** More wearers than this in one table are a wrong file. */
export const mostWearers = 200;
