/**
 * The still picture of the folded shell on the map page. Page space. Lines by weight and dash from the common table:
 * outer line and openings wide, seams narrower, folds dotted.
 */
import type { Point } from '../math';
import type { LineKind, ShellPicture, ShellPictureStroke } from '../model';
import type { Mm } from '../units';
import type { Sheet } from './flow';

const lookOf: Readonly<Record<ShellPictureStroke['kind'], LineKind>> = {
  rim: 'cut',
  seam: 'notch',
  mountain: 'softBend',
  valley: 'softBend',
  flat: 'softBend',
};

/** Folds shorter than this on the page would be a dot or two. */
const shortestFold: Mm = 2.5;

export const shellFigureWords =
  'Seen from front right, a little above. Outer line and openings wide, seams narrower, folds dotted.';

/** Page mm per mm of the shell, in a box of the given size. */
export const shellFigureScale = (picture: ShellPicture, width: Mm, height: Mm): number =>
  Math.min(width / Math.max(1, picture.width), height / Math.max(1, picture.height));

/** Draws the picture with its upper-left corner at `corner`. */
export function drawShellFigure(sheet: Sheet, corner: Point, scale: number, picture: ShellPicture): void {
  const at = (p: Point): Point => ({
    x: corner.x + p.x * scale,
    y: corner.y + (p.y - picture.height) * scale,
  });
  for (const { kind, from, to } of picture.strokes) {
    const look = lookOf[kind];
    const length = scale * Math.hypot(to.x - from.x, to.y - from.y);
    if (look === 'softBend' && length < shortestFold) continue;
    sheet.strokes.push({ kind: look, points: [at(from), at(to)], closed: false });
  }
}
