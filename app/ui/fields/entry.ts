/**
 * What a number field does between the keyboard and the document, free of React so that it can be tested alone:
 * reading typed text, checking the range, and stepping with the arrow keys. Values are in the units of the core (mm,
 * radians, plain ratios); texts are in the person's unit.
 */
import {
  degrees,
  formatLength,
  mmPerUnit,
  type ParsedQuantity,
  parseAngle,
  parseLength,
  parseNumber,
  radians,
  tidyQuantityText,
} from '../../../src/units';

/** Limits of a field, both ends allowed; in the units of the value. */
export interface Range {
  readonly min?: number;
  readonly max?: number;
}

export type ShownUnit = 'mm' | 'in';

/** A length as the field shows it beside its unit: "5", "22.83". Null shows nothing. */
export function lengthText(value: number | null, unit: ShownUnit, decimals?: number): string {
  if (value === null) return '';
  return formatLength(value, unit, { bare: true, ...(decimals === undefined ? {} : { decimals }) });
}

/**
 * Reads a typed length and checks its range.
 * @returns mm, or one sentence that says what is wrong and what would be right.
 */
export function readLength(text: string, unit: ShownUnit, range: Range = {}): ParsedQuantity<number> {
  const read = parseLength(text, unit);
  if (!read.ok) return read;
  return inRange(read.value, range, (v) => formatLength(v, unit));
}

/** Reads a typed angle in degrees, checks its range; radians. */
export function readAngle(text: string, range: Range = {}): ParsedQuantity<number> {
  const read = parseAngle(text);
  if (!read.ok) return read;
  return inRange(read.value, range, angleText);
}

/** An angle as a field shows it: degrees to a tenth, "−12.5". */
export function angleText(value: number | null): string {
  if (value === null) return '';
  const tenths = Math.round(degrees(value) * 10);
  return `${tenths < 0 ? '−' : ''}${Math.abs(tenths) / 10}`;
}

/** How a plain number is written: a ratio as it is, a percent times a hundred, or a whole count. */
export type NumberKind = 'ratio' | 'percent' | 'count';

/** Reads a plain number of the given kind, with an optional percent sign for a percent. */
export function readNumber(text: string, kind: NumberKind, range: Range = {}): ParsedQuantity<number> {
  let tidy = tidyQuantityText(text);
  if (tidy === '') return { ok: false, reason: 'Nothing was typed.' };
  if (kind === 'percent') tidy = tidy.replace(/ ?%$/, '');
  const read = parseNumber(tidy);
  if (!read.ok) return read;
  if (kind === 'count' && !Number.isInteger(read.value))
    return { ok: false, reason: `"${text.trim()}" is not a whole number.` };
  const value = kind === 'percent' ? read.value / 100 : read.value;
  return inRange(value, range, (v) => `${numberText(v, kind)}${kind === 'percent' ? ' %' : ''}`);
}

/** A plain number as a field shows it. */
export function numberText(value: number | null, kind: NumberKind): string {
  if (value === null) return '';
  if (kind === 'count') return String(Math.round(value));
  const shown = kind === 'percent' ? Math.round(value * 10000) / 100 : Math.round(value * 1000) / 1000;
  return `${shown < 0 ? '−' : ''}${Math.abs(shown)}`;
}

function inRange(value: number, range: Range, word: (v: number) => string): ParsedQuantity<number> {
  const { min, max } = range;
  if (min !== undefined && value < min && max !== undefined)
    return { ok: false, reason: `Too small: it goes from ${word(min)} to ${word(max)}.` };
  if (max !== undefined && value > max && min !== undefined)
    return { ok: false, reason: `Too large: it goes from ${word(min)} to ${word(max)}.` };
  if (min !== undefined && value < min)
    return { ok: false, reason: `Too small: ${word(min)} is the least here.` };
  if (max !== undefined && value > max)
    return { ok: false, reason: `Too large: ${word(max)} is the most here.` };
  return { ok: true, value };
}

/**
 * The next value for an arrow key: on to the next multiple of the step, ten steps with Shift, kept in range. Multiples
 * rather than sums, so that 5.3 goes to 6 and back to 5 and never gathers rounding dust.
 */
export function nextStep(
  value: number,
  direction: 1 | -1,
  step: number,
  large: boolean,
  range: Range = {},
): number {
  const size = large ? step * 10 : step;
  const ratio = value / size;
  const nearest = Math.round(ratio);
  // A value that is on a multiple but for rounding counts as on it.
  const onMultiple = Math.abs(ratio - nearest) < stepSlack;
  const count = onMultiple ? nearest + direction : direction > 0 ? Math.ceil(ratio) : Math.floor(ratio);
  const next = Number((count * size).toPrecision(significantDigits));
  return Math.min(
    range.max ?? Number.POSITIVE_INFINITY,
    Math.max(range.min ?? Number.NEGATIVE_INFINITY, next),
  );
}

/** Part of a step under which a value counts as a multiple of it; unit conversions leave about 1e-13. */
const stepSlack = 1e-6;
/** Digits kept of a stepped value: more than any field shows, fewer than rounding dust needs. */
const significantDigits = 12;

/** One step of a length field: 1 mm (or 0.5 mm where small), 1/16 in. */
export function lengthStep(unit: ShownUnit, fine: boolean): number {
  return unit === 'mm' ? (fine ? 0.5 : 1) : mmPerUnit.in / (fine ? 32 : 16);
}

/** One step of an angle field: one degree. */
export const angleStep = radians(1);
