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
/**
 * Lines of extra parts are drawn this part of the shell's size outside its faces: a few times what a picture takes for
 * rounding. A tenth of it, and faces hide what lies on them; ten times it, and parts float.
 */
export const liftShare = 4e-3;
/** An edge of a part within this of a side of its face lies on that side: what laying faces flat leaves over. */
export const onSide: Mm = 0.2;
/** Rests of such edges that are shorter are the same noise along the side. */
export const speck: Mm = 1;
/** Dashes of broken lines and the gaps between them, as parts of a picture's longer side. */
export const dash = { line: 0.045, gap: 0.03 };
/** A picture is turned to another side for a tenth more of what it is about; views come most readable first. */
export const clearlyMore = 1.1;
