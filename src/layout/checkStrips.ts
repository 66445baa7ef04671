/** Two strips to cut out and join, as pages are joined: by the marks in their overlap. */
import type { Box } from '../math';
import type { Mm } from '../units';
import type { CheckInk } from './checkInk';
import { markRadius, markStrokes } from './registration';

const stripHeight: Mm = 20;
const between: Mm = 4;
/** Both strips, one above the other. */
export const stripsHeight: Mm = 2 * stripHeight + between;
/** Between the arrows, once the strips are joined. */
const joined: Mm = 100;
const arrow: Mm = 2;
/** From the cut end of a strip to its arrow. */
const end: Mm = 8;

/**
 * Draws the strips in the lower part of the box. Strip 1 ends in the overlap on the right, strip 2 begins with it on
 * the left; joined by their marks, the arrows of the two are 100 mm apart.
 */
export function drawStrips(ink: CheckInk, box: Box, overlap: Mm): void {
  const length = (joined + 2 * end + overlap) / 2;
  const radius = markRadius(overlap);
  for (const strip of [1, 2] as const) {
    const minY = box.minY + (2 - strip) * (stripHeight + between);
    const minX = box.minX;
    const maxX = minX + length;
    const middle = minY + stripHeight / 2;
    const over = strip === 1 ? { from: maxX - overlap, to: maxX } : { from: minX, to: minX + overlap };
    ink.ring(
      [
        { x: minX, y: minY },
        { x: maxX, y: minY },
        { x: maxX, y: minY + stripHeight },
        { x: minX, y: minY + stripHeight },
      ],
      'valley',
    );
    const inner = strip === 1 ? over.from : over.to;
    ink.line({ x: inner, y: minY }, { x: inner, y: minY + stripHeight });
    const at = (over.from + over.to) / 2;
    for (const y of [minY + stripHeight / 4, minY + (3 * stripHeight) / 4])
      ink.add(markStrokes({ x: at, y }, radius));
    const tip = strip === 1 ? minX + end : maxX - end;
    ink.line({ x: tip, y: middle }, { x: strip === 1 ? maxX : minX, y: middle }, 'notch');
    const back = strip === 1 ? arrow : -arrow;
    ink.line({ x: tip + back, y: middle + arrow / 2 }, { x: tip, y: middle }, 'notch');
    ink.line({ x: tip + back, y: middle - arrow / 2 }, { x: tip, y: middle }, 'notch');
    ink.figure(
      String(strip),
      { x: strip === 1 ? minX + end : maxX - end, y: minY + stripHeight - 4 },
      0,
      3.4,
    );
  }
}
