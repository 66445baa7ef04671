/**
 * Text and figures in columns, from the top of the first column down, then the next, then the next sheet. Page space,
 * mm, y up. Small on purpose: left-aligned words, no hyphenation.
 */
import type { Box, Point } from '../math';
import type { Lettering, LetterShapes, PageStroke } from '../model';
import type { Mm } from '../units';

/** What one sheet carries. */
export interface Sheet {
  readonly strokes: PageStroke[];
  readonly lettering: Lettering[];
}

export interface FlowSizes {
  readonly heading: Mm;
  readonly body: Mm;
}

const linePitch = 1.72;

export class Flow {
  readonly sheets: Sheet[] = [{ strokes: [], lettering: [] }];
  readonly #columns: readonly Box[];
  readonly #later: readonly Box[];
  readonly #font: LetterShapes;
  readonly #sizes: FlowSizes;
  #column = 0;
  #y: Mm;

  /** @param columns those of the first sheet. @param later those of every further sheet. */
  constructor(columns: readonly Box[], later: readonly Box[], font: LetterShapes, sizes: FlowSizes) {
    this.#columns = columns;
    this.#later = later;
    this.#font = font;
    this.#sizes = sizes;
    this.#y = columns[0]!.maxY;
  }

  get #box(): Box {
    const boxes = this.sheets.length === 1 ? this.#columns : this.#later;
    return boxes[this.#column]!;
  }

  get width(): Mm {
    return this.#box.maxX - this.#box.minX;
  }

  /** Height left in the column. */
  get left(): Mm {
    return this.#y - this.#box.minY;
  }

  /** Goes on in the given column of the first sheet, unless the flow is there or beyond. */
  toColumn(column: number): void {
    if (this.sheets.length === 1 && this.#column < column && column < this.#columns.length) this.nextColumn();
  }

  /** Goes on at the top of the next column unless the column is still empty. */
  nextColumn(): void {
    if (this.#y === this.#box.maxY) return;
    const boxes = this.sheets.length === 1 ? this.#columns : this.#later;
    if (this.#column + 1 < boxes.length) this.#column++;
    else {
      this.sheets.push({ strokes: [], lettering: [] });
      this.#column = 0;
    }
    this.#y = this.#box.maxY;
  }

  /** Makes sure that so much room is left. What is taller than a column starts a column. */
  need(height: Mm): void {
    if (this.left < height) this.nextColumn();
  }

  space(height: Mm): void {
    if (this.#y !== this.#box.maxY) this.#y -= height;
  }

  /** A figure: `draw` gets its upper-left corner. */
  figure(height: Mm, draw: (corner: Point, sheet: Sheet) => void): void {
    this.need(height);
    draw({ x: this.#box.minX, y: this.#y }, this.sheets.at(-1)!);
    this.#y -= height;
  }

  heading(text: string): void {
    const { heading, body } = this.#sizes;
    this.space(2.4 * body);
    this.need(heading + 6 * body);
    this.#line(text, 0, heading);
    this.#y -= 0.45 * heading;
    const { minX, maxX } = this.#box;
    const rule = [minX, maxX].map((x) => ({ x, y: this.#y }));
    this.sheets.at(-1)!.strokes.push({ kind: 'frame', points: rule, closed: false });
    this.#y -= 0.75 * heading;
  }

  /** A paragraph, each line `indent` in; `bullet` is written in the indent of the first. */
  paragraph(text: string, indent: Mm = 0, bullet = ''): void {
    const { body } = this.#sizes;
    for (const [i, line] of wrapWords(text, this.width - indent, body, this.#font).entries()) {
      this.need(body);
      if (i === 0 && bullet !== '') this.#write(bullet, 0, body);
      this.#line(line, indent, body);
      this.#y -= (linePitch - 1) * body;
    }
    this.#y -= 0.35 * body;
  }

  /** A label with its value, the value at half the width; both wrap. */
  row(label: string, value: string): void {
    const { body } = this.#sizes;
    const middle = Math.min(0.5 * this.width, 44);
    const labels = wrapWords(label, middle - 2, body, this.#font);
    const values = wrapWords(value, this.width - middle, body, this.#font);
    const count = Math.max(labels.length, values.length);
    this.need(count * linePitch * body);
    for (let i = 0; i < count; i++) {
      if (labels[i] !== undefined) this.#write(labels[i]!, 0, body);
      if (values[i] !== undefined) this.#write(values[i]!, middle, body);
      this.#y -= linePitch * body;
    }
    this.#y -= 0.2 * body;
  }

  #line(text: string, indent: Mm, height: Mm): void {
    this.#write(text, indent, height);
    this.#y -= height;
  }

  #write(text: string, indent: Mm, height: Mm): void {
    this.sheets
      .at(-1)!
      .lettering.push(writeAt(this.#font, text, this.#box.minX + indent, this.#y - height, height));
  }
}

/** Text that starts at (left, baseline). */
export function writeAt(font: LetterShapes, text: string, left: Mm, baseline: Mm, height: Mm): Lettering {
  return font.letter(
    text,
    { x: left + font.widthOf(text, height) / 2, y: baseline + height / 2 },
    height,
    0,
    'detail',
    '',
  );
}

/** Breaks a text at spaces; a word wider than the room stands alone on its line, broken between letters. */
export function wrapWords(text: string, room: Mm, height: Mm, font: LetterShapes): string[] {
  const lines: string[] = [];
  let line = '';
  for (const word of text.split(' ').flatMap((w) => pieces(w, room, height, font))) {
    const longer = line === '' ? word : `${line} ${word}`;
    if (line !== '' && font.widthOf(longer, height) > room) {
      lines.push(line);
      line = word;
    } else line = longer;
  }
  if (line !== '') lines.push(line);
  return lines;
}

function pieces(word: string, room: Mm, height: Mm, font: LetterShapes): string[] {
  if (font.widthOf(word, height) <= room) return [word];
  const parts: string[] = [''];
  for (const letter of Array.from(word)) {
    const last = parts.at(-1)!;
    if (last !== '' && font.widthOf(last + letter, height) > room) parts.push(letter);
    else parts[parts.length - 1] = last + letter;
  }
  return parts;
}
