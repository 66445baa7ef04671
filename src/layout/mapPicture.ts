/**
 * The small picture of the whole layout: panels with their names, pages with theirs. Column letters stand above and row
 * numbers beside a grid of joined pages, as on a street map; pages that stand alone carry their name above. Page space.
 */
import type { Box, Point } from '../math';
import type { LetterShapes } from '../model';
import type { Mm } from '../units';
import type { Sheet } from './flow';
import type { PrintedPanel } from './printed';

const tallestName: Mm = 3;
const smallestName: Mm = 1.2;
const pageNameHeight: Mm = 2.4;
/** Room above and left of the picture for page names. */
const rim: Mm = 4;
/** Points of a panel nearer than this on the picture are left out: below what a printer shows. */
const finest: Mm = 0.1;
/** A panel this much taller than wide carries its name upright. */
const tall = 1.6;

export interface PicturePage {
  readonly name: string;
  readonly row: number;
  readonly column: number;
  readonly box: Box;
}

export interface Picture {
  readonly layout: Box;
  readonly panels: readonly PrintedPanel[];
  readonly pages: readonly PicturePage[];
  readonly names: PictureNames;
}

/** How pages are named: by the rim where they stand in straight columns and rows, else each by itself. */
export type PictureNames = 'rim' | 'each';

/** By the rim when pages of one column, and of one row, lie exactly in line. */
export function pictureNames(pages: readonly PicturePage[]): PictureNames {
  const inLine = pages.every((p) =>
    pages.every(
      (q) =>
        (p.column !== q.column || p.box.minX === q.box.minX) &&
        (p.row !== q.row || p.box.minY === q.box.minY),
    ),
  );
  return inLine ? 'rim' : 'each';
}

/** Scale of the picture in a box of the given size. */
export function pictureScale({ layout }: Picture, width: Mm, height: Mm): number {
  return Math.min(
    (width - rim) / Math.max(1, layout.maxX - layout.minX),
    (height - rim) / Math.max(1, layout.maxY - layout.minY),
  );
}

export const pictureHeight = ({ layout }: Picture, scale: number): Mm =>
  (layout.maxY - layout.minY) * scale + rim;

/** Draws the layout with its upper-left corner at `corner`. */
export function drawPicture(
  sheet: Sheet,
  corner: Point,
  scale: number,
  { layout, panels, pages, names }: Picture,
  font: LetterShapes,
): void {
  const at = (p: Point): Point => ({
    x: corner.x + rim + (p.x - layout.minX) * scale,
    y: corner.y - rim + (p.y - layout.maxY) * scale,
  });
  const letter = (text: string, place: Point, height: Mm) =>
    sheet.lettering.push(font.letter(text, place, height, 0, 'detail', ''));
  const named = new Set<string>();
  for (const { box, name, column, row } of pages) {
    const lower = at({ x: box.minX, y: box.minY });
    const upper = at({ x: box.maxX, y: box.maxY });
    sheet.strokes.push({
      kind: 'frame',
      points: [lower, { x: upper.x, y: lower.y }, upper, { x: lower.x, y: upper.y }],
      closed: true,
    });
    if (names === 'each') {
      const height = Math.min(pageNameHeight, 0.14 * (upper.y - lower.y));
      letter(name, { x: lower.x + font.widthOf(name, height) / 2, y: upper.y + 0.8 + height / 2 }, height);
      continue;
    }
    const letters = name.replace(/\d+$/, '');
    if (!named.has(`column ${column}`))
      letter(letters, { x: (lower.x + upper.x) / 2, y: corner.y - pageNameHeight / 2 }, pageNameHeight);
    if (!named.has(`row ${row}`))
      letter(name.slice(letters.length), { x: corner.x + 1.2, y: (lower.y + upper.y) / 2 }, pageNameHeight);
    named.add(`column ${column}`).add(`row ${row}`);
  }
  for (const panel of panels) {
    for (const ring of panel.rings) {
      const points = thinned(ring.map(at));
      if (points.length >= 3) sheet.strokes.push({ kind: 'leader', points, closed: true });
    }
    namePanel(sheet, panel, at, scale, font);
  }
}

/** The panel's name as large as there is room, at the height that it has on the panel. */
function namePanel(
  sheet: Sheet,
  panel: PrintedPanel,
  at: (p: Point) => Point,
  scale: number,
  font: LetterShapes,
): void {
  const { box } = panel;
  const width = scale * (box.maxX - box.minX);
  const height = scale * (box.maxY - box.minY);
  const upright = height > tall * width;
  const [along, across] = upright ? [height, width] : [width, height];
  const wide = font.widthOf(panel.name, tallestName);
  const size = Math.min(tallestName, (tallestName * 0.7 * along) / Math.max(wide, 0.001), 0.4 * across);
  if (size < smallestName) return;
  const own = panel.lettering.find((l) => l.use === 'name' && l.text === panel.name);
  const middle = {
    x: (box.minX + box.maxX) / 2,
    y: upright || !own ? (box.minY + box.maxY) / 2 : own.at.y,
  };
  sheet.lettering.push(
    font.letter(panel.name, at(middle), size, upright ? Math.PI / 2 : 0, 'name', panel.panel),
  );
}

function thinned(ring: readonly Point[]): Point[] {
  const kept: Point[] = [];
  for (const p of ring) {
    const last = kept.at(-1);
    if (!last || Math.hypot(p.x - last.x, p.y - last.y) >= finest) kept.push(p);
  }
  return kept;
}
