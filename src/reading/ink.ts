/**
 * The lines of a drawing as straight strokes: mirrored when the drawing shows the inside, curves flattened.
 * Positions: mm, y up. Strokes remember the line and the segment they come from, and whether that was a curve.
 */
import { distance, type Point, subtract, unitOf } from '../math';
import type { Drawing, DrawingLine, DrawingText } from '../model';
import { flattenCubic, footOn, type Stroke } from '../plane';
import type { Mm } from '../units';
import { flatness, joinShare, shortLineShare, straightCurve } from './tolerance';

export interface InkStroke extends Stroke {
  /** Index of the drawing's line. */
  readonly line: number;
  /** Index of the line's segment; the closing stroke comes after the last. */
  readonly segment: number;
  readonly curved: boolean;
}

export interface InkLine {
  readonly line: DrawingLine;
  readonly length: Mm;
  /** Ends where it starts, by command or by position. */
  readonly closed: boolean;
  readonly start: Point;
  /** Unit directions at the start and the end of each segment (curves only; straight ones are left empty). */
  readonly tangents: ReadonlyMap<number, { readonly out: Point; readonly in: Point }>;
  readonly strokes: readonly number[];
}

export interface Ink {
  readonly lines: readonly InkLine[];
  readonly strokes: readonly InkStroke[];
  readonly texts: readonly DrawingText[];
  /** Undoes the mirroring, for ids that do not change with it. */
  readonly home: (p: Point) => Point;
}

/**
 * Turns a drawing into strokes; `mirrored` reflects x within the width of the drawing. Lines that `skip` names keep
 * their place in the list but give no strokes.
 */
export function inkOf(
  drawing: Drawing,
  mirrored: boolean,
  skip: (line: number) => boolean = () => false,
): Ink {
  const width = drawing.size.width;
  const place = (p: Point): Point => (mirrored ? { x: width - p.x, y: p.y } : p);
  const strokes: InkStroke[] = [];
  const lines = drawing.lines.map(
    (line, index): InkLine => inkLine(line, index, place, skip(index) ? null : strokes),
  );
  const texts = mirrored
    ? drawing.texts.map((t) => ({ ...t, at: place(t.at), centre: place(t.centre), angle: Math.PI - t.angle }))
    : drawing.texts;
  return { lines, strokes, texts, home: place };
}

function inkLine(
  line: DrawingLine,
  index: number,
  place: (p: Point) => Point,
  all: InkStroke[] | null,
): InkLine {
  const start = place(line.start);
  const own: number[] = [];
  const tangents = new Map<number, { out: Point; in: Point }>();
  let length = 0;
  let at = start;
  const push = (a: Point, b: Point, segment: number, curved: boolean, inner?: 'a' | 'b' | 'both') => {
    const d = distance(a, b);
    if (d === 0) return;
    length += d;
    if (!all) return;
    own.push(all.length);
    all.push({ a, b, line: index, segment, curved, ...(inner ? { inner } : {}) });
  };
  line.segments.forEach((s, segment) => {
    const to = place(s.to);
    if (s.kind === 'cubic' && !isStraight(at, place(s.c1), place(s.c2), to)) {
      const c1 = place(s.c1);
      const c2 = place(s.c2);
      const points: Point[] = [at];
      flattenCubic(at, c1, c2, to, flatness, points);
      for (let i = 1; i < points.length; i++) {
        const first = i === 1;
        const last = i === points.length - 1;
        push(
          points[i - 1]!,
          points[i]!,
          segment,
          true,
          first ? (last ? undefined : 'b') : last ? 'a' : 'both',
        );
      }
      tangents.set(segment, {
        out: unitOf(subtract(firstOther(at, [c1, c2, to]), at)),
        in: unitOf(subtract(to, firstOther(to, [c2, c1, at]))),
      });
    } else push(at, to, segment, false);
    at = to;
  });
  if (line.closed) push(at, start, line.segments.length, false);
  const closed = line.segments.length > 1 && (line.closed || distance(at, start) <= straightCurve);
  return { line, length, closed, start, tangents, strokes: own };
}

/** True when a cubic stays on its chord. */
function isStraight(a: Point, c1: Point, c2: Point, b: Point): boolean {
  return [c1, c2].every((c) => {
    const foot = footOn(c, a, b);
    const off = foot ? foot.off : Math.min(distance(c, a), distance(c, b));
    return off <= straightCurve;
  });
}

function firstOther(from: Point, candidates: readonly Point[]): Point {
  return candidates.find((c) => distance(c, from) > straightCurve) ?? candidates[candidates.length - 1]!;
}

/** The distance within which line ends may be joined: what the person allows, but never a large part of a line. */
export function joinLimit(ink: Ink, within: Mm): Mm {
  const lengths = Float64Array.from(
    ink.strokes.filter((s) => !s.curved),
    (s) => distance(s.a, s.b),
  ).sort();
  const total = lengths.reduce((sum, d) => sum + d, 0);
  let sum = 0;
  for (const d of lengths) {
    sum += d;
    if (sum >= total * shortLineShare) return Math.min(within, joinShare * d);
  }
  return within;
}
