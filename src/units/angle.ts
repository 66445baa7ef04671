import type { Rad } from './flavour';
import { type ParsedQuantity, parseNumber, tidyQuantityText } from './number';

/** Degrees to radians. */
export const radians = (degrees: number): Rad => (degrees * Math.PI) / 180;

/** Radians to degrees. */
export const degrees = (angle: Rad): number => (angle * 180) / Math.PI;

/** An angle for people: degrees to one decimal, "45°", "−12.5°". */
export function formatAngle(angle: Rad): string {
  const tenths = Math.round(degrees(angle) * 10);
  const text = String(Math.abs(tenths) / 10);
  return `${tenths < 0 ? '−' : ''}${text}°`;
}

/**
 * Reads an angle: "45", "45°", "-12,5 deg", "0.5 rad". Without a unit it is degrees.
 * @returns radians, or the reason why the text is no angle.
 */
export function parseAngle(text: string): ParsedQuantity<Rad> {
  const tidy = tidyQuantityText(text);
  if (tidy === '') return { ok: false, reason: 'Nothing was typed.' };
  const match = /^([+-]?)\s*(.*?)\s*(°|deg|degrees?|rad|radians?)?$/.exec(tidy);
  const number = parseNumber(match?.[2] ?? '');
  if (!match || !number.ok)
    return { ok: false, reason: `"${text.trim()}" is not an angle: write degrees, like 45 or -12.5°.` };
  const size = match[3]?.startsWith('rad') ? number.value : radians(number.value);
  return { ok: true, value: match[1] === '-' && size !== 0 ? -size : size };
}
