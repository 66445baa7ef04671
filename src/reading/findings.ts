/** The findings of reading, worded once. Positions are in the pattern's space: mm, y up. */
import type { Issue, Severity } from '../base';
import type { Point } from '../math';
import type { Mm } from '../units';

/** At most this many findings of one kind stand alone; the rest is counted in one sentence. */
const mostAlone = 12;

export function finding(
  severity: Severity,
  code: string,
  message: string,
  remedy: string,
  at?: Point | null,
  ids: readonly string[] = [],
): Issue {
  return {
    code,
    severity,
    stage: 'reading',
    message,
    remedy,
    place: { ...(at ? { at: { x: at.x, y: at.y } } : {}), ...(ids.length > 0 ? { ids } : {}) },
  };
}

/** One finding for each item, the surplus in one. */
export function eachFinding<T>(
  items: readonly T[],
  make: (item: T) => Issue,
  rest: (count: number) => Issue,
): Issue[] {
  const out = items.slice(0, mostAlone).map(make);
  if (items.length > mostAlone) out.push(rest(items.length - mostAlone));
  return out;
}

/** "1 line", "3 lines". */
export const counted = (n: number, one: string, many = `${one}s`): string => `${n} ${n === 1 ? one : many}`;

/** Two digits are enough to find a gap with a ruler. */
export const shownMm = (v: Mm): string =>
  `${v < 0.1 ? v.toFixed(3) : v < 10 ? v.toFixed(2) : v.toFixed(1)} mm`;
