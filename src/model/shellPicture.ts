import type { Point } from '../math';
import type { Mm } from '../units';

/**
 * A still picture of the folded shell as lines: what a viewer far away sees, hidden lines left out. Picture space: mm
 * at the shell's size, x right, y up, the lower-left corner of the picture at the origin.
 */
export interface ShellPicture {
  readonly width: Mm;
  readonly height: Mm;
  readonly strokes: readonly ShellPictureStroke[];
}

export interface ShellPictureStroke {
  /** `rim`: the outer line of the shell as seen, and edges that stay open. */
  readonly kind: 'rim' | 'seam' | 'mountain' | 'valley' | 'flat';
  readonly from: Point;
  readonly to: Point;
  /** Fold, seam or edge id. */
  readonly id: string;
}
