/**
 * A grid of overlapping pages over a part of the layout. Columns count from the left, rows from the top, both from 0.
 * Overlaps cut the plane into zones that one, two or four pages show; from the zones that hold something follows which
 * pages are needed. Layout space, y up.
 */
import type { Box, Point } from '../math';
import type { Mm } from '../units';
import type { PageFormat } from './pageFormat';

export interface Grid {
  /** Upper-left corner. */
  readonly corner: Point;
  readonly columns: number;
  readonly rows: number;
  readonly tile: { readonly width: Mm; readonly height: Mm };
  readonly overlap: Mm;
}

export interface Cell {
  readonly column: number;
  readonly row: number;
}

/** From one page to the next. */
export const stepX = (g: Pick<Grid, 'tile' | 'overlap'>): Mm => g.tile.width - g.overlap;
export const stepY = (g: Pick<Grid, 'tile' | 'overlap'>): Mm => g.tile.height - g.overlap;

/** Width and height that so many columns and rows cover. */
export const widthOf = (format: PageFormat, columns: number): Mm =>
  columns * (format.tile.width - format.overlap) + format.overlap;
export const heightOf = (format: PageFormat, rows: number): Mm =>
  rows * (format.tile.height - format.overlap) + format.overlap;

/** What the page shows. */
export function tileBox(g: Grid, { column, row }: Cell): Box {
  const minX = g.corner.x + column * stepX(g);
  const maxY = g.corner.y - row * stepY(g);
  return { minX, maxX: minX + g.tile.width, minY: maxY - g.tile.height, maxY };
}

/** Zones along one axis: even ones belong to one page, odd ones to two. */
export const zonesAlong = (pages: number): number => 2 * pages - 1;

/** The zone at a distance from the grid's left (or upper) side. */
export function zoneAt(distance: Mm, step: Mm, overlap: Mm, pages: number): number {
  const i = Math.min(pages - 1, Math.max(0, Math.floor(distance / step)));
  return i > 0 && distance - i * step < overlap ? 2 * i - 1 : 2 * i;
}

/** Extent of a zone from the grid's left (or upper) side. */
export function zoneSpan(zone: number, step: Mm, overlap: Mm, pages: number): [Mm, Mm] {
  const i = zone >> 1;
  if (zone % 2 === 1) return [(i + 1) * step, (i + 1) * step + overlap];
  return [i === 0 ? 0 : i * step + overlap, i === pages - 1 ? pages * step + overlap : (i + 1) * step];
}

/**
 * The pages that are needed so that every zone marked in `held` (row by row of zones) is on one: all pages that alone
 * show a held zone, then for zones still unseen the first page that shows them.
 */
export function neededPages(columns: number, rows: number, held: Uint8Array): Uint8Array {
  const zonesX = zonesAlong(columns);
  const needed = new Uint8Array(columns * rows);
  const pagesOf = (zone: number): number[] =>
    zone % 2 === 0 ? [zone / 2] : [(zone - 1) / 2, (zone + 1) / 2];
  const visit = (single: boolean) => {
    for (let zy = 0; zy < zonesAlong(rows); zy++) {
      for (let zx = 0; zx < zonesX; zx++) {
        if (held[zy * zonesX + zx] === 0 || single !== (zx % 2 === 0 && zy % 2 === 0)) continue;
        const pages = pagesOf(zy).flatMap((r) => pagesOf(zx).map((c) => r * columns + c));
        if (!pages.some((p) => needed[p] === 1)) needed[pages[0]!] = 1;
      }
    }
  };
  visit(true);
  visit(false);
  return needed;
}

/** Name of a page: column letter and row number, "B3"; after column Z comes AA. */
export function pageName({ column, row }: Cell): string {
  let letters = '';
  for (let c = column; c >= 0; c = Math.floor(c / 26) - 1)
    letters = String.fromCharCode(65 + (c % 26)) + letters;
  return `${letters}${row + 1}`;
}
