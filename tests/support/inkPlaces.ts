/** Where ink lies on a rendered page, in millimetres from its lower-left corner: what a ruler on the print would say. */
import type { Picture } from './pdfTools';

export interface RenderedPage {
  readonly picture: Picture;
  readonly height: number;
  readonly dotsPerInch: number;
}

/** How far from the expected place ink is looked for, mm. */
const reach = 0.7;

/**
 * Middle of the darkness near a place along a row (`x`) or column (`y`).
 * @param across the other coordinate of the row or column
 * @returns null where there is no ink
 */
export function inkAlong(page: RenderedPage, axis: 'x' | 'y', near: number, across: number): number | null {
  const { picture, height, dotsPerInch } = page;
  const perMm = dotsPerInch / 25.4;
  const darkAt = (i: number): number => {
    const x = axis === 'x' ? i : Math.round(across * perMm);
    const y = axis === 'x' ? Math.round((height - across) * perMm) : picture.height - 1 - i;
    if (x < 0 || y < 0 || x >= picture.width || y >= picture.height) return 0;
    return 255 - picture.pixels[y * picture.width + x]!;
  };
  // Rows are counted from the top, and a page is seldom a whole number of dots high.
  const shift = axis === 'y' ? height * perMm - picture.height : 0;
  let weight = 0;
  let sum = 0;
  for (let i = Math.ceil((near - reach) * perMm - shift); i <= (near + reach) * perMm - shift; i++) {
    const dark = darkAt(i);
    weight += dark;
    sum += dark * (i + 0.5 + shift);
  }
  return weight > 200 ? sum / weight / perMm : null;
}
