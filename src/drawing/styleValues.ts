/**
 * The properties that matter for a drawing, and how their values are read. A value that is not valid is no value at
 * all (the next weaker declaration counts, as in CSS); values that are valid CSS but can't be worked out here are
 * kept as `unsupported`, so that they can be told.
 * Sources: SVG 2, chapters 6 (styling), 11 (text) and 13 (painting); CSS Cascade 4 for the CSS-wide keywords.
 */
import { black, type Colour, readColour } from './colours';
import { pxPerUnit, readLength, type WrittenLength } from './lengths';
import { readTransform } from './transforms';

export type Paint =
  | { readonly kind: 'none' }
  | { readonly kind: 'colour'; readonly colour: Colour; readonly approximated: boolean }
  | { readonly kind: 'current' }
  /** A gradient or pattern by id, with what is painted when it is not there. */
  | { readonly kind: 'server'; readonly id: string; readonly fallback: Paint };

export type StyleValue =
  | { readonly kind: 'wide'; readonly word: 'inherit' | 'initial' | 'unset' }
  | { readonly kind: 'unsupported'; readonly text: string }
  | { readonly kind: 'paint'; readonly paint: Paint }
  | { readonly kind: 'number'; readonly value: number }
  | { readonly kind: 'length'; readonly length: WrittenLength | 'auto' }
  | { readonly kind: 'lengths'; readonly lengths: readonly WrittenLength[] }
  | { readonly kind: 'word'; readonly word: string };

type Reader = (text: string, css: boolean) => StyleValue | undefined;

const noPaint: Paint = { kind: 'none' };

function readPaint(text: string): Paint | undefined {
  const value = text.trim();
  if (value === 'none') return noPaint;
  if (value === 'context-fill' || value === 'context-stroke') return noPaint;
  const server = /^url\(\s*(["']?)(.*?)\1\s*\)\s*(.*)$/s.exec(value);
  if (server) {
    const fallback = server[3] === '' ? noPaint : readPaint(server[3]!);
    return fallback && { kind: 'server', id: server[2]!, fallback };
  }
  const colour = readColour(value);
  if (colour === 'invalid') return undefined;
  if (colour === 'currentcolor') return { kind: 'current' };
  if (colour === 'unsupported') return { kind: 'colour', colour: black, approximated: true };
  return { kind: 'colour', colour, approximated: false };
}

const paint: Reader = (text) => {
  const read = readPaint(text);
  return read && { kind: 'paint', paint: read };
};

const number: Reader = (text) => {
  const match = /^([+-]?(?:\d+\.?\d*|\.\d+)(?:e[+-]?\d+)?)(%)?$/i.exec(text.trim());
  if (!match) return undefined;
  const value = Number(match[1]) / (match[2] ? 100 : 1);
  return { kind: 'number', value: Math.min(1, Math.max(0, value)) };
};

/**
 * One length. In CSS a bare number other than 0 is no length, except where SVG allows it and for the geometry
 * properties, where Chromium takes it as px (the rules of CSS would not).
 */
const length =
  (rule: { negative: boolean; bareInCss: boolean; auto: boolean }): Reader =>
  (text, css) => {
    const read = readLength(text);
    if (read === 'unsupported') return { kind: 'unsupported', text };
    if (read === 'invalid') return undefined;
    if (read === 'auto') return rule.auto ? { kind: 'length', length: 'auto' } : undefined;
    if (!rule.negative && read.value < 0) return undefined;
    if (css && !rule.bareInCss && read.unit === '' && read.value !== 0) return undefined;
    return { kind: 'length', length: read };
  };

const position = length({ negative: true, bareInCss: true, auto: false });
const extent = length({ negative: false, bareInCss: true, auto: true });
const strokeWidth = length({ negative: false, bareInCss: true, auto: false });
const fontLength = length({ negative: false, bareInCss: false, auto: false });

const dashes: Reader = (text) => {
  const value = text.trim();
  if (value === 'none') return { kind: 'lengths', lengths: [] };
  const out: WrittenLength[] = [];
  for (const word of value.split(/\s*,\s*|\s+/)) {
    const read = readLength(word);
    if (read === 'unsupported') return { kind: 'unsupported', text };
    if (typeof read === 'string' || read.value < 0) return undefined;
    out.push(read);
  }
  return { kind: 'lengths', lengths: out };
};

const fontSizeWords: ReadonlySet<string> = new Set([
  'xx-small',
  'x-small',
  'small',
  'medium',
  'large',
  'x-large',
  'xx-large',
  'xxx-large',
  'smaller',
  'larger',
]);

const fontSize: Reader = (text, css) => {
  const word = text.trim().toLowerCase();
  return fontSizeWords.has(word) ? { kind: 'word', word } : fontLength(text, css);
};

/** Of the `font` shorthand only the size is of interest: the first length or size word, before any line height. */
const fontShorthand: Reader = (text) => {
  const match =
    /(?:^|\s)((?:\d+\.?\d*|\.\d+)(?:[a-z]+|%)|xx-small|x-small|small|medium|large|x-large|xx-large|smaller|larger)(?:\s*\/\s*\S+)?\s+\S/i.exec(
      text,
    );
  return match ? fontSize(match[1]!, true) : undefined;
};

const words =
  (...allowed: string[]): Reader =>
  (text) => {
    const word = text.trim().toLowerCase();
    return allowed.includes(word) ? { kind: 'word', word } : undefined;
  };

/** A transform is kept as text; its lengths need the element. What CSS has beyond the plane can't be drawn here. */
const transform: Reader = (text) => {
  if (
    readTransform(text, (value, unit) =>
      unit === '%' || pxPerUnit(unit) || isRelative(unit) ? value : undefined,
    )
  ) {
    return { kind: 'word', word: text.trim() };
  }
  return /\b(?:matrix3d|translate3d|translateZ|scale3d|scaleZ|rotate3d|rotate[XYZ]|perspective|calc)\s*\(/i.test(
    text,
  )
    ? { kind: 'unsupported', text }
    : undefined;
};
const isRelative = (unit: string): boolean => unit === 'em' || unit === 'ex' || unit === 'rem';

const anyWord: Reader = (text) => ({ kind: 'word', word: text.trim() });

const display: Reader = (text) => {
  const word = text.trim().toLowerCase();
  return /^[a-z-]+(?: [a-z-]+)*$/.test(word) ? { kind: 'word', word } : undefined;
};

const readers = {
  color: paint,
  fill: paint,
  stroke: paint,
  opacity: number,
  'fill-opacity': number,
  'stroke-opacity': number,
  'stroke-width': strokeWidth,
  'stroke-dasharray': dashes,
  'vector-effect': anyWord,
  display,
  visibility: words('visible', 'hidden', 'collapse'),
  'font-size': fontSize,
  'text-anchor': words('start', 'middle', 'end'),
  'dominant-baseline': anyWord,
  'writing-mode': anyWord,
  'white-space': anyWord,
  'clip-path': anyWord,
  mask: anyWord,
  filter: anyWord,
  'marker-start': anyWord,
  'marker-mid': anyWord,
  'marker-end': anyWord,
  'transform-origin': anyWord,
  'transform-box': anyWord,
} satisfies Record<string, Reader>;

/** Read from style sheets and `style` only: as attributes they are read with their element, or do not exist. */
const cssOnlyReaders = {
  transform,
  rotate: anyWord,
  scale: anyWord,
  translate: anyWord,
  font: fontShorthand,
  marker: anyWord,
  d: anyWord,
  x: position,
  y: position,
  cx: position,
  cy: position,
  r: extent,
  rx: extent,
  ry: extent,
  width: extent,
  height: extent,
} satisfies Record<string, Reader>;

export type AttributeProperty = keyof typeof readers;
export type Property = AttributeProperty | keyof typeof cssOnlyReaders;

const everyReader: Readonly<Record<Property, Reader>> = { ...readers, ...cssOnlyReaders };

const attributeProperties: ReadonlySet<string> = new Set(Object.keys(readers));
const properties: ReadonlySet<string> = new Set(Object.keys(everyReader));

export const isAttributeProperty = (name: string): name is AttributeProperty => attributeProperties.has(name);
export const isProperty = (name: string): name is Property => properties.has(name);

const wideWords: Readonly<Record<string, 'inherit' | 'initial' | 'unset'>> = {
  inherit: 'inherit',
  initial: 'initial',
  unset: 'unset',
  // No other origin or layer sets anything for lines, so these come to the same.
  revert: 'unset',
  'revert-layer': 'unset',
};

/**
 * Reads one value; undefined when it is not valid for the property.
 * @param css true for style sheets and `style`, false for a presentation attribute
 */
export function readStyleValue(name: Property, text: string, css: boolean): StyleValue | undefined {
  const wide = wideWords[text.trim().toLowerCase()];
  if (wide) return { kind: 'wide', word: wide };
  if (/\b(?:var|env)\s*\(/i.test(text)) return { kind: 'unsupported', text };
  return everyReader[name](text, css);
}
