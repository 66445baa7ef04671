import type { Mm } from './flavour';
import { type ParsedQuantity, parseNumber, tidyQuantityText } from './number';

/** Units that a length can be typed in. */
export type LengthUnit = 'mm' | 'cm' | 'm' | 'in' | 'ft' | 'pt';

/** Millimetres in one of each unit. 1 in = 25.4 mm and 1 pt = 1/72 in (CSS Values and Units 4, section 5.2). */
export const mmPerUnit: Readonly<Record<LengthUnit, Mm>> = {
  mm: 1,
  cm: 10,
  m: 1000,
  in: 25.4,
  ft: 304.8,
  pt: 25.4 / 72,
};

const unitWords: Readonly<Record<string, LengthUnit>> = {
  mm: 'mm',
  millimetre: 'mm',
  millimetres: 'mm',
  millimeter: 'mm',
  millimeters: 'mm',
  cm: 'cm',
  centimetre: 'cm',
  centimetres: 'cm',
  centimeter: 'cm',
  centimeters: 'cm',
  m: 'm',
  metre: 'm',
  metres: 'm',
  meter: 'm',
  meters: 'm',
  in: 'in',
  inch: 'in',
  inches: 'in',
  '"': 'in',
  ft: 'ft',
  foot: 'ft',
  feet: 'ft',
  "'": 'ft',
  pt: 'pt',
  point: 'pt',
  points: 'pt',
};

/** Longer than any drawing, sheet or body: such a number is a slip of the keyboard. */
const longestLength: Mm = 1_000_000;

const refuse = (reason: string): { readonly ok: false; readonly reason: string } => ({ ok: false, reason });

/**
 * Reads a length as a person types it: `58cm`, `58 cm`, `22 7/8 in`, `1'2"`, `1 ft 2 1/2 in`, `58,5 cm`, `5`.
 * A number without a unit is in `fallbackUnit`. Pixels and percent are refused: they are no real length. So are
 * negative lengths and texts that can be read in two ways (`1,250`).
 * @returns mm, or one sentence that says what is wrong.
 */
export function parseLength(text: string, fallbackUnit: LengthUnit): ParsedQuantity<Mm> {
  const tidy = tidyQuantityText(text);
  if (tidy === '') return refuse('Nothing was typed.');
  if (tidy.startsWith('-')) return refuse('A length cannot be negative.');
  const terms = [...tidy.matchAll(/([\d.,/ -]*[\d.,])\s*([a-zµ%]+|["'])?\s*/gy)];
  const read = terms.reduce((n, term) => n + term[0].length, 0);
  if (terms.length === 0 || read !== tidy.length) return refuse(notALength(text));

  let sum = 0;
  let previous: LengthUnit | null = null;
  for (const term of terms) {
    const number = parseNumber(term[1] ?? '');
    if (!number.ok) return refuse(number.reason);
    const unit = unitOfTerm(term[2], previous, fallbackUnit);
    if (!unit.ok) return refuse(unit.reason);
    if (previous !== null && mmPerUnit[unit.value] >= mmPerUnit[previous]) return refuse(notALength(text));
    sum += number.value * mmPerUnit[unit.value];
    previous = unit.value;
  }
  if (sum > longestLength) return refuse(`"${text.trim()}" is longer than a kilometre.`);
  return { ok: true, value: sum };
}

/** The unit of one "number unit" term; `5'2` means 5 ft 2 in, other second terms need their unit. */
function unitOfTerm(
  word: string | undefined,
  previous: LengthUnit | null,
  fallbackUnit: LengthUnit,
): ParsedQuantity<LengthUnit> {
  if (word === undefined) {
    if (previous === null) return { ok: true, value: fallbackUnit };
    if (previous === 'ft') return { ok: true, value: 'in' };
    return refuse('The second number has no unit.');
  }
  if (word === 'px' || word === '%' || word === 'em' || word === 'rem')
    return refuse(`"${word}" is not a real length: use mm, cm, in, ft or pt.`);
  const unit = unitWords[word];
  if (unit === undefined)
    return refuse(`"${word}" is not a unit of length here: use mm, cm, m, in, ft or pt.`);
  return { ok: true, value: unit };
}

const notALength = (text: string) =>
  `"${text.trim()}" is not a length: write it like 580 mm, 58 cm or 22 7/8 in.`;

/** How {@link formatLength} rounds. */
export interface LengthFormat {
  /** Decimals at most; default 1 for mm, 2 for inches. Trailing zeros are left out. */
  readonly decimals?: number;
  /** Inches as a mixed fraction with this power of two below, e.g. 16; "22 13/16 in". */
  readonly fractionsOf?: 2 | 4 | 8 | 16 | 32 | 64;
  /** Leave the unit out, e.g. for a field that shows it beside. */
  readonly bare?: boolean;
}

/** A length for people: "580 mm", "4.5 mm", "22.83 in", "22 13/16 in". */
export function formatLength(length: Mm, unit: 'mm' | 'in', format: LengthFormat = {}): string {
  const tail = format.bare ? '' : ` ${unit}`;
  const value = length / mmPerUnit[unit];
  if (unit === 'in' && format.fractionsOf !== undefined)
    return `${formatFraction(value, format.fractionsOf)}${tail}`;
  const power = 10 ** (format.decimals ?? (unit === 'mm' ? 1 : 2));
  const rounded = Math.round(Math.abs(value) * power) / power;
  return `${value < 0 && rounded !== 0 ? '−' : ''}${rounded}${tail}`;
}

/** A number as a mixed fraction in lowest terms: 7.375 of 8 gives "7 3/8". */
export function formatFraction(value: number, of: number): string {
  const parts = Math.round(Math.abs(value) * of);
  const sign = value < 0 && parts !== 0 ? '−' : '';
  const whole = Math.floor(parts / of);
  let above = parts % of;
  let below = of;
  while (above !== 0 && above % 2 === 0 && below % 2 === 0) {
    above /= 2;
    below /= 2;
  }
  if (above === 0) return `${sign}${whole}`;
  return `${sign}${whole === 0 ? '' : `${whole} `}${above}/${below}`;
}
