/**
 * Running text with pictures and tables as PDF pages: for the build sheet. Blocks flow down the page; one that does not
 * fit goes to the next page whole. Text is outlines, as on the pattern pages, so no font is needed.
 */
import type { Work } from '../base';
import type { Point } from '../math';
import type { Lettering, LetterShapes, LineKind, Page, PageStroke } from '../model';
import type { Mm } from '../units';
import { pageContent, pointsPerMm } from './pageContent';
import { writePdf } from './pdfFile';

/** Lines to draw at any size: x right, y up, from the lower-left corner. */
export interface BookPicture {
  readonly width: number;
  readonly height: number;
  readonly strokes: readonly {
    readonly kind: LineKind;
    readonly points: readonly Point[];
    readonly closed: boolean;
    /** Drawn as a bar. */
    readonly lit: boolean;
  }[];
}

export type BookBlock =
  | { readonly kind: 'title' | 'heading' | 'text' | 'caution'; readonly text: string }
  /** Cells side by side; `widths` are parts of the page's width. */
  | {
      readonly kind: 'row';
      readonly cells: readonly string[];
      readonly widths: readonly number[];
      readonly head: boolean;
    }
  /** A picture with text to its right, and a box to tick before the first line. */
  | {
      readonly kind: 'step';
      readonly picture: BookPicture | null;
      readonly title: string;
      readonly lines: readonly string[];
      readonly done: boolean;
    }
  /** Small pictures in a row, each with lines below it. */
  | {
      readonly kind: 'pictures';
      readonly items: readonly { readonly picture: BookPicture; readonly lines: readonly string[] }[];
    };

export interface BookMeta {
  readonly title: string;
  readonly width: Mm;
  readonly height: Mm;
  readonly margin: Mm;
}

const sizes = { title: 5, heading: 3.6, text: 2.3, small: 1.9 };
/** Distance of lines, as a part of the capitals' height. */
const lineSpace = 2;
const stepPicture = { width: 62, height: 50 };
const smallPicture: Mm = 26;
const smallPerRow = 5;
const barWidth: Mm = 1.3;
const footer: Mm = 6;

interface Ink {
  readonly strokes: PageStroke[];
  readonly lettering: Lettering[];
}

/** Draws a block with its upper-left corner at the place; height is what it took. */
interface Laid {
  readonly height: Mm;
  draw(ink: Ink, left: Mm, top: Mm): void;
  /** Stays on the page of the block that follows. */
  readonly keep: boolean;
}

/** The same blocks give the same bytes. @throws Cancelled through `work`. */
export async function writeBook(
  blocks: readonly BookBlock[],
  meta: BookMeta,
  font: LetterShapes,
  work: Work,
): Promise<Uint8Array> {
  const width = meta.width - 2 * meta.margin;
  const bottom = meta.margin + footer;
  const pages: Ink[] = [];
  let top = 0;
  const turn = () => {
    pages.push({ strokes: [], lettering: [] });
    top = meta.height - meta.margin;
  };
  turn();
  const laid = blocks.map((b) => layBlock(b, width, font));
  for (const [i, block] of laid.entries()) {
    await work.step(i, laid.length * 2, 'Laying out the build sheet');
    // What belongs together turns the page together, unless no page would hold it.
    let needed = block.height;
    for (let k = i; laid[k]?.keep && laid[k + 1]; k++) needed += laid[k + 1]!.height;
    if (needed > meta.height - meta.margin - bottom) needed = block.height;
    if (top - needed < bottom && top < meta.height - meta.margin) turn();
    block.draw(pages.at(-1)!, meta.margin, top);
    top -= block.height;
  }
  const round = (points: number) => Math.round(points * 10000) / 10000;
  const made = pages.map((ink, i) => {
    const label = String(i + 1);
    write(
      ink,
      font,
      `${meta.title} · build sheet · ${label} of ${pages.length}`,
      meta.margin,
      meta.margin + 2,
      sizes.small,
    );
    return {
      label,
      width: round(meta.width * pointsPerMm),
      height: round(meta.height * pointsPerMm),
      content: pageContent(pageOf(label, ink)),
    };
  });
  return writePdf(made, `${meta.title}: build sheet`, work);
}

const pageOf = (name: string, { strokes, lettering }: Ink): Page => ({
  name,
  row: 0,
  column: 0,
  origin: { x: 0, y: 0 },
  neighbours: { left: '', right: '', above: '', below: '' },
  strokes,
  lettering,
  registration: [],
  panels: [],
});

function layBlock(block: BookBlock, width: Mm, font: LetterShapes): Laid {
  switch (block.kind) {
    case 'title':
      return layText(block.text, sizes.title, width, font, 2, true);
    case 'heading':
      return layText(block.text, sizes.heading, width, font, 3, true);
    case 'text':
      return layText(block.text, sizes.text, width, font, 1, true);
    case 'caution':
      return layCaution(block.text, width, font);
    case 'row':
      return layRow(block, width, font);
    case 'step':
      return layStep(block, width, font);
    case 'pictures':
      return layPictures(block, width, font);
  }
}

/** Text at (x, y): left end of the baseline. */
function write(ink: Ink, font: LetterShapes, text: string, x: Mm, y: Mm, height: Mm): void {
  if (text.trim() === '') return;
  const at = { x: x + font.widthOf(text, height) / 2, y: y + height / 2 };
  ink.lettering.push(font.letter(text, at, height, 0, 'detail', ''));
}

/** Lines no wider than this; a word that is wider stands alone. */
function wrap(text: string, height: Mm, width: Mm, font: LetterShapes): string[] {
  const lines: string[] = [];
  let line = '';
  for (const word of text.split(' ')) {
    const longer = line === '' ? word : `${line} ${word}`;
    if (line !== '' && font.widthOf(longer, height) > width) {
      lines.push(line);
      line = word;
    } else line = longer;
  }
  return [...lines, line];
}

const depth = (lines: number, height: Mm): Mm => lines * height * lineSpace;

function writeLines(
  ink: Ink,
  font: LetterShapes,
  lines: readonly string[],
  x: Mm,
  top: Mm,
  height: Mm,
): void {
  lines.forEach((line, i) => {
    write(ink, font, line, x, top - height * (1.5 + i * lineSpace), height);
  });
}

function layText(text: string, height: Mm, width: Mm, font: LetterShapes, above: Mm, keep: boolean): Laid {
  const lines = wrap(text, height, width, font);
  return {
    keep,
    height: above + depth(lines.length, height),
    draw: (ink, left, top) => writeLines(ink, font, lines, left, top - above, height),
  };
}

/** In a frame, so that it is seen. */
function layCaution(text: string, width: Mm, font: LetterShapes): Laid {
  const inner = 2;
  const lines = wrap(`Take care: ${text}`, sizes.text, width - 2 * inner, font);
  const height = depth(lines.length, sizes.text) + 2 * inner;
  return {
    keep: true,
    height: height + 2,
    draw: (ink, left, top) => {
      ink.strokes.push(box('cut', left, top - height - 1, width, height));
      writeLines(ink, font, lines, left + inner, top - 1 - inner, sizes.text);
    },
  };
}

function layRow(row: Extract<BookBlock, { kind: 'row' }>, width: Mm, font: LetterShapes): Laid {
  const cells = row.cells.map((text, i) => wrap(text, sizes.text, width * row.widths[i]! - 3, font));
  const height = depth(Math.max(...cells.map((c) => c.length)), sizes.text) + 1;
  return {
    keep: row.head,
    height,
    draw: (ink, left, top) => {
      let x = left;
      cells.forEach((lines, i) => {
        writeLines(ink, font, lines, x, top, sizes.text);
        x += width * row.widths[i]!;
      });
      const y = top - height;
      const kind = row.head ? 'notch' : 'frame';
      ink.strokes.push({
        kind,
        points: [
          { x: left, y },
          { x: left + width, y },
        ],
        closed: false,
      });
    },
  };
}

function layStep(step: Extract<BookBlock, { kind: 'step' }>, width: Mm, font: LetterShapes): Laid {
  const left = step.picture ? stepPicture.width + 5 : 0;
  const tick = 5;
  const title = wrap(step.title, sizes.text * 1.15, width - left - tick - 2, font);
  const lines = step.lines.flatMap((line) => wrap(line, sizes.text, width - left - tick - 2, font));
  const titleDepth = depth(title.length, sizes.text * 1.15) + 1;
  const text = titleDepth + depth(lines.length, sizes.text);
  const height = Math.max(step.picture ? stepPicture.height : 0, text) + 4;
  return {
    keep: false,
    height,
    draw: (ink, x, top) => {
      if (step.picture) drawPicture(ink, step.picture, x, top - 2, stepPicture.width, stepPicture.height);
      const at = x + left;
      ink.strokes.push(box('notch', at, top - 5.5, 3.5, 3.5));
      if (step.done)
        ink.strokes.push({
          kind: 'cut',
          points: [
            { x: at + 0.7, y: top - 4 },
            { x: at + 1.5, y: top - 5 },
            { x: at + 3.2, y: top - 2.4 },
          ],
          closed: false,
        });
      writeLines(ink, font, title, at + tick, top - 1, sizes.text * 1.15);
      writeLines(ink, font, lines, at + tick, top - 1 - titleDepth, sizes.text);
      ink.strokes.push({
        kind: 'frame',
        points: [
          { x, y: top - height + 0.5 },
          { x: x + width, y: top - height + 0.5 },
        ],
        closed: false,
      });
    },
  };
}

function layPictures(row: Extract<BookBlock, { kind: 'pictures' }>, width: Mm, font: LetterShapes): Laid {
  const column = width / smallPerRow;
  const rows: (typeof row.items)[] = [];
  for (let i = 0; i < row.items.length; i += smallPerRow) rows.push(row.items.slice(i, i + smallPerRow));
  const wrapped = rows.map((items) =>
    items.map(({ picture, lines }) => ({
      picture,
      lines: lines.flatMap((line) => wrap(line, sizes.small, column - 3, font)),
    })),
  );
  const depths = wrapped.map(
    (items) => smallPicture + 3 + depth(Math.max(...items.map((i) => i.lines.length)), sizes.small) + 2,
  );
  return {
    keep: false,
    height: depths.reduce((sum, d) => sum + d, 0),
    draw: (ink, left, top) => {
      let y = top;
      wrapped.forEach((items, r) => {
        items.forEach(({ picture, lines }, i) => {
          const x = left + i * column;
          drawPicture(ink, picture, x, y - 2, column - 4, smallPicture);
          writeLines(ink, font, lines, x, y - smallPicture - 2, sizes.small);
        });
        y -= depths[r]!;
      });
    },
  };
}

const box = (kind: LineKind, x: Mm, y: Mm, width: Mm, height: Mm): PageStroke => ({
  kind,
  points: [
    { x, y },
    { x: x + width, y },
    { x: x + width, y: y + height },
    { x, y: y + height },
  ],
  closed: true,
});

/** As large as fits, in the middle of the place whose upper-left corner is given. */
function drawPicture(ink: Ink, picture: BookPicture, left: Mm, top: Mm, width: Mm, height: Mm): void {
  if (!(picture.width > 0 && picture.height > 0)) return;
  const scale = Math.min(width / picture.width, height / picture.height);
  const x0 = left + (width - picture.width * scale) / 2;
  const y0 = top - height + (height - picture.height * scale) / 2;
  for (const stroke of picture.strokes) {
    const points = stroke.points.map((p) => ({ x: x0 + p.x * scale, y: y0 + p.y * scale }));
    if (stroke.lit) ink.lettering.push(bars(points));
    else ink.strokes.push({ kind: stroke.kind, points, closed: stroke.closed });
  }
}

/** A line as filled bars, wider than any line on paper. */
function bars(points: readonly Point[]): Lettering {
  const rings = points.slice(1).flatMap((b, i) => {
    const a = points[i]!;
    const length = Math.hypot(b.x - a.x, b.y - a.y);
    if (length === 0) return [];
    const across = { x: ((a.y - b.y) / length) * (barWidth / 2), y: ((b.x - a.x) / length) * (barWidth / 2) };
    return [
      [
        { x: a.x - across.x, y: a.y - across.y },
        { x: b.x - across.x, y: b.y - across.y },
        { x: b.x + across.x, y: b.y + across.y },
        { x: a.x + across.x, y: a.y + across.y },
      ],
    ];
  });
  return { text: '', use: 'detail', rings, at: points[0]!, angle: 0, height: barWidth, of: '' };
}
