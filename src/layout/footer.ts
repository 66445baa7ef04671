/** The frame of the printed area and the footer under it: page name, title, page number. Page space. */
import type { Lettering, LetterShapes, PageStroke } from '../model';
import type { Mm } from '../units';
import type { PageFormat } from './pageFormat';
import type { FooterWords } from './pageInk';
import { footerHeight } from './tolerance';

const nameHeight: Mm = 3.6;
const wordHeight: Mm = 2.1;
const gap: Mm = 4;

/** Frame and footer of a page; `name` empty: none is written. */
export function drawFooter(
  format: PageFormat,
  name: string,
  words: FooterWords,
  font: LetterShapes,
  frame = true,
): { strokes: PageStroke[]; lettering: Lettering[] } {
  const { printed } = format;
  const strokes: PageStroke[] = frame
    ? [
        {
          kind: 'frame',
          points: [
            { x: printed.minX, y: printed.minY },
            { x: printed.maxX, y: printed.minY },
            { x: printed.maxX, y: printed.maxY },
            { x: printed.minX, y: printed.maxY },
          ],
          closed: true,
        },
      ]
    : [];
  const baseline = printed.minY - footerHeight + 1.2;
  const lettering: Lettering[] = [];
  const write = (text: string, left: Mm, height: Mm) =>
    lettering.push(
      font.letter(
        text,
        { x: left + font.widthOf(text, height) / 2, y: baseline + height / 2 },
        height,
        0,
        'detail',
        '',
      ),
    );
  let left = printed.minX;
  if (name !== '') {
    write(name, left, nameHeight);
    left += font.widthOf(name, nameHeight) + gap;
  }
  const right = `page ${words.number} of ${words.count} · print at 100 %, not fitted to the page`;
  const rightAt = printed.maxX - font.widthOf(right, wordHeight);
  write(right, rightAt, wordHeight);
  const title = shortened(words.title, rightAt - gap - left, wordHeight, font);
  if (title !== '') write(title, left, wordHeight);
  return { strokes, lettering };
}

/** The text, cut with three dots when it is wider than the room. */
export function shortened(text: string, room: Mm, height: Mm, font: LetterShapes): string {
  if (font.widthOf(text, height) <= room) return text;
  const letters = Array.from(text);
  while (letters.length > 0 && font.widthOf(`${letters.join('')}...`, height) > room) letters.pop();
  return letters.length === 0 ? '' : `${letters.join('').trimEnd()}...`;
}
