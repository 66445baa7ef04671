import type { Mm } from '../units';
import { sameWithin, sameWithinPart, unequalBeyond, unequalBeyondPart } from './tolerance';

/** True when two mating lengths differ so much that the maker should look. */
export function areUnequal(a: Mm, b: Mm): boolean {
  const difference = Math.abs(a - b);
  return difference > unequalBeyond && difference > unequalBeyondPart * Math.max(a, b);
}

/** True when two lengths are the same as far as drawings are exact. */
export function areSame(a: Mm, b: Mm): boolean {
  return Math.abs(a - b) <= sameWithin + sameWithinPart * Math.max(a, b);
}
