/** Extra parts on the shell of a run. */
import { makeExtras } from '../extras';
import type { Decisions, Fit, FoamResult, Pattern, Recut } from '../model';
import type { Cut } from './cut';

/** What the parts are made from. */
interface Made {
  /** As drawn. */
  readonly pattern: Pattern;
  readonly recut: Recut;
  readonly cut: Cut;
  readonly fit: Fit;
}

/** The panels with the parts beside them; `given` itself where there are none. */
export function withExtras(
  given: FoamResult,
  { pattern, recut: { seams, laid }, cut: { surface }, fit }: Made,
  { extras, foam }: Pick<Decisions, 'extras' | 'foam'>,
): FoamResult {
  const brow = fit.shell?.insideBrow.plane ?? null;
  return makeExtras(given, extras, surface ? { ...surface, seams, drawn: pattern, laid, brow } : null, foam);
}
