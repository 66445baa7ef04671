import type { Mm } from './flavour';
import { formatFraction, type LengthUnit, mmPerUnit, parseLength } from './length';
import { type ParsedQuantity, parseNumber, tidyQuantityText } from './number';

/**
 * Hat sizes. EU: the head girth in cm. US: the head girth in inches divided by π, to the nearest eighth (several
 * public conversion pages agree). The cm is taken as the truth.
 */
export type HatSystem = 'eu' | 'us';

/** Why there is no UK entry. */
export const ukHatNote =
  'UK hat sizes are not offered: published tables disagree (some run one eighth below the US size, some equal it). Use the girth in cm.';

/** The head girth that a US size stands for, mm. */
export const headOfUsSize = (size: number): Mm => size * Math.PI * mmPerUnit.in;

/** The US size of a head girth as a number, rounded to the nearest eighth: 580 mm gives 7.25. */
export const usSizeOfHead = (head: Mm): number => Math.round((head / mmPerUnit.in / Math.PI) * 8) / 8;

/** The US size of a head girth as it stands on a label: "7 1/4". */
export const formatUsSize = (head: Mm): string => formatFraction(usSizeOfHead(head), 8);

/** The EU size of a head girth, to half a cm: "58", "58.5". */
export const formatEuSize = (head: Mm): string => String(Math.round((head / 10) * 2) / 2);

/**
 * Reads a hat size: EU `58` or `58 cm`; US `7 3/8`, `7⅜`, `7-3/8`, `7.375`.
 * @returns the head girth in mm, or the reason why the text is no size.
 */
export function parseHatSize(text: string, system: HatSystem): ParsedQuantity<Mm> {
  if (system === 'eu') return parseLength(text, 'cm');
  const number = parseNumber(tidyQuantityText(text));
  if (!number.ok)
    return { ok: false, reason: `"${text.trim()}" is not a US hat size: write it like 7 3/8 or 7.375.` };
  if (number.value === 0) return { ok: false, reason: 'A hat size cannot be zero.' };
  return { ok: true, value: headOfUsSize(number.value) };
}

/** Reads the head girth as the person chose to enter it: by tape (with a unit or in `fallbackUnit`) or as a hat size. */
export function parseHead(
  text: string,
  enteredAs: 'tape' | HatSystem,
  fallbackUnit: LengthUnit,
): ParsedQuantity<Mm> {
  return enteredAs === 'tape' ? parseLength(text, fallbackUnit) : parseHatSize(text, enteredAs);
}

/** The head girth as a field shows it, the inverse of {@link parseHead}: tape in the unit, EU in cm, US in eighths. */
export function formatHatSize(head: Mm, system: HatSystem): string {
  return system === 'eu' ? formatEuSize(head) : formatUsSize(head);
}
