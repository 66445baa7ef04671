/**
 * The printer's check page: what shows, with a ruler and two eyes, how true a printer is and how near to the paper's
 * edges it gets. Always upright and never corrected, so that what is measured on it is the printer itself.
 */
import { fail, type Issue, type Outcome, succeed } from '../base';
import type { Box, Point } from '../math';
import type { LetterShapes, Page, PageDecisions, PagePlan } from '../model';
import { formatLength, type Mm, mmPerUnit, paperSizes } from '../units';
import { CheckInk } from './checkInk';
import { drawLadders } from './checkLadders';
import { drawStrips, stripsHeight } from './checkStrips';
import { checkPageInset, leastCheckPaper } from './tolerance';

/** Nominal lengths of the two long lines of the check page. */
export interface CheckLines {
  readonly across: Mm;
  readonly up: Mm;
}

const gap: Mm = 6;
/** Lines with ticks on both sides, and their figures. */
const rulerBand: Mm = 11;

const upright = ({ paper, ownSize }: Pick<PageDecisions, 'paper' | 'ownSize'>) => {
  const { width, height } = paper === 'own' ? ownSize : paperSizes[paper];
  return { width: Math.min(width, height), height: Math.max(width, height) };
};

/** Lengths of the long lines: as long as the paper has room for, round in the person's unit. */
export function checkLines(pages: Pick<PageDecisions, 'paper' | 'ownSize'>, unit: 'mm' | 'in'): CheckLines {
  const { width, height } = upright(pages);
  const step = unit === 'mm' ? 10 : mmPerUnit.in;
  const round = (room: Mm) => Math.floor(room / step) * step;
  // Line B ends below line A.
  return {
    across: round(width - 2 * checkPageInset),
    up: round(height - 2 * checkPageInset - rulerBand - gap),
  };
}

const textHeight: Mm = 2.3;
const lineStep: Mm = 4.4;

/**
 * Lays the check page out.
 * @param pages paper, and the overlap to practise joining with
 * @returns a plan of one page named `check`; an error when the paper is too small for it
 */
export function layCheckPage(pages: PageDecisions, font: LetterShapes, unit: 'mm' | 'in'): Outcome<PagePlan> {
  const { width, height } = upright(pages);
  if (!(width >= leastCheckPaper)) return fail(tooSmall(unit));
  const lines = checkLines(pages, unit);
  const ink = new CheckInk(font);
  drawLadders(ink, width, height);
  const room: Box = {
    minX: checkPageInset,
    minY: checkPageInset,
    maxX: width - checkPageInset,
    maxY: height - checkPageInset,
  };
  ink.ruler({ x: room.minX, y: room.minY }, lines.up, 'up', `B, up: ${spoken(lines.up)}`);
  // Line A starts at the top so that neither crosses the other's figures.
  ink.ruler({ x: room.minX, y: room.maxY }, lines.across, 'across', `A, across: ${spoken(lines.across)}`);
  const inner: Box = {
    minX: room.minX + rulerBand + gap,
    minY: room.minY,
    maxX: room.maxX,
    maxY: room.maxY - rulerBand - gap,
  };
  const below = writeWords(ink, inner, font, unit);
  drawStrips(ink, inner, pages.overlap);
  drawSquares(ink, { ...inner, minY: inner.minY + stripsHeight + gap, maxY: below - gap });
  const page: Page = {
    name: 'check',
    row: 0,
    column: 0,
    origin: { x: 0, y: 0 },
    neighbours: { left: '', right: '', above: '', below: '' },
    strokes: ink.strokes,
    lettering: ink.lettering,
    registration: [],
    panels: [],
  };
  return succeed({
    width,
    height,
    margin: 0,
    overlap: pages.overlap,
    correction: { x: 1, y: 1 },
    pages: [page],
    placements: [],
    extent: { width, height },
    issues: [],
  });
}

const spoken = (length: Mm): string => {
  const inches = length / mmPerUnit.in;
  return Math.abs(inches - Math.round(inches)) < 1e-9
    ? `${Math.round(inches)} in`
    : `${Math.round(length)} mm`;
};

/** Title and what to do, from the top of the box; returns where the words end. */
function writeWords(ink: CheckInk, box: Box, font: LetterShapes, unit: 'mm' | 'in'): Mm {
  const title: Mm = 4;
  let top = box.maxY;
  ink.words('Printer check', { x: box.minX, y: top - title }, title);
  top -= title + lineStep;
  const said = [
    'Print this page at 100 %, not fitted to the paper, then:',
    `1. Measure line A and line B to ${unit === 'mm' ? 'half a millimetre' : '1/64 in'}, from end tick to end tick, and type both.`,
    '2. At each edge look for the outermost tick that was printed, and type its figure. Ticks stand 1 mm apart.',
    '3. The sides of the squares must be equal both ways, and so must the diagonals. If not, the paper went in askew.',
    '4. Cut the two strips out, lay 2 over 1 so that the marks meet, and tape them: the line between the arrows must run straight through and measure 100 mm.',
  ];
  for (const text of said)
    for (const line of wrapped(text, box.maxX - box.minX, font)) {
      ink.words(line, { x: box.minX, y: top - textHeight }, textHeight);
      top -= lineStep;
    }
  return top;
}

function wrapped(text: string, room: Mm, font: LetterShapes): string[] {
  const lines: string[] = [];
  let now = '';
  for (const word of text.split(' ')) {
    const longer = now === '' ? word : `${now} ${word}`;
    if (now !== '' && font.widthOf(longer, textHeight) > room) {
      lines.push(now);
      now = word;
    } else now = longer;
  }
  return [...lines, now];
}

/** Squares of 100 mm and 2 in with diagonals, as far as there is room. */
function drawSquares(ink: CheckInk, box: Box): void {
  const room = Math.min(box.maxX - box.minX, box.maxY - box.minY);
  const side = [100, 50, 25].find((s) => s + 2 <= room);
  if (side === undefined) return;
  const corner: Point = { x: box.maxX - side, y: box.maxY - side };
  ink.square(corner, side, `${side} mm`, true);
  const inches = side === 100 ? 2 : side === 50 ? 1 : 0.5;
  ink.square(corner, inches * mmPerUnit.in, `${inches} in`, false);
}

const tooSmall = (unit: 'mm' | 'in'): Issue => ({
  code: 'paper-too-small-for-check',
  severity: 'error',
  stage: 'layout',
  message: `The check page needs paper of at least ${formatLength(leastCheckPaper, unit)} along its short side.`,
  remedy: 'Choose larger paper for the check; a printer is as true on small paper.',
  place: {},
});
