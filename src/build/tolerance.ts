import type { Mm } from '../units';

/**
 * Girth of an opening that lets a hand with a foam block or a roller behind the seams: a hand is about 200 mm round at
 * the knuckles, the rest is room to turn it (common practice, no source). 200 would only let a bare hand through, 300
 * would call the arm holes of a child's costume too narrow.
 */
export const handGirth: Mm = 250;
/**
 * An assembly lies open, whatever its size, where the square of an opening's girth is at least this share of 4π times
 * the area behind it: a flat disc has 1, half a ball 0.5, a ball but for a small hole nearly 0. Fingers reach into half
 * a ball (own choice).
 */
export const openShare = 0.5;
/** Unglued rests of an edge shorter than this are rounding of lengths and no opening. */
export const leastRest: Mm = 1;
