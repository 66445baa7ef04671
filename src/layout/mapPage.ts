/**
 * The map page: what the pages show and how to use them. Check square, legend of lines, picture of the layout, picture
 * of the folded shell, the settings in force, how to read numbers and notches, how to join pages, cautions. It takes a second sheet when the
 * paper is small.
 */
import type { Box, Point } from '../math';
import type { LetterShapes, Page } from '../model';
import type { Mm } from '../units';
import { drawCheckSquare, squareAt, squareSize } from './checkSquare';
import { bullets, Flow, type Item, type Sheet, writeAt } from './flow';
import { drawFooter, shortened } from './footer';
import { kindsInUse, legendItems } from './legend';
import type { MapContext } from './mapContext';
import { drawPicture, type PicturePage, pictureHeight, pictureNames, pictureScale } from './mapPicture';
import { joiningWords, markWords } from './mapWords';
import type { PageFormat } from './pageFormat';
import type { PrintedPanel } from './printed';
import { drawShellFigure, shellFigureScale, shellFigureWords } from './shellFigure';

export interface MapInput {
  readonly format: PageFormat;
  readonly panels: readonly PrintedPanel[];
  readonly pages: readonly PicturePage[];
  readonly layout: Box;
  readonly context: MapContext;
  /** Whether any two pages join. */
  readonly joined: boolean;
}

const titleHeight: Mm = 5.4;
/** Sizes to try, largest first, until everything stands on one sheet; if nothing does, the largest is taken. */
const bodies: readonly Mm[] = [2.05, 1.9, 1.75];
/** Heights of the shell's picture to try before the letters get smaller. */
const shellHeights: readonly Mm[] = [62, 48, 36];
const headingRatio = 1.42;
const columnGap: Mm = 7;
const leastColumn: Mm = 78;

/** The sheets of the map; each is finished with the number of its page once the count of pages is known. */
export function drawMap(input: MapInput, font: LetterShapes): ((number: number, count: number) => Page)[] {
  const { format, context } = input;
  const heights = context.shell ? shellHeights : shellHeights.slice(0, 1);
  const tries = bodies.flatMap((body) => heights.map((height) => ({ body, height })));
  let sheets: readonly Sheet[] = [];
  for (const { body, height } of tries) {
    sheets = write(input, font, body, height).sheets;
    if (sheets.length === 1) break;
  }
  if (sheets.length > 1) sheets = write(input, font, bodies[0]!, heights[0]!).sheets;
  return sheets.map((sheet, i) => (number: number, count: number): Page => {
    const footer = drawFooter(format, '', { title: context.title, number, count }, font, false);
    return {
      name: i === 0 ? 'map' : `map ${i + 1}`,
      row: 0,
      column: 0,
      origin: { x: 0, y: 0 },
      neighbours: { left: '', right: '', above: '', below: '' },
      strokes: [...sheet.strokes, ...footer.strokes],
      lettering: [...sheet.lettering, ...footer.lettering],
      registration: [],
      panels: [],
    };
  });
}

/** The whole map in letters of the given size, the shell's picture as high as given at most. */
function write(input: MapInput, font: LetterShapes, body: Mm, shellHeight: Mm): Flow {
  const { format, context } = input;
  const { printed } = format;
  const top = printed.maxY - titleHeight - 7.5;
  const columns = columnsOf(printed, top, squareSize * format.correction.x);
  const flow = new Flow(columns, columnsOf(printed, printed.maxY, leastColumn), font, {
    heading: headingRatio * body,
    body,
  });
  const head = flow.sheets[0]!;
  const title = shortened(context.title, printed.maxX - printed.minX, titleHeight, font);
  head.lettering.push(writeAt(font, title, printed.minX, printed.maxY - titleHeight, titleHeight));
  head.lettering.push(writeAt(font, summaryOf(input), printed.minX, printed.maxY - titleHeight - 4.6, body));

  const squareHeight = squareSize * format.correction.y;
  flow.figure(squareHeight, (corner, sheet) => {
    const onPage = (p: Point): Point => ({
      x: corner.x + p.x * format.correction.x,
      y: corner.y + (p.y - squareSize) * format.correction.y,
    });
    const square = drawCheckSquare(squareAt({ x: 0, y: 0 }, font), onPage, font);
    sheet.strokes.push(...square.strokes);
    sheet.lettering.push(...square.lettering);
  });
  const kinds = kindsInUse(input.panels, input.joined);
  flow.section('Lines', legendItems(kinds, context.tracedFace));
  const settings: Item[] = context.figures.map((f) => ({ kind: 'row', ...f }));
  const settle = () => {
    flow.section('Settings', settings);
    flow.section('Pages', bullets(joiningWords(input)));
  };
  // Two columns: settings and pages fill the first one. More: they come after the picture.
  if (columns.length < 3) settle();

  flow.toColumn(1);
  flow.space(4 * body);
  const picture = { ...input, names: pictureNames(input.pages) };
  const scale = pictureScale(picture, flow.width, Math.min(squareHeight, 0.6 * (top - printed.minY)));
  flow.figure(pictureHeight(picture, scale), (corner, sheet) =>
    drawPicture(sheet, corner, scale, picture, font),
  );
  const { shell } = context;
  if (shell && shell.strokes.length > 0) {
    const size = shellFigureScale(shell, flow.width, shellHeight);
    // Heading and words stay with the picture.
    flow.need(size * shell.height + 14 * body);
    flow.section('The shell folded up', bullets([shellFigureWords]));
    flow.space(body);
    flow.figure(size * shell.height, (corner, sheet) => drawShellFigure(sheet, corner, size, shell));
  }
  flow.section('Numbers and notches', bullets(markWords(input.panels, context)));
  if (columns.length >= 3) settle();
  if (context.cautions.length > 0) flow.section('Take care', bullets(context.cautions));
  return flow;
}

/** Columns of the printed area below `top`: the first as wide as `least` asks, the others sharing the rest. */
function columnsOf(printed: Box, top: Mm, least: Mm): Box[] {
  const width = printed.maxX - printed.minX;
  const rest = width - least;
  const others = Math.max(0, Math.floor(rest / (leastColumn + columnGap)));
  const even = (width - others * columnGap) / (others + 1);
  const first = others === 0 ? width : Math.max(least, even);
  const other = others === 0 ? 0 : (width - first) / others - columnGap;
  return Array.from({ length: others + 1 }, (_, i) => {
    const minX = i === 0 ? printed.minX : printed.minX + first + columnGap + (i - 1) * (other + columnGap);
    return { minX, maxX: minX + (i === 0 ? first : other), minY: printed.minY, maxY: top };
  });
}

function summaryOf({ panels, pages, context }: MapInput): string {
  const count = (n: number, what: string) => `${n} ${what}${n === 1 ? '' : 's'}`;
  const face = context.tracedFace === 'inside' ? 'inside' : 'outside';
  return `${count(panels.length, 'panel')} on ${count(pages.length, 'page')}. The templates show the ${face} of the foam.`;
}
