/** Reads a head girth, catching the commonest slip: 58 typed where mm are shown, or 580 where inches are. Pure. */
import { type HatSystem, type ParsedQuantity, parseHead } from '../../../src/units';
import type { ShownUnit } from '../../ui/fields';

/** No head that wears a helmet, however small or large, is outside these; between them any value is taken. */
const leastHead = 100;
const mostHead = 1500;

export function readHead(
  text: string,
  enteredAs: 'tape' | HatSystem,
  unit: ShownUnit,
): ParsedQuantity<number> {
  const read = parseHead(text, enteredAs, unit);
  if (!read.ok) return read;
  if (read.value >= leastHead && read.value <= mostHead) return read;
  if (enteredAs !== 'tape') return { ok: false, reason: `“${text.trim()}” is no hat size of a head.` };
  const bare = /^[\d.,\s/]+$/.test(text.trim());
  const number = text.trim();
  if (bare && read.value < leastHead)
    return {
      ok: false,
      reason: `${number} ${unit} is too small for a head. With its unit, like ${number} cm?`,
    };
  if (bare && unit === 'in')
    return { ok: false, reason: `${number} in is too large for a head. With its unit, like ${number} mm?` };
  return { ok: false, reason: 'A head girth lies between 10 and 150 cm.' };
}
