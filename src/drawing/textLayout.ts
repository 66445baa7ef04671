/**
 * Glyphs -> texts with a place, a direction and an estimated middle. Advances are estimated, since no font is at
 * hand: digits of most text faces are 0.5 to 0.6 em wide and 0.7 em high (common practice, no source), which puts
 * the middle of a label of a few characters within about 0.1 em per character of the truth.
 * Source: SVG 2, sections 11.5 and 11.10.1 (chunks and what text-anchor aligns).
 */
import type { DrawingText } from '../model';
import { type Matrix, mapX, mapY, meanScale } from './matrix';
import { paintColour } from './painting';
import type { Frame, ReadContext } from './readContext';
import type { Glyph, Track } from './text';
import type { XmlNode } from './xmlTree';

/** Mean advance of a character, in em. */
const advance = 0.55;
/** Middle of a digit above the baseline, in em, by where the text is aligned. */
const middleAbove: Readonly<Record<string, number>> = {
  middle: 0.1,
  central: 0,
  mathematical: 0,
  hanging: -0.35,
  'text-before-edge': -0.5,
  'text-top': -0.5,
  'text-after-edge': 0.55,
  'text-bottom': 0.55,
};
const middleAboveBaseline = 0.35;

/**
 * Characters that are placed one by one are one text when each stands about where the one before it ends, in em:
 * an “i” is 0.3 em narrower and a “W” 0.4 em wider than the mean.
 */
const sameWordGap = 0.45;
const sameWordDrop = 0.25;
/** Within one chunk a shift beyond these starts a new text, in em: a next column or a next row. */
const columnGap = 0.8;
const rowDrop = 0.6;

interface Placed {
  readonly glyph: Glyph;
  /** Start of the character on its baseline, or along its track (x) and off it (y). */
  x: number;
  readonly y: number;
  readonly width: number;
  readonly chunk: Chunk;
}

interface Chunk {
  readonly first: number;
  end: number;
  readonly anchor: 'start' | 'middle' | 'end';
  /** Where the chunk is anchored. */
  readonly x: number;
  readonly y: number;
}

/** The texts of one text element, in reading order. `matrix`: user units -> mm, y up. */
export function layTexts(
  context: ReadContext,
  node: XmlNode,
  frame: Frame,
  matrix: Matrix,
  glyphs: readonly Glyph[],
): DrawingText[] {
  const placed = placeGlyphs(glyphs);
  const out: DrawingText[] = [];
  let run: Placed[] = [];
  const finish = (): void => {
    const text = runText(context, node, frame, matrix, run, out.length);
    if (text) out.push(text);
    run = [];
  };
  placed.forEach((p, i) => {
    if (i > 0 && breaksBefore(placed[i - 1]!, p)) finish();
    run.push(p);
  });
  finish();
  return out;
}

/** Walks the pen along the glyphs and aligns each chunk by its anchor. */
function placeGlyphs(glyphs: readonly Glyph[]): Placed[] {
  const placed: Placed[] = [];
  let x = 0;
  let y = 0;
  let chunk: Chunk | null = null;
  const align = (): void => {
    if (!chunk) return;
    const width = x - chunk.x;
    const shift = chunk.anchor === 'start' ? 0 : chunk.anchor === 'middle' ? -width / 2 : -width;
    for (let i = chunk.first; i < chunk.end; i++) placed[i]!.x += shift;
  };
  glyphs.forEach((glyph, i) => {
    const before = glyphs[i - 1];
    const track = glyph.track !== (before?.track ?? null);
    const starts = !chunk || track || glyph.x !== undefined || glyph.y !== undefined;
    if (starts) align();
    if (track && glyph.track) {
      x = glyph.track.startOffset;
      y = 0;
    } else if (track && before?.track) {
      const end = before.track.points.at(-1)!;
      x = end.x;
      y = end.y;
    }
    if (!glyph.track) {
      x = glyph.x ?? x;
      y = glyph.y ?? y;
    }
    x += glyph.dx;
    y += glyph.dy;
    if (starts) chunk = { first: i, end: i, anchor: glyph.style.anchor, x, y };
    const width = advance * glyph.style.fontSize;
    placed.push({ glyph, x, y, width, chunk: chunk! });
    chunk!.end = i + 1;
    x += width;
  });
  align();
  return placed;
}

function breaksBefore(a: Placed, b: Placed): boolean {
  if (a.glyph.track !== b.glyph.track || a.glyph.rotate !== b.glyph.rotate) return true;
  if (a.glyph.style.visible !== b.glyph.style.visible) return true;
  const em = Math.max(a.glyph.style.fontSize, b.glyph.style.fontSize);
  const gap = b.x - (a.x + a.width);
  const drop = Math.abs(b.y - a.y);
  if (a.chunk === b.chunk) return gap > columnGap * em || gap < -em || drop > rowDrop * em;
  const single = (c: Chunk): boolean => c.end - c.first === 1;
  if (!single(a.chunk) || !single(b.chunk)) return true;
  return Math.abs(gap) > sameWordGap * em || drop > sameWordDrop * em;
}

function runText(
  context: ReadContext,
  node: XmlNode,
  frame: Frame,
  matrix: Matrix,
  run: readonly Placed[],
  index: number,
): DrawingText | null {
  const ink = run.filter((p) => p.glyph.character !== ' ');
  const first = ink[0];
  const last = ink.at(-1);
  if (!first || !last) return null;
  const { style, rotate, track } = first.glyph;
  const fill = paintColour(context, node, style.fill, style);
  const stroke = paintColour(context, node, style.stroke, style);
  const filled = fill !== null && fill.alpha * style.fillOpacity > 0;
  const stroked = stroke !== null && stroke.alpha * style.strokeOpacity > 0;
  if (!style.visible || !(frame.opacity * style.opacity > 0) || !(filled || stroked)) {
    context.log.count('lines-hidden', node.offset);
    return null;
  }
  if (style.vertical) context.log.count('vertical-text', node.offset);
  const size = style.fontSize;
  const above = (middleAbove[style.baseline] ?? middleAboveBaseline) * size;
  const turn = (rotate * Math.PI) / 180;
  const { chunk } = first;
  const whole = run.length === chunk.end - chunk.first && run[0]!.chunk === run.at(-1)!.chunk;
  const at = whole ? { x: chunk.x, y: chunk.y } : { x: first.x, y: first.y };
  let angle = turn;
  let place = at;
  let centre: { x: number; y: number };
  if (track) {
    const middle = onTrack(
      track,
      (first.x + last.x + last.width) / 2,
      first.y + (last.y - first.y) / 2 - above,
    );
    const begin = onTrack(track, at.x, at.y);
    angle += middle.angle;
    place = begin;
    centre = middle;
  } else {
    // Each character turns about its own start; the middle is that of the first and the last.
    const middleOf = (p: Placed) => ({
      x: p.x + (p.width / 2) * Math.cos(turn) + above * Math.sin(turn),
      y: p.y + (p.width / 2) * Math.sin(turn) - above * Math.cos(turn),
    });
    const [a, b] = [middleOf(first), middleOf(last)];
    centre = { x: (a.x + b.x) / 2, y: (a.y + b.y) / 2 };
  }
  const [cos, sin] = [Math.cos(angle), Math.sin(angle)];
  const result: DrawingText = {
    id: `${context.file}:${frame.through}${node.order}:${index}`,
    text: run
      .map((p) => p.glyph.character)
      .join('')
      .replace(/\s+/g, ' ')
      .trim(),
    at: { x: mapX(matrix, place.x, place.y), y: mapY(matrix, place.x, place.y) },
    anchor: whole ? chunk.anchor : 'start',
    centre: { x: mapX(matrix, centre.x, centre.y), y: mapY(matrix, centre.x, centre.y) },
    angle: Math.atan2(matrix.b * cos + matrix.d * sin, matrix.a * cos + matrix.c * sin),
    size: size * meanScale(matrix),
    groups: frame.groups,
    className: node.attributes.class ?? '',
    fill: filled ? fill.hex : '',
    source: context.log.source(node.offset),
  };
  const numbers = [result.at.x, result.at.y, result.centre.x, result.centre.y, result.angle, result.size];
  return numbers.every(Number.isFinite) ? result : null;
}

/** A point `s` along a track and `off` to the side of it (y down, so negative is above), and the direction there. */
function onTrack(track: Track, s: number, off: number): { x: number; y: number; angle: number } {
  const { points, along } = track;
  let i = 1;
  while (i < points.length - 1 && along[i]! < s) i++;
  const a = points[i - 1]!;
  const b = points[i] ?? a;
  const length = Math.hypot(b.x - a.x, b.y - a.y);
  const t = length === 0 ? 0 : (s - along[i - 1]!) / length;
  const angle = Math.atan2(b.y - a.y, b.x - a.x);
  return {
    x: a.x + (b.x - a.x) * t - Math.sin(angle) * off,
    y: a.y + (b.y - a.y) * t + Math.cos(angle) * off,
    angle,
  };
}
