/**
 * Blocks of lettering: a few texts, perhaps an up arrow, in fixed places of a rectangle that is then laid somewhere on
 * a panel. Offsets are from the block's middle, x along the baseline, y up.
 */
import { add, type Point, rotate } from '../math';
import type { Lettering, LetterShapes } from '../model';
import type { Mm, Rad } from '../units';
import type { Plate } from './room';

interface TextPart {
  readonly kind: 'text';
  readonly text: string;
  readonly use: Lettering['use'];
  readonly height: Mm;
  readonly x: Mm;
  readonly y: Mm;
  /** A bar under the foot, for numbers that read as another number upside down. */
  readonly bar: boolean;
}

interface ArrowPart {
  readonly kind: 'arrow';
  readonly size: Mm;
  readonly x: Mm;
  readonly y: Mm;
}

export interface Block {
  readonly parts: readonly (TextPart | ArrowPart)[];
  readonly halfWidth: Mm;
  readonly halfHeight: Mm;
}

/** One line of a block, with how tall its letters are. */
export interface TextLine {
  readonly text: string;
  readonly use: Lettering['use'];
  readonly height: Mm;
}

/** Parts of the letter height: tails of g and p below the line, and the bar under a number. */
const tail = 0.3;
const barTop = 0.18;
const barThickness = 0.1;

/**
 * Whether a number turned upside down reads as another number: only digits that stay digits (0, 6, 8, 9), and not the
 * same again. A 1 has a flag in the lettering in use and stays recognisable.
 */
function readsUpsideDown(text: string): boolean {
  const turned: Readonly<Record<string, string>> = { '0': '0', '6': '9', '8': '8', '9': '6' };
  if (!/^[0689]+$/.test(text)) return false;
  const other = Array.from(text)
    .reverse()
    .map((d) => turned[d])
    .join('');
  return other !== text && !other.startsWith('0');
}

/** A seam number with its bevel beside it (`row`) or below it (`stack`); without a bevel just the number. */
export function numberBlock(
  font: LetterShapes,
  number: string,
  bevel: string,
  height: Mm,
  least: Mm,
  arrangement: 'row' | 'stack',
): Block {
  const bar = readsUpsideDown(number);
  const width = font.widthOf(number, height);
  const below = bar ? barTop + barThickness : 0.06;
  const main: Omit<TextPart, 'x' | 'y'> = { kind: 'text', text: number, use: 'seamNumber', height, bar };
  if (bevel === '')
    return {
      parts: [{ ...main, x: 0, y: 0 }],
      halfWidth: width / 2,
      halfHeight: height * (0.5 + below),
    };
  const small = Math.max(least, 0.7 * height);
  const smallWidth = font.widthOf(bevel, small);
  const second: Omit<TextPart, 'x' | 'y'> = {
    kind: 'text',
    text: bevel,
    use: 'bevel',
    height: small,
    bar: false,
  };
  if (arrangement === 'row') {
    const gap = 0.45 * height;
    const half = (width + gap + smallWidth) / 2;
    return {
      parts: [
        { ...main, x: width / 2 - half, y: 0 },
        { ...second, x: half - smallWidth / 2, y: (small - height) / 2 },
      ],
      halfWidth: half,
      halfHeight: height * (0.5 + below),
    };
  }
  const gap = 0.3 * height + (bar ? below * height : 0);
  const half = (height + gap + small) / 2;
  return {
    parts: [
      { ...main, x: 0, y: half - height / 2 },
      { ...second, x: 0, y: small / 2 - half },
    ],
    halfWidth: Math.max(width, smallWidth) / 2,
    halfHeight: half + 0.06 * height,
  };
}

/** A bevel by itself, for runs whose bevel changes from edge to edge. */
export function textBlock(font: LetterShapes, line: TextLine): Block {
  return {
    parts: [{ kind: 'text', ...line, x: 0, y: 0, bar: false }],
    halfWidth: font.widthOf(line.text, line.height) / 2,
    halfHeight: line.height * (0.5 + (/\d/.test(line.text) && line.use === 'bevel' ? 0.06 : tail)),
  };
}

/** An up arrow by itself. */
export function arrowBlock(size: Mm): Block {
  return { parts: [{ kind: 'arrow', size, x: 0, y: 0 }], halfWidth: size / 2, halfHeight: size / 2 };
}

/** Lines under each other, centred, with an up arrow to the left or above, or none. */
export function linesBlock(
  font: LetterShapes,
  lines: readonly TextLine[],
  arrow: 'left' | 'above' | 'none',
): Block {
  const gapOf = (line: TextLine) => 0.65 * line.height;
  const texts = lines.reduce((sum, l, i) => sum + l.height + (i > 0 ? gapOf(l) : 0), 0);
  const width = Math.max(0, ...lines.map((l) => font.widthOf(l.text, l.height)));
  const first = lines[0]?.height ?? 0;
  const last = lines.at(-1)?.height ?? 0;
  const size = arrow === 'none' ? 0 : arrow === 'left' ? Math.min(texts, 3.2 * first) : 1.9 * first;
  const space = arrow === 'none' ? 0 : 0.6 * first;
  const wide = arrow === 'left' ? size + space + width : Math.max(width, size);
  const tall = arrow === 'above' ? size + space + texts : Math.max(texts, size);
  const parts: (TextPart | ArrowPart)[] = [];
  if (arrow === 'left') parts.push({ kind: 'arrow', size, x: (size - wide) / 2, y: 0 });
  if (arrow === 'above') parts.push({ kind: 'arrow', size, x: 0, y: (tall - size) / 2 });
  let top = arrow === 'above' ? tall / 2 - size - space : texts / 2;
  const x = arrow === 'left' ? (wide - width) / 2 : 0;
  lines.forEach((line, i) => {
    if (i > 0) top -= gapOf(line);
    parts.push({ kind: 'text', ...line, x, y: top - line.height / 2, bar: false });
    top -= line.height;
  });
  return { parts, halfWidth: wide / 2, halfHeight: tall / 2 + tail * last };
}

/** The rectangle that the block takes at a place. */
export function plateOf(block: Block, centre: Point, angle: Rad): Plate {
  return { centre, angle, halfWidth: block.halfWidth, halfHeight: block.halfHeight };
}

/** The lettering of a block laid at a place. `up`: direction that the arrow points in, counter-clockwise from +x. */
export function letterBlock(
  font: LetterShapes,
  block: Block,
  centre: Point,
  angle: Rad,
  up: Rad,
  of: string,
): Lettering[] {
  const group = block.parts.length > 1 ? { block: { at: centre, angle } } : {};
  return block.parts.map((part): Lettering => {
    const at = add(centre, rotate({ x: part.x, y: part.y }, angle));
    if (part.kind === 'arrow') return { ...upArrow(at, part.size, up, of), ...group };
    const lettering = { ...font.letter(part.text, at, part.height, angle, part.use, of), ...group };
    if (!part.bar) return lettering;
    return {
      ...lettering,
      rings: [...lettering.rings, footBar(font.widthOf(part.text, part.height), part, at, angle)],
    };
  });
}

function footBar(width: Mm, part: TextPart, at: Point, angle: Rad): Point[] {
  const top = -part.height * (0.5 + barTop);
  const bottom = top - part.height * barThickness;
  const half = 0.46 * width;
  return [
    { x: -half, y: bottom },
    { x: half, y: bottom },
    { x: half, y: top },
    { x: -half, y: top },
  ].map((p) => add(at, rotate(p, angle)));
}

/** A slim arrow inside a circle of the given diameter, pointing up. Symmetric about its own axis. */
function upArrow(at: Point, size: Mm, up: Rad, of: string): Lettering {
  const angle = up - Math.PI / 2;
  const half = 0.48 * size;
  const shaft = 0.055 * size;
  const wing = 0.2 * size;
  const neck = half - 0.36 * size;
  const ring = [
    { x: -shaft, y: -half },
    { x: shaft, y: -half },
    { x: shaft, y: neck },
    { x: wing, y: neck },
    { x: 0, y: half },
    { x: -wing, y: neck },
    { x: -shaft, y: neck },
  ].map((p) => add(at, rotate(p, angle)));
  return { text: 'up', use: 'up', rings: [ring], at, angle, height: size, of };
}
