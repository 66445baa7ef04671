/**
 * Text elements -> glyphs in order, each with its style and the positions written for it.
 * Sources: SVG 2, section 11.5 (white space, addressable characters, which x, y, dx, dy and rotate belong to which
 * character); CSS Text 3, section 4.1 (collapsing).
 */
import { distance, type Point } from '../math';
import { flattenCubic } from '../plane';
import type { Style } from './computedStyle';
import { ownTransform, shapeNames, shapeOutline } from './geometry';
import { type LengthAxis, readLength, toUserUnits } from './lengths';
import { compose, type Matrix, mapX, mapY } from './matrix';
import type { Subpath } from './outline';
import { type Frame, lengthsOf, type ReadContext, styleIn, styleUnder } from './readContext';
import { referenced } from './references';
import type { XmlNode } from './xmlTree';

/** A path that text follows: corners in the text's user units with the length up to each. */
export interface Track {
  readonly points: readonly Point[];
  readonly along: readonly number[];
  readonly startOffset: number;
}

/** One character and what is written for it; positions in the user units of the text element. */
export interface Glyph {
  readonly character: string;
  readonly style: Style;
  x: number | undefined;
  y: number | undefined;
  dx: number;
  dy: number;
  /** Degrees, clockwise on a y-down screen. */
  rotate: number;
  readonly track: Track | null;
}

/** How fine the track of a text is drawn, in user units relative to the font size: far under a letter's width. */
const trackTolerance = 0.01;

/** The characters of a text element, white space collapsed. */
export function collectGlyphs(context: ReadContext, node: XmlNode, style: Style, frame: Frame): Glyph[] {
  const glyphs: Glyph[] = [];
  let afterSpace = true;

  const visit = (element: XmlNode, own: Style, track: Track | null): void => {
    const first = glyphs.length;
    const preserve = own.preserveSpace || element.attributes['xml:space'] === 'preserve';
    const inside: Style = preserve === own.preserveSpace ? own : { ...own, preserveSpace: preserve };
    for (const child of element.children) {
      if (typeof child === 'string') {
        for (const character of child) {
          const space = character === ' ' || character === '\n' || character === '\t' || character === '\r';
          if (space && afterSpace && !preserve) continue;
          afterSpace = space;
          glyphs.push({
            character: space ? ' ' : character,
            style: inside,
            x: undefined,
            y: undefined,
            dx: 0,
            dy: 0,
            rotate: 0,
            track,
          });
        }
        continue;
      }
      if (child.name !== 'tspan' && child.name !== 'a' && child.name !== 'textPath') continue;
      const next = styleIn(context, child, inside, frame);
      // Opacity of a tspan adds to that of the text.
      const nested = { ...next, opacity: next.opacity * inside.opacity };
      if (!next.displayed) continue;
      if (child.name !== 'textPath') {
        visit(child, nested, track);
        continue;
      }
      const found = trackOf(context, child, nested, frame);
      if (found) visit(child, nested, found);
      else context.log.count('text-path-missing', child.offset);
    }
    place(context, element, inside, frame, glyphs, first);
  };

  // Positions of inner elements outweigh those of outer ones, so outer ones fill in only what is still open.
  visit(node, style, null);
  while (glyphs.length > 0 && glyphs.at(-1)!.character === ' ' && !glyphs.at(-1)!.style.preserveSpace)
    glyphs.pop();
  return glyphs;
}

/** Gives the position lists of an element to its characters, where no inner element has given any. */
function place(
  context: ReadContext,
  element: XmlNode,
  style: Style,
  frame: Frame,
  glyphs: readonly Glyph[],
  first: number,
): void {
  if (element.name === 'textPath') return;
  const list = (name: string, axis: LengthAxis): number[] => {
    const text = element.attributes[name];
    if (text === undefined) return [];
    const lengths = lengthsOf(context, frame, style);
    return text
      .trim()
      .split(/\s*,\s*|\s+/)
      .map((word) => readLength(word))
      .map((read) => (typeof read === 'string' ? Number.NaN : toUserUnits(read, axis, lengths)));
  };
  const set = (values: readonly number[], assign: (glyph: Glyph, value: number) => void): void => {
    for (let i = 0; i < values.length && first + i < glyphs.length; i++) {
      if (Number.isFinite(values[i]!)) assign(glyphs[first + i]!, values[i]!);
    }
  };
  set(list('x', 'x'), (g, v) => {
    g.x ??= v;
  });
  set(list('y', 'y'), (g, v) => {
    g.y ??= v;
  });
  set(list('dx', 'x'), (g, v) => {
    if (g.dx === 0) g.dx = v;
  });
  set(list('dy', 'y'), (g, v) => {
    if (g.dy === 0) g.dy = v;
  });
  // The last angle holds for the rest of the element.
  const angles = (element.attributes.rotate ?? '')
    .trim()
    .split(/\s*,\s*|\s+/)
    .map(Number);
  if (element.attributes.rotate === undefined || !angles.every(Number.isFinite)) return;
  for (let i = first; i < glyphs.length; i++) {
    const glyph = glyphs[i]!;
    if (glyph.rotate === 0) glyph.rotate = angles[Math.min(i - first, angles.length - 1)]!;
  }
}

/** The path of a textPath, in the user units of the text (the path's own transform applies: SVG 2, 11.8.2). */
function trackOf(context: ReadContext, node: XmlNode, style: Style, frame: Frame): Track | null {
  const target = referenced(context, node);
  if (!target || !shapeNames.has(target.name)) return null;
  const targetStyle = styleUnder(context, target, style, context.tree.root);
  const tolerance = trackTolerance * style.fontSize;
  const outline = shapeOutline(context, target, targetStyle, frame, tolerance);
  const matrix = ownTransform(context, target, targetStyle, frame);
  const track = flatten(outline, matrix, tolerance);
  const total = track.along.at(-1);
  if (total === undefined) return null;
  const read = readLength(node.attributes.startOffset ?? '0');
  const offset =
    typeof read === 'string'
      ? 0
      : read.unit === '%'
        ? (read.value / 100) * total
        : toUserUnits(read, 'both', lengthsOf(context, frame, style));
  return { ...track, startOffset: offset };
}

function flatten(outline: readonly Subpath[], m: Matrix, tolerance: number): Omit<Track, 'startOffset'> {
  const points: Point[] = [];
  const along: number[] = [];
  const measure = (from: number): void => {
    for (let i = from; i < points.length; i++) {
      along.push(i === 0 ? 0 : along[i - 1]! + distance(points[i - 1]!, points[i]!));
    }
  };
  const map = (x: number, y: number): Point => ({ x: mapX(m, x, y), y: mapY(m, x, y) });
  for (const { startX, startY, kinds, coords, closed } of outline) {
    const start = map(startX, startY);
    // A jump between subpaths is no part of the way.
    along.push(along.at(-1) ?? 0);
    points.push(start);
    let at = 0;
    for (const kind of kinds) {
      const corners = kind === 'cubic' ? 3 : 1;
      const [p, q, r] = Array.from({ length: corners }, (_, i) =>
        map(coords[at + 2 * i]!, coords[at + 2 * i + 1]!),
      );
      at += 2 * corners;
      const known = points.length;
      if (kind === 'cubic') flattenCubic(points[known - 1]!, p!, q!, r!, tolerance, points);
      else points.push(p!);
      measure(known);
    }
    if (closed) {
      points.push(start);
      measure(points.length - 1);
    }
  }
  return { points, along };
}

/** The map of a text element to mm: its transform inside its frame. */
export function textMatrix(context: ReadContext, node: XmlNode, style: Style, frame: Frame): Matrix {
  return compose(frame.matrix, ownTransform(context, node, style, frame));
}
