/**
 * The check square: 100 mm and 4 in with a common corner, a ruler along two sides. It goes where its lines meet the
 * least other ink of the page. All in millimetres of the layout, so that a correction for the printer reaches it too.
 */
import type { Box, Point } from '../math';
import type { Lettering, LetterShapes, PageStroke } from '../model';
import { type Mm, mmPerUnit } from '../units';
import type { InkMap } from './inkMap';

const hundred: Mm = 100;
const fourInches: Mm = 4 * mmPerUnit.in;

const letterHeight: Mm = 2;
/** Width of the band inside the lower and left side that the ruler takes. */
const rulerBand: Mm = 8;
const searchStep: Mm = 2;
/** Clear of the page's frame. */
const rim: Mm = 3;

/** Room that the square takes, the outer one and half a line. */
export const squareSize: Mm = fourInches + 0.2;

/**
 * Lower-left corner for the square inside the area, in the space of the ink map. The least inked place wins; of equal
 * ones the one nearest to the lower right, where a page tends to be empty.
 */
export function placeCheckSquare(area: Box, ink: InkMap, noteWidth: Mm): SquarePlace {
  let best = { x: area.minX, y: area.minY, cost: Number.POSITIVE_INFINITY };
  for (let y = area.minY + rim; y + squareSize + rim <= area.maxY; y += searchStep) {
    for (let x = area.maxX - squareSize - rim; x >= area.minX + rim; x -= searchStep) {
      const bands: Box[] = [
        { minX: x - 1, maxX: x + squareSize + 1, minY: y - 1, maxY: y + rulerBand },
        { minX: x - 1, maxX: x + rulerBand, minY: y + rulerBand, maxY: y + squareSize + 1 },
        { minX: x + rulerBand, maxX: x + squareSize + 1, minY: y + hundred - 2, maxY: y + squareSize + 1 },
        { minX: x + hundred - 2, maxX: x + squareSize + 1, minY: y + rulerBand, maxY: y + hundred - 2 },
      ];
      const cost = bands.reduce((sum, band) => sum + ink.inkIn(band), 0);
      if (cost < best.cost) best = { x, y, cost };
    }
  }
  return { corner: { x: best.x, y: best.y }, note: placeNote(best, ink, noteWidth) };
}

/** Where inside the square the note stands: the least inked place, the upper right of equal ones. */
function placeNote(corner: Point, ink: InkMap, width: Mm): Point {
  let best = { ...usualNote(width), cost: Number.POSITIVE_INFINITY };
  for (let y = usualNote(width).y; y > rulerBand + letterHeight; y -= 4) {
    for (let x = usualNote(width).x; x - width / 2 > rulerBand + 2; x -= 4) {
      const cost = ink.inkIn({
        minX: corner.x + x - width / 2 - 1,
        maxX: corner.x + x + width / 2 + 1,
        minY: corner.y + y - letterHeight,
        maxY: corner.y + y + letterHeight,
      });
      if (cost < best.cost) best = { x, y, cost };
    }
  }
  return { x: best.x, y: best.y };
}

/** Middle of the note when nothing is in its way, from the square's corner. */
const usualNote = (width: Mm): Point => ({ x: hundred - 3 - width / 2, y: hundred - 4 });

/** What the note says, and how wide that is. */
const note = 'inner 100 mm, outer 4 in: measure before cutting';
export const noteWidth = (font: LetterShapes): Mm => font.widthOf(note, letterHeight);

export interface SquarePlace {
  /** Lower-left corner. */
  readonly corner: Point;
  /** Middle of the note, from the corner. */
  readonly note: Point;
}

/** A square with nothing round it. */
export const squareAt = (corner: Point, font: LetterShapes): SquarePlace => ({
  corner,
  note: usualNote(noteWidth(font)),
});

/** Strokes and letters of the square, each point sent through `toPage`. */
export function drawCheckSquare(
  { corner, note: noteAt }: SquarePlace,
  toPage: (p: Point) => Point,
  font: LetterShapes,
): { strokes: PageStroke[]; lettering: Lettering[] } {
  const at = (x: Mm, y: Mm): Point => toPage({ x: corner.x + x, y: corner.y + y });
  const strokes: PageStroke[] = [hundred, fourInches].map((side) => ({
    kind: 'frame',
    points: [at(0, 0), at(side, 0), at(side, side), at(0, side)],
    closed: true,
  }));
  const tick = (a: Point, b: Point) => strokes.push({ kind: 'frame', points: [a, b], closed: false });
  for (let mm = 5; mm < hundred; mm += 5) {
    const length = mm % 50 === 0 ? 4 : mm % 10 === 0 ? 2.8 : 1.6;
    tick(at(mm, 0), at(mm, length));
  }
  for (let quarter = 1; quarter < 16; quarter++) {
    const inches = (quarter * fourInches) / 16;
    const length = quarter % 4 === 0 ? 4 : quarter % 2 === 0 ? 2.8 : 1.6;
    tick(at(0, inches), at(length, inches));
  }
  const letter = (text: string, x: Mm, y: Mm): Lettering =>
    font.letter(text, at(x, y), letterHeight, 0, 'detail', '');
  const fromRight = (text: string, right: Mm, y: Mm) =>
    letter(text, right - font.widthOf(text, letterHeight) / 2, y);
  const fromLeft = (text: string, left: Mm, y: Mm) =>
    letter(text, left + font.widthOf(text, letterHeight) / 2, y);
  const lettering = [
    letter('50', hundred / 2, 5.9),
    fromRight('100 mm', hundred - 1.5, 5.9),
    ...[1, 2, 3].map((n) => fromLeft(String(n), 5, n * mmPerUnit.in)),
    fromLeft('4 in', 5, hundred - 4),
    letter(note, noteAt.x, noteAt.y),
  ];
  return { strokes, lettering };
}
