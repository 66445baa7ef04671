/** The small picture of the whole layout: panels with their names, pages with theirs. Page space. */
import type { Box, Point } from '../math';
import type { LetterShapes } from '../model';
import type { Mm } from '../units';
import type { Sheet } from './flow';
import type { PrintedPanel } from './printed';

const tallestName: Mm = 3;
const smallestName: Mm = 1.2;
const pageName: Mm = 2.4;
/** Points of a panel nearer than this on the picture are left out: below what a printer shows. */
const finest: Mm = 0.1;

export interface PicturePage {
  readonly name: string;
  readonly box: Box;
}

/** Scale of the picture in a box of the given size. */
export function pictureScale(layout: Box, width: Mm, height: Mm): number {
  return Math.min(
    width / Math.max(1, layout.maxX - layout.minX),
    height / Math.max(1, layout.maxY - layout.minY),
  );
}

/** Draws the layout with its upper-left corner at `corner`. */
export function drawPicture(
  sheet: Sheet,
  corner: Point,
  scale: number,
  layout: Box,
  panels: readonly PrintedPanel[],
  pages: readonly PicturePage[],
  font: LetterShapes,
): void {
  const at = (p: Point): Point => ({
    x: corner.x + (p.x - layout.minX) * scale,
    y: corner.y + (p.y - layout.maxY) * scale,
  });
  for (const { box, name } of pages) {
    sheet.strokes.push({
      kind: 'frame',
      points: [
        at({ x: box.minX, y: box.minY }),
        at({ x: box.maxX, y: box.minY }),
        at({ x: box.maxX, y: box.maxY }),
        at({ x: box.minX, y: box.maxY }),
      ],
      closed: true,
    });
    const height = Math.min(pageName, 0.16 * scale * Math.min(box.maxX - box.minX, box.maxY - box.minY));
    const upper = at({ x: box.minX, y: box.maxY });
    const place = { x: upper.x + 0.8 + font.widthOf(name, height) / 2, y: upper.y - 0.8 - height / 2 };
    sheet.lettering.push(font.letter(name, place, height, 0, 'detail', ''));
  }
  for (const panel of panels) {
    for (const ring of panel.rings) {
      const points = thinned(ring.map(at));
      if (points.length >= 3) sheet.strokes.push({ kind: 'leader', points, closed: true });
    }
    const box = panel.box;
    const room = 0.7 * scale * (box.maxX - box.minX);
    const height = Math.min(
      tallestName,
      (tallestName * room) / Math.max(room, font.widthOf(panel.name, tallestName)),
    );
    const name = panel.lettering.find((l) => l.use === 'name' && l.text === panel.name);
    if (height < smallestName || height > 0.6 * scale * (box.maxY - box.minY)) continue;
    const middle = name?.at ?? { x: (box.minX + box.maxX) / 2, y: (box.minY + box.maxY) / 2 };
    sheet.lettering.push(font.letter(panel.name, at(middle), height, 0, 'name', panel.panel));
  }
}

function thinned(ring: readonly Point[]): Point[] {
  const kept: Point[] = [];
  for (const p of ring) {
    const last = kept.at(-1);
    if (!last || Math.hypot(p.x - last.x, p.y - last.y) >= finest) kept.push(p);
  }
  return kept;
}
