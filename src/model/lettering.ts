import type { Point } from '../math';
import type { Mm, Rad } from '../units';
import type { Lettering } from './marked';

/**
 * Makes lettering for stages that write on paper without knowing the font. `height` is the height of digits and
 * capitals (what a ruler on the print shows), `at` the middle of the text: half its width along the baseline, half
 * that height above it.
 */
export interface LetterShapes {
  /** The text as filled rings, standing at `at`, its baseline turned counter-clockwise by `angle`. */
  letter(text: string, at: Point, height: Mm, angle: Rad, use: Lettering['use'], of: string): Lettering;
  /** Length of the text along its baseline. */
  widthOf(text: string, height: Mm): Mm;
}
