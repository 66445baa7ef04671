/**
 * Computed styles: what an element inherits and what is declared for it, put together. Lengths that depend on the
 * font are user units from here on; percentages stay, since they refer to the viewport of the element that uses them.
 * Sources: CSS Cascade 4, section 7 (inheritance); initial values and what is inherited: SVG 2, property tables of
 * chapters 6, 11 and 13; font size words: CSS Fonts 4, section 2.5.
 */
import type { Declared } from './cascade';
import { black, type Colour } from './colours';
import type { IssueLog } from './issueLog';
import { type LengthContext, percentBase, toUserUnits, type WrittenLength } from './lengths';
import type { Paint, Property, StyleValue } from './styleValues';

/** A length in user units, or a part of the viewport's diagonal. */
export interface StrokeLength {
  readonly value: number;
  readonly percent: boolean;
}

export interface Style {
  // Inherited.
  readonly color: Colour;
  readonly fill: Paint;
  readonly stroke: Paint;
  readonly fillOpacity: number;
  readonly strokeOpacity: number;
  readonly strokeWidth: StrokeLength;
  readonly dash: readonly StrokeLength[];
  readonly fontSize: number;
  readonly anchor: 'start' | 'middle' | 'end';
  readonly baseline: string;
  readonly vertical: boolean;
  readonly preserveSpace: boolean;
  readonly visible: boolean;
  readonly markers: { readonly start: boolean; readonly mid: boolean; readonly end: boolean };
  // Not inherited.
  readonly displayed: boolean;
  readonly opacity: number;
  readonly widthStays: boolean;
  readonly declared: Declared;
}

/** The initial values (SVG 2; the font size `medium` is 16 px in every browser, from memory). */
export const initialStyle: Style = {
  color: black,
  fill: { kind: 'colour', colour: black, approximated: false },
  stroke: { kind: 'none' },
  fillOpacity: 1,
  strokeOpacity: 1,
  strokeWidth: { value: 1, percent: false },
  dash: [],
  fontSize: 16,
  anchor: 'start',
  baseline: 'auto',
  vertical: false,
  preserveSpace: false,
  visible: true,
  markers: { start: false, mid: false, end: false },
  displayed: true,
  opacity: 1,
  widthStays: false,
  declared: {},
};

type Changing = { -readonly [K in keyof Style]: Style[K] };

const fontSizeWords: Readonly<Record<string, number>> = {
  'xx-small': 9,
  'x-small': 10,
  small: 13,
  medium: 16,
  large: 18,
  'x-large': 24,
  'xx-large': 32,
  'xxx-large': 48,
};
const fontStep = 1.2;

/**
 * The style of an element inside another.
 * @param rootFontSize what rem refers to, in user units
 * @param offset place of the element in the text, for findings
 */
export function computeStyle(
  parent: Style,
  declared: Declared,
  rootFontSize: number,
  log: IssueLog,
  offset: number,
): Style {
  const style: Changing = { ...parent, displayed: true, opacity: 1, widthStays: false, declared };
  // The font size first: other lengths may be written in em.
  const size = declared['font-size'];
  if (size) style.fontSize = fontSizeOf(size, parent, rootFontSize);
  const own = fontLengths(style.fontSize, rootFontSize);
  for (const name in declared) {
    const value = declared[name as Property]!;
    if (value.kind === 'unsupported') log.count('css-value-skipped', offset, `${name}: ${value.text}`);
    else if (value.kind === 'wide') applyWide(style, parent, name as Property, value.word);
    else apply(style, name as Property, value, own);
    if (value.kind === 'paint' && value.paint.kind === 'colour' && value.paint.approximated) {
      log.count('colour-approximated', offset);
    }
  }
  if (style.color === unresolved) style.color = parent.color;
  return style;
}

/** Font-relative lengths only: percentages never reach it. */
const fontLengths = (fontSize: number, rootFontSize: number): LengthContext => ({
  viewportWidth: Number.NaN,
  viewportHeight: Number.NaN,
  fontSize,
  rootFontSize,
});

/** Stands for `currentcolor` as a value of `color`, which means the inherited colour. */
const unresolved: Colour = { hex: '', alpha: 1 };

function apply(style: Changing, name: Property, value: StyleValue, context: LengthContext): void {
  switch (value.kind) {
    case 'paint':
      if (name === 'color') style.color = value.paint.kind === 'colour' ? value.paint.colour : unresolved;
      else if (name === 'fill') style.fill = value.paint;
      else if (name === 'stroke') style.stroke = value.paint;
      return;
    case 'number':
      if (name === 'opacity') style.opacity = value.value;
      else if (name === 'fill-opacity') style.fillOpacity = value.value;
      else if (name === 'stroke-opacity') style.strokeOpacity = value.value;
      return;
    case 'length':
      if (name === 'stroke-width' && value.length !== 'auto') {
        style.strokeWidth = strokeLength(value.length, context);
      }
      return;
    case 'lengths':
      if (name === 'stroke-dasharray') style.dash = value.lengths.map((l) => strokeLength(l, context));
      return;
    case 'word':
      applyWord(style, name, value.word);
  }
}

function applyWord(style: Changing, name: Property, word: string): void {
  switch (name) {
    case 'display':
      style.displayed = word !== 'none';
      return;
    case 'visibility':
      style.visible = word === 'visible';
      return;
    case 'text-anchor':
      style.anchor = word as Style['anchor'];
      return;
    case 'dominant-baseline':
      style.baseline = word.toLowerCase();
      return;
    case 'writing-mode':
      style.vertical = /^(?:vertical|tb)/i.test(word);
      return;
    case 'white-space':
      style.preserveSpace = /^(?:pre|pre-wrap|break-spaces)$/i.test(word);
      return;
    case 'vector-effect':
      style.widthStays = /\bnon-scaling-stroke\b/i.test(word);
      return;
    case 'marker-start':
      style.markers = { ...style.markers, start: word !== 'none' };
      return;
    case 'marker-mid':
      style.markers = { ...style.markers, mid: word !== 'none' };
      return;
    case 'marker-end':
      style.markers = { ...style.markers, end: word !== 'none' };
  }
}

/** Fields of the properties that are inherited; `unset` means `inherit` for these and `initial` for the rest. */
const inheritedFields: { readonly [P in Property]?: keyof Style } = {
  color: 'color',
  fill: 'fill',
  stroke: 'stroke',
  'fill-opacity': 'fillOpacity',
  'stroke-opacity': 'strokeOpacity',
  'stroke-width': 'strokeWidth',
  'stroke-dasharray': 'dash',
  'text-anchor': 'anchor',
  'dominant-baseline': 'baseline',
  'writing-mode': 'vertical',
  'white-space': 'preserveSpace',
  visibility: 'visible',
  'marker-start': 'markers',
  'marker-mid': 'markers',
  'marker-end': 'markers',
};
const ownFields: { readonly [P in Property]?: keyof Style } = {
  opacity: 'opacity',
  display: 'displayed',
  'vector-effect': 'widthStays',
};

function applyWide(
  style: Changing,
  parent: Style,
  name: Property,
  word: 'inherit' | 'initial' | 'unset',
): void {
  const inherited = inheritedFields[name];
  const field = inherited ?? ownFields[name];
  if (!field) return;
  const fromParent = word === 'inherit' || (word === 'unset' && inherited !== undefined);
  Object.assign(style, { [field]: (fromParent ? parent : initialStyle)[field] });
}

function strokeLength(length: WrittenLength, context: LengthContext): StrokeLength {
  if (length.unit === '%') return { value: length.value / 100, percent: true };
  return { value: toUserUnits(length, 'both', context), percent: false };
}

/** A stroke width or dash in user units. */
export function resolveStrokeLength(length: StrokeLength, context: LengthContext): number {
  return length.percent ? length.value * percentBase('both', context) : length.value;
}

function fontSizeOf(value: StyleValue, parent: Style, rootFontSize: number): number {
  switch (value.kind) {
    case 'length':
      if (value.length === 'auto') return parent.fontSize;
      if (value.length.unit === '%') return (value.length.value / 100) * parent.fontSize;
      return toUserUnits(value.length, 'both', fontLengths(parent.fontSize, rootFontSize));
    case 'word':
      if (value.word === 'larger') return parent.fontSize * fontStep;
      if (value.word === 'smaller') return parent.fontSize / fontStep;
      return fontSizeWords[value.word] ?? parent.fontSize;
    case 'wide':
      return value.word === 'initial' ? initialStyle.fontSize : parent.fontSize;
    default:
      return parent.fontSize;
  }
}
