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

/** One thing in a section. */
export type Item =
  | { readonly kind: 'bullet'; readonly text: string }
  | { readonly kind: 'row'; readonly label: string; readonly value: string }
  /** A small drawing with words beside it; `draw` gets the left end of its middle line. */
  | { readonly kind: 'sample'; readonly text: string; readonly draw: (left: Point, sheet: Sheet) => void };

/** Width of the drawing of a sample. */
export const sampleWidth: Mm = 23;

export const bullets = (texts: readonly string[]): Item[] => texts.map((text) => ({ kind: 'bullet', text }));

/** In parts of the letter height. */
const linePitch = 1.72;
const afterBullet = 0.35;
const afterRow = 0.2;
const bulletIndent: Mm = 3;
const sampleGap: Mm = 3;
const leastSample: Mm = 5.2;

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

  /**
   * A heading with its items. Started in the next column when it does not fit in this one but in an empty one; longer
   * than a column, it is broken between lines.
   */
  section(title: string, items: readonly Item[]): void {
    const { body } = this.#sizes;
    this.space(2.4 * body);
    const height = this.#headingHeight + items.reduce((sum, item) => sum + this.#heightOf(item), 0);
    if (height > this.left && height <= this.#box.maxY - this.#box.minY) this.nextColumn();
    this.need(this.#headingHeight + 3 * body);
    this.#heading(title);
    for (const item of items) this.#draw(item);
  }

  get #headingHeight(): Mm {
    return 2.2 * this.#sizes.heading;
  }

  #heading(title: string): void {
    const { heading } = this.#sizes;
    this.#line(title, 0, heading);
    this.#y -= 0.45 * heading;
    const { minX, maxX } = this.#box;
    const rule = [minX, maxX].map((x) => ({ x, y: this.#y }));
    this.sheets.at(-1)!.strokes.push({ kind: 'frame', points: rule, closed: false });
    this.#y -= 0.75 * heading;
  }

  #heightOf(item: Item): Mm {
    const { body } = this.#sizes;
    switch (item.kind) {
      case 'bullet':
        return (this.#bulletLines(item.text).length * linePitch + afterBullet) * body;
      case 'row':
        return (Math.max(...this.#rowLines(item).map((l) => l.length)) * linePitch + afterRow) * body;
      case 'sample':
        return Math.max(leastSample, this.#sampleLines(item.text).length * linePitch * body + 1.2);
    }
  }

  #draw(item: Item): void {
    const { body } = this.#sizes;
    switch (item.kind) {
      case 'bullet':
        for (const [i, line] of this.#bulletLines(item.text).entries()) {
          this.need(body);
          if (i === 0) this.#write('\u2022', 0, body);
          this.#line(line, bulletIndent, body);
          this.#y -= (linePitch - 1) * body;
        }
        this.#y -= afterBullet * body;
        return;
      case 'row': {
        this.need(this.#heightOf(item) - afterRow * body);
        const [labels, values] = this.#rowLines(item);
        for (let i = 0; i < Math.max(labels.length, values.length); i++) {
          if (labels[i] !== undefined) this.#write(labels[i]!, 0, body);
          if (values[i] !== undefined) this.#write(values[i]!, this.#valueColumn, body);
          this.#y -= linePitch * body;
        }
        this.#y -= afterRow * body;
        return;
      }
      case 'sample': {
        this.need(this.#heightOf(item));
        // The column may have changed: lines and height are those of the column that it is in now.
        const lines = this.#sampleLines(item.text);
        const middle = this.#y - this.#heightOf(item) / 2;
        item.draw({ x: this.#box.minX, y: middle }, this.sheets.at(-1)!);
        const block = ((lines.length - 1) * linePitch + 1) * body;
        for (const [i, line] of lines.entries())
          this.#writeAt(line, sampleWidth + sampleGap, middle + block / 2 - (i * linePitch + 1) * body, body);
        this.#y -= this.#heightOf(item);
      }
    }
  }

  #sampleLines(text: string): string[] {
    return wrapWords(text, this.width - sampleWidth - sampleGap, this.#sizes.body, this.#font);
  }

  #bulletLines(text: string): string[] {
    return wrapWords(text, this.width - bulletIndent, this.#sizes.body, this.#font);
  }

  #rowLines({ label, value }: { readonly label: string; readonly value: string }): [string[], string[]] {
    const { body } = this.#sizes;
    return [
      wrapWords(label, this.#valueColumn - 2, body, this.#font),
      wrapWords(value, this.width - this.#valueColumn, body, this.#font),
    ];
  }

  get #valueColumn(): Mm {
    return Math.min(0.5 * this.width, 44);
  }

  #line(text: string, indent: Mm, height: Mm): void {
    this.#write(text, indent, height);
    this.#y -= height;
  }

  #write(text: string, indent: Mm, height: Mm): void {
    this.#writeAt(text, indent, this.#y - height, height);
  }

  #writeAt(text: string, indent: Mm, baseline: Mm, height: Mm): void {
    this.sheets.at(-1)!.lettering.push(writeAt(this.#font, text, this.#box.minX + indent, baseline, height));
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
function wrapWords(text: string, room: Mm, height: Mm, font: LetterShapes): string[] {
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
