/**
 * Geometry properties of elements: lengths from attributes or CSS, the outlines of shapes, and transforms.
 * Source: SVG 2, chapters 7 (geometry properties), 8.5 (transform) and 10 (shapes, what disables them, errors).
 */
import type { Style } from './computedStyle';
import { shorten } from './countedNotes';
import { type LengthAxis, type LengthContext, type LengthText, readLength, toUserUnits } from './lengths';
import { compose, identity, type Matrix, translation } from './matrix';
import { plainNumber } from './numberScanner';
import type { Subpath } from './outline';
import { readPathData, readPoints } from './pathData';
import { type Frame, lengthsOf, type ReadContext } from './readContext';
import { ellipse, rectangle, straightLine } from './shapes';
import type { Property } from './styleValues';
import { readTransform } from './transforms';
import { readViewBox } from './viewBox';
import type { XmlNode } from './xmlTree';

export const shapeNames: ReadonlySet<string> = new Set([
  'path',
  'rect',
  'circle',
  'ellipse',
  'line',
  'polyline',
  'polygon',
]);

/** One geometry property as written; CSS outweighs the attribute. */
export function writtenLength(node: XmlNode, style: Style, name: string): LengthText | undefined {
  const declared = style.declared[name as Property];
  if (declared?.kind === 'length') return declared.length;
  if (declared?.kind === 'unsupported') return 'unsupported';
  const text = node.attributes[name];
  return text === undefined ? undefined : readLength(text);
}

/**
 * One geometry property in user units: `fallback` where it is not written, `auto` or invalid (which is told), NaN
 * where it can't be worked out (which is told as an error; the element is left out then).
 */
export function userLength<T extends number | undefined>(
  context: ReadContext,
  node: XmlNode,
  style: Style,
  frame: Frame,
  name: string,
  axis: LengthAxis,
  fallback: T,
): number | T {
  const text = node.attributes[name];
  if (style.declared[name as Property] === undefined) {
    if (text === undefined) return fallback;
    // Nearly every length is a bare number.
    const plain = plainNumber(text);
    if (!Number.isNaN(plain)) return plain;
  }
  const written = writtenLength(node, style, name);
  if (written === undefined || written === 'auto') return fallback;
  if (typeof written === 'string') {
    const declared = style.declared[name as Property];
    const told = shorten(declared?.kind === 'unsupported' ? declared.text : (text ?? ''));
    const unsupported = written === 'unsupported';
    context.log.tell(
      {
        code: unsupported ? 'length-unsupported' : 'length-unreadable',
        severity: unsupported ? 'error' : 'warning',
        message: unsupported
          ? `The ${name} of a ${node.name} is “${told}”, which can’t be worked out here; the ${node.name} is left out.`
          : `The ${name} of a ${node.name} is “${told}”, which is not a length; it is ignored, as browsers do.`,
        remedy: 'Write it as a plain number with a unit, or save the drawing as plain SVG.',
      },
      node.offset,
    );
    return unsupported ? Number.NaN : fallback;
  }
  const value = toUserUnits(written, axis, lengthsOf(context, frame, style));
  if (Number.isNaN(value)) {
    context.log.tell(
      {
        code: 'percent-of-unknown',
        severity: 'error',
        message: `The ${name} of a ${node.name} is a percentage, but the drawing has no size of its own; the ${node.name} is left out.`,
        remedy: 'Give the drawing a width and height in mm, or a viewBox.',
      },
      node.offset,
    );
  }
  return value;
}

/** A length that must not be negative: told, and taken as `fallback`. */
export function positiveLength<T extends number | undefined>(
  context: ReadContext,
  node: XmlNode,
  style: Style,
  frame: Frame,
  name: string,
  axis: LengthAxis,
  fallback: T,
): number | T {
  const value = userLength(context, node, style, frame, name, axis, fallback);
  if (value !== undefined && value < 0) {
    context.log.tell(
      {
        code: 'length-negative',
        severity: 'warning',
        message: `The ${name} of a ${node.name} is negative, which is an error in SVG; it is ignored, as browsers do.`,
        remedy: 'Mend it in your drawing program.',
      },
      node.offset,
    );
    return fallback;
  }
  return value;
}

/**
 * The outline of a shape in its own user units; empty when it draws nothing.
 * @param arcTolerance how far cubics may lie from arcs, in user units
 */
export function shapeOutline(
  context: ReadContext,
  node: XmlNode,
  style: Style,
  frame: Frame,
  arcTolerance: number,
): readonly Subpath[] {
  const at = (name: string, axis: LengthAxis): number =>
    userLength(context, node, style, frame, name, axis, 0);
  const extent = (name: string, axis: LengthAxis): number =>
    positiveLength(context, node, style, frame, name, axis, 0);
  const radius = (name: string, axis: LengthAxis): number | undefined =>
    positiveLength(context, node, style, frame, name, axis, undefined);
  switch (node.name) {
    case 'path':
      return pathOutline(context, node, style, arcTolerance);
    case 'rect': {
      const [x, y, width, height] = [at('x', 'x'), at('y', 'y'), extent('width', 'x'), extent('height', 'y')];
      const [rx, ry] = [radius('rx', 'x'), radius('ry', 'y')];
      if (!(width > 0 && height > 0) || Number.isNaN(x + y + (rx ?? 0) + (ry ?? 0))) return [];
      return rectangle(x, y, width, height, rx, ry, arcTolerance);
    }
    case 'circle': {
      const [cx, cy, r] = [at('cx', 'x'), at('cy', 'y'), extent('r', 'both')];
      return r > 0 && !Number.isNaN(cx + cy) ? ellipse(cx, cy, r, r, arcTolerance) : [];
    }
    case 'ellipse': {
      const [cx, cy] = [at('cx', 'x'), at('cy', 'y')];
      const [rx, ry] = [radius('rx', 'x'), radius('ry', 'y')];
      const a = rx ?? ry ?? 0;
      const b = ry ?? rx ?? 0;
      return a > 0 && b > 0 && !Number.isNaN(cx + cy) ? ellipse(cx, cy, a, b, arcTolerance) : [];
    }
    case 'line': {
      const [x1, y1, x2, y2] = [at('x1', 'x'), at('y1', 'y'), at('x2', 'x'), at('y2', 'y')];
      return Number.isNaN(x1 + y1 + x2 + y2) ? [] : straightLine(x1, y1, x2, y2);
    }
    case 'polyline':
    case 'polygon': {
      const text = node.attributes.points ?? '';
      const { subpaths, badAt } = readPoints(text, node.name === 'polygon');
      if (badAt >= 0) tellBadData(context, node, 'points', text, badAt);
      return subpaths;
    }
    default:
      return [];
  }
}

function pathOutline(
  context: ReadContext,
  node: XmlNode,
  style: Style,
  arcTolerance: number,
): readonly Subpath[] {
  let text = node.attributes.d ?? '';
  const declared = style.declared.d;
  if (declared?.kind === 'word') {
    const css = /^path\(\s*(?:(?:nonzero|evenodd)\s*,\s*)?(["'])([\s\S]*)\1\s*\)$/.exec(declared.word);
    text = css ? css[2]! : '';
  }
  if (/^\s*none\s*$/.test(text)) return [];
  const { subpaths, badAt } = readPathData(text, arcTolerance);
  if (badAt >= 0) tellBadData(context, node, 'd', text, badAt);
  return subpaths;
}

function tellBadData(context: ReadContext, node: XmlNode, name: string, text: string, badAt: number): void {
  const met = badAt < text.length ? `“${shorten(text.slice(badAt, badAt + 12))}”` : 'their end';
  const named = node.attributes.id ? `${node.name} “${shorten(node.attributes.id)}”` : node.name;
  context.log.tell(
    {
      code: name === 'd' ? 'path-data-bad' : 'points-bad',
      severity: 'warning',
      message: `The ${name === 'd' ? 'path data' : 'points'} of a ${named} can’t be read from character ${badAt + 1} on (at ${met}); the part before is kept.`,
      remedy: 'Check the end of that line on the drawing, and redraw it if a stretch is missing.',
    },
    node.offset,
  );
}

/** The element's own transform: the CSS property, else the attribute. */
export function ownTransform(context: ReadContext, node: XmlNode, style: Style, frame: Frame): Matrix {
  const { declared } = style;
  const attribute = node.attributes.transform;
  const css = declared.transform;
  if (declared.rotate ?? declared.scale ?? declared.translate) {
    context.log.count('transform-skipped', node.offset, 'rotate, scale or translate');
  }
  if (attribute === undefined && css === undefined) return identity;
  const lengths = lengthsOf(context, frame, style);
  let matrix: Matrix | undefined;
  if (css?.kind === 'word') {
    matrix = readTransform(css.word, (value, unit, axis) => {
      const read = readLength(`${value}${unit}`);
      return typeof read === 'string' ? undefined : toUserUnits(read, axis, lengths);
    });
  } else if (css) {
    matrix = css.kind === 'wide' ? identity : undefined;
  } else {
    matrix = readTransform(attribute!);
  }
  if (!matrix) {
    const text = css ? (css.kind === 'word' ? css.word : css.kind) : attribute!;
    context.log.count('transform-skipped', node.offset, text);
    return identity;
  }
  const origin = declared['transform-origin'];
  if (origin?.kind !== 'word') return matrix;
  const point = transformOrigin(origin.word, frame, lengths);
  const box = declared['transform-box'];
  if (!point || (box?.kind === 'word' && box.word !== 'view-box')) {
    context.log.count('transform-skipped', node.offset, `transform-origin: ${origin.word}`);
    return matrix;
  }
  const [x, y] = point;
  return compose(translation(x, y), compose(matrix, translation(-x, -y)));
}

const originWords: Readonly<Record<string, string>> = {
  left: '0%',
  top: '0%',
  center: '50%',
  right: '100%',
  bottom: '100%',
};

/** `transform-origin` in user units, relative to the nearest viewport (CSS Transforms 1, sections 6 and 7). */
function transformOrigin(text: string, frame: Frame, lengths: LengthContext): [number, number] | undefined {
  let words = text.trim().toLowerCase().split(/\s+/);
  if (words.length > 2) return undefined;
  if (words.length === 1)
    words = /^(?:top|bottom)$/.test(words[0]!) ? ['center', words[0]!] : [words[0]!, 'center'];
  else if (/^(?:top|bottom)$/.test(words[0]!) || /^(?:left|right)$/.test(words[1]!)) words.reverse();
  const [x, y] = words.map((w, i) => {
    const read = readLength(originWords[w] ?? w);
    return typeof read === 'string' ? Number.NaN : toUserUnits(read, i === 0 ? 'x' : 'y', lengths);
  }) as [number, number];
  return Number.isFinite(x + y) && Number.isFinite(frame.viewport.width) ? [x, y] : undefined;
}

/** A viewBox with its findings told; undefined when there is none or a wrong one, `disabled` when it has no size. */
export function toldViewBox(context: Pick<ReadContext, 'log'>, node: XmlNode) {
  const read = readViewBox(node.attributes.viewBox);
  if (read === 'none') return undefined;
  if (read === 'invalid') {
    context.log.tell(
      {
        code: 'viewbox-bad',
        severity: 'error',
        message: `The viewBox “${shorten(node.attributes.viewBox!)}” is not four numbers with a width and height above 0; it is ignored, as browsers do.`,
        remedy: 'Mend the viewBox in your drawing program: without it the size may be wrong.',
      },
      node.offset,
    );
    return undefined;
  }
  if (read === 'disabled') {
    context.log.tell(
      {
        code: 'viewbox-zero',
        severity: 'warning',
        message: 'A viewBox has no width or no height, which means that nothing inside it is drawn.',
        remedy: 'Mend the viewBox in your drawing program.',
      },
      node.offset,
    );
  }
  return read;
}
