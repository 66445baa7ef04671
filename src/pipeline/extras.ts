/** Extra parts on the shell of a run. */
import { makeExtras } from '../extras';
import type { Decisions, FoamResult, Recut } from '../model';
import type { Cut } from './cut';

/** The panels with the parts beside them; `given` itself where there are none. */
export function withExtras(
  given: FoamResult,
  { seams }: Recut,
  { surface }: Cut,
  { extras, foam }: Pick<Decisions, 'extras' | 'foam'>,
): FoamResult {
  return makeExtras(given, extras, surface ? { ...surface, seams } : null, foam);
}
