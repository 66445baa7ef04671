import type { FoamSurface, FoldedBends } from '../foam';
import { point3 } from '../math';
import type { Fit, Pattern, Seams, Shell, ShellDecisions } from '../model';
import { bendsAt } from '../shell';

/** What the foam is made from: flat pieces, the factor on their lengths, what the folded shell says of bends, and that
 *  shell at its final size where it is sound or trusted. */
export interface Cut {
  readonly pattern: Pattern;
  readonly scale: number;
  readonly bends: FoldedBends | null;
  readonly surface: FoamSurface | null;
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
  if (!shell) return { ...flat, bends: null, surface: null };
  const paper = fit.shell?.surfaces.paper;
  const bends = reshaped && paper ? bendsAt(pattern, seams, shell, paper) : shell.bends;
  const taken = shell.quality === 'good' || trustDoubtful;
  const { scale } = fit;
  const places = paper ?? shell.vertices.map((p) => point3(p.x * scale, p.y * scale, p.z * scale));
  return { ...flat, bends: { bends, taken }, surface: taken ? { pattern, shell, places } : null };
}
