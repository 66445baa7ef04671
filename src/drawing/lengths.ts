/**
 * Lengths as SVG and CSS write them, turned into user units (px) of the place where they stand.
 * Sources: CSS Values and Units 4, sections 5 and 6 (units; `ex` taken as 0.5 em where the font is not known, as its
 * section 6.1.1 allows); SVG 2, section 8.9 (what percentages refer to).
 */
import { cssUnits } from '../units';

/** `auto` is written, nothing is written, or it is a number with a unit ('' for none). */
export interface WrittenLength {
  readonly value: number;
  /** Lower case: '' (user units), '%', 'em', 'ex', 'rem', or an absolute unit. */
  readonly unit: string;
}

/** `unsupported`: may well be right, but can't be worked out here (calc(), viewport units). */
export type LengthText = WrittenLength | 'auto' | 'invalid' | 'unsupported';

const lengthPattern = /^\s*([+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?)([a-zA-Z]+|%)?\s*$/;
const unsupportedUnits = new Set(['vw', 'vh', 'vmin', 'vmax', 'vi', 'vb', 'ch', 'ic', 'lh', 'rlh', 'cap']);

/** Millimetres in one CSS pixel. */
export const mmPerPx = cssUnits.px;

/** CSS pixels in one of an absolute unit; undefined for other units. */
export function pxPerUnit(unit: string): number | undefined {
  if (unit === '' || unit === 'px') return 1;
  return Object.hasOwn(cssUnits, unit) ? cssUnits[unit as keyof typeof cssUnits] / mmPerPx : undefined;
}

/** True for units that state a real size on paper; px and bare numbers do not. */
export const isPhysical = (unit: string): boolean =>
  unit !== '' && unit !== 'px' && pxPerUnit(unit) !== undefined;

/** Reads one length; units are case-insensitive. */
export function readLength(text: string): LengthText {
  const match = lengthPattern.exec(text);
  if (match) {
    const value = Number(match[1]);
    const unit = match[2] === undefined ? '' : match[2].toLowerCase();
    if (!Number.isFinite(value)) return 'invalid';
    if (unit === '' || unit === '%' || unit === 'em' || unit === 'ex' || unit === 'rem')
      return { value, unit };
    if (pxPerUnit(unit) !== undefined) return { value, unit };
    return unsupportedUnits.has(unit) ? 'unsupported' : 'invalid';
  }
  if (text.trim().toLowerCase() === 'auto') return 'auto';
  return /\b(?:calc|min|max|clamp|var|env)\s*\(/i.test(text) ? 'unsupported' : 'invalid';
}

/** What relative lengths refer to. */
export interface LengthContext {
  /** Size of the nearest viewport in its own user units. */
  readonly viewportWidth: number;
  readonly viewportHeight: number;
  readonly fontSize: number;
  readonly rootFontSize: number;
}

/** Along what a percentage is measured: width, height, or their root mean square. */
export type LengthAxis = 'x' | 'y' | 'both';

/** A length in user units. */
export function toUserUnits(length: WrittenLength, axis: LengthAxis, context: LengthContext): number {
  const { value, unit } = length;
  switch (unit) {
    case '':
      return value;
    case '%':
      return (value / 100) * percentBase(axis, context);
    case 'em':
      return value * context.fontSize;
    case 'ex':
      return value * 0.5 * context.fontSize;
    case 'rem':
      return value * context.rootFontSize;
    default:
      return value * (pxPerUnit(unit) ?? Number.NaN);
  }
}

/** 100 %, in user units (SVG 2, section 8.9: the diagonal is √((w² + h²) / 2)). */
export function percentBase(
  axis: LengthAxis,
  { viewportWidth: w, viewportHeight: h }: LengthContext,
): number {
  if (axis === 'x') return w;
  return axis === 'y' ? h : Math.sqrt((w * w + h * h) / 2);
}
