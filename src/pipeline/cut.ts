import type { FoldedBends } from '../foam';
import type { Fit, Pattern, Seams, Shell, ShellDecisions } from '../model';
import { bendsAt } from '../shell';

/** What the foam is made from: flat pieces, the factor on their lengths, and what the folded shell says of bends. */
export interface Cut {
  readonly pattern: Pattern;
  readonly scale: number;
  readonly bends: FoldedBends | null;
}

/**
 * The pattern as it is cut: as drawn and scaled, or the pieces of the reshaped shell, which are at their final size and
 * have that shell's bends. Bends of a doubtful shell are taken only on the person's word.
 */
export function cutOf(
  pattern: Pattern,
  seams: Seams,
  shell: Shell | null,
  fit: Fit,
  { trustDoubtful }: Pick<ShellDecisions, 'trustDoubtful'>,
): Cut {
  const reshaped = fit.reshaped;
  const flat = { pattern: reshaped ?? pattern, scale: reshaped ? 1 : fit.scale };
  if (!shell) return { ...flat, bends: null };
  const bends =
    reshaped && fit.shell ? bendsAt(pattern, seams, shell, fit.shell.surfaces.paper) : shell.bends;
  return { ...flat, bends: { bends, taken: shell.quality === 'good' || trustDoubtful } };
}
