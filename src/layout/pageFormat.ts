/**
 * The paper in force: its size, the frame in which a page shows its part of the layout, and how much of the layout that
 * is. With a correction for the printer the frame stays where it is and shows less or more of the layout, so that the
 * print comes out at true size and nothing leaves the printable area.
 */
import { fail, type Issue, type Outcome, succeed } from '../base';
import type { Box, Point } from '../math';
import type { PageDecisions, PrinterReach } from '../model';
import { formatLength, type Mm, paperSizes } from '../units';
import {
  footerHeight,
  leastMeasured,
  leastOverlap,
  leastPrinted,
  mostMeasured,
  mostReach,
} from './tolerance';

export interface PageFormat {
  readonly width: Mm;
  readonly height: Mm;
  readonly margin: Mm;
  readonly overlap: Mm;
  readonly correction: { readonly x: number; readonly y: number };
  /** The frame, page space. */
  readonly printed: Box;
  /** What a page shows of the layout, mm of the layout. */
  readonly tile: { readonly width: Mm; readonly height: Mm };
}

/** From a point of the layout to page space, for a page whose frame's lower-left corner shows `origin`. */
export function toPage(format: PageFormat, origin: Point, p: Point): Point {
  return {
    x: format.printed.minX + (p.x - origin.x) * format.correction.x,
    y: format.printed.minY + (p.y - origin.y) * format.correction.y,
  };
}

/** The formats to try (two for the best orientation, in the order portrait, landscape), or why none works. */
export function pageFormats(pages: PageDecisions, unit: 'mm' | 'in'): Outcome<PageFormat[]> {
  const paper = pages.paper === 'own' ? pages.ownSize : paperSizes[pages.paper];
  const lengths = [paper.width, paper.height, pages.margin, pages.overlap];
  if (lengths.some((l) => !Number.isFinite(l)) || pages.margin < 0 || pages.overlap < 0)
    return fail(
      problem(
        'page-settings-wrong',
        'The page settings hold a length that cannot be used.',
        'Type paper size, margin and overlap again.',
      ),
    );
  if (pages.overlap < leastOverlap)
    return fail(
      problem(
        'overlap-too-small',
        `An overlap of ${formatLength(pages.overlap, unit)} leaves no room for marks that two pages share.`,
        `Set the overlap to ${formatLength(leastOverlap, unit)} or more.`,
      ),
    );
  const { reach } = pages;
  if (reach && Object.values(reach).some((strip) => !(strip >= 0 && strip <= mostReach)))
    return fail(
      problem(
        'printer-reach-implausible',
        `A printer does not leave more than ${formatLength(mostReach, unit)} of an edge empty.`,
        'Print the check page again at 100 %, and read the outermost tick at each edge.',
      ),
    );
  const correction = correctionOf(pages);
  if (!correction)
    return fail(
      problem(
        'measured-square-implausible',
        `The check square cannot have measured ${formatLength(pages.measured?.x ?? 0, unit)} × ${formatLength(pages.measured?.y ?? 0, unit)}: it is drawn 100 mm wide and high.`,
        `Measure it again, or clear the two fields; between ${formatLength(leastMeasured, unit)} and ${formatLength(mostMeasured, unit)} can be corrected.`,
      ),
    );
  const short = Math.min(paper.width, paper.height);
  const long = Math.max(paper.width, paper.height);
  const portrait = formatOf(short, long, pages, correction);
  // The sheet goes through the printer as ever: what was measured along its sides turns with the page.
  const landscape = formatOf(long, short, pages, { x: correction.y, y: correction.x });
  const wanted =
    pages.orientation === 'portrait'
      ? [portrait]
      : pages.orientation === 'landscape'
        ? [landscape]
        : short === long
          ? [portrait]
          : [portrait, landscape];
  const usable = wanted.filter((f) => problemOf(f, unit) === null);
  const first = wanted[0];
  if (usable.length > 0 || !first) return succeed(usable);
  return fail(problemOf(first, unit)!);
}

function correctionOf(pages: PageDecisions): PageFormat['correction'] | null {
  if (!pages.measured) return { x: 1, y: 1 };
  const { x, y } = pages.measured;
  if (![x, y].every((m) => m >= leastMeasured && m <= mostMeasured)) return null;
  return { x: 100 / x, y: 100 / y };
}

/**
 * Strips at the four edges of a page that stay empty: the margin, or more where the printer reaches less. Printer
 * programs turn a sideways page either way, so there the larger of two opposite strips counts on both sides.
 */
export function clearOf(
  { margin, reach }: Pick<PageDecisions, 'margin' | 'reach'>,
  sideways: boolean,
): PrinterReach {
  const least = reach ?? { left: 0, right: 0, top: 0, bottom: 0 };
  const [left, right, top, bottom] = sideways
    ? [
        Math.max(least.top, least.bottom),
        Math.max(least.top, least.bottom),
        Math.max(least.left, least.right),
        Math.max(least.left, least.right),
      ]
    : [least.left, least.right, least.top, least.bottom];
  return {
    left: Math.max(margin, left),
    right: Math.max(margin, right),
    top: Math.max(margin, top),
    bottom: Math.max(margin, bottom),
  };
}

function formatOf(
  width: Mm,
  height: Mm,
  pages: PageDecisions,
  correction: PageFormat['correction'],
): PageFormat {
  const { margin, overlap } = pages;
  const clear = clearOf(pages, width > height);
  const printed = {
    minX: clear.left,
    minY: clear.bottom + footerHeight,
    maxX: width - clear.right,
    maxY: height - clear.top,
  };
  const tile = {
    width: (printed.maxX - printed.minX) / correction.x,
    height: (printed.maxY - printed.minY) / correction.y,
  };
  return { width, height, margin, overlap, correction, printed, tile };
}

function problemOf(format: PageFormat, unit: 'mm' | 'in'): Issue | null {
  const { tile } = format;
  const size = `${formatLength(format.width, unit)} × ${formatLength(format.height, unit)}`;
  if (Math.min(tile.width, tile.height) < leastPrinted)
    return problem(
      'page-too-small',
      `A page of ${size} with the margins of ${formatLength(format.margin, unit)} or more leaves ${formatLength(Math.max(0, tile.width), unit)} × ${formatLength(Math.max(0, tile.height), unit)}: too small for the 100 mm check square.`,
      'Choose larger paper or smaller margins.',
    );
  if (Math.min(tile.width, tile.height) < 3 * format.overlap)
    return problem(
      'overlap-too-large',
      `An overlap of ${formatLength(format.overlap, unit)} eats up most of a page of ${size}.`,
      'Choose a smaller overlap or larger paper.',
    );
  return null;
}

const problem = (code: string, message: string, remedy: string): Issue => ({
  code,
  severity: 'error',
  stage: 'layout',
  message,
  remedy,
  place: {},
});
