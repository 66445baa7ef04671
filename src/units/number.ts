/**
 * Numbers as makers write them: decimal point or decimal comma, whole and mixed fractions ("7/8", "22 7/8", "22-7/8",
 * "7⅜"). No sign, no exponent. Shared by lengths, angles and hat sizes.
 */

/** What a reading of typed text gives: the value in the units of the core, or one sentence that says what is wrong. */
export type ParsedQuantity<T> =
  | { readonly ok: true; readonly value: T }
  | { readonly ok: false; readonly reason: string };

const fractionGlyphs: Readonly<Record<string, string>> = {
  '¼': '1/4',
  '½': '1/2',
  '¾': '3/4',
  '⅛': '1/8',
  '⅜': '3/8',
  '⅝': '5/8',
  '⅞': '7/8',
  '⅓': '1/3',
  '⅔': '2/3',
};

/** Lower case, one kind of space, minus, prime and slash, fraction characters written out. */
export function tidyQuantityText(text: string): string {
  return text
    .replace(/[¼½¾⅛⅜⅝⅞⅓⅔]/g, (glyph) => ` ${fractionGlyphs[glyph]}`)
    .replace(/\u2044/g, '/')
    .replace(/\u2212/g, '-')
    .replace(/[\u2032\u2019\u2018]/g, "'")
    .replace(/[\u2033\u201c\u201d]/g, '"')
    .replace(/''/g, '"')
    .replace(/[\s\u00a0\u202f]+/g, ' ')
    .trim()
    .toLowerCase();
}

/** A number without sign, as described at the top of this file. Text must be tidy (see {@link tidyQuantityText}). */
export function parseNumber(text: string): ParsedQuantity<number> {
  const tidy = text.trim();
  const mixed = /^(?:(\d+)[ -])?(\d+) ?\/ ?(\d+)$/.exec(tidy);
  if (mixed) {
    const below = Number(mixed[3]);
    if (below === 0) return { ok: false, reason: `"${tidy}" divides by zero.` };
    return { ok: true, value: Number(mixed[1] ?? 0) + Number(mixed[2]) / below };
  }
  if (/^\d+[.,]\d+[.,]/.test(tidy))
    return { ok: false, reason: `"${tidy}" has two separators: write it without a thousands separator.` };
  if (/^[1-9]\d{0,2},\d{3}$/.test(tidy)) {
    const whole = tidy.replace(',', '');
    return {
      ok: false,
      reason: `"${tidy}" can be read in two ways: write ${whole} or ${tidy.replace(',', '.')}.`,
    };
  }
  if (!/^(\d+([.,]\d*)?|[.,]\d+)$/.test(tidy)) return { ok: false, reason: `"${tidy}" is not a number.` };
  return { ok: true, value: Number(tidy.replace(',', '.')) };
}
