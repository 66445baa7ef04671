/** The one scale at which the inside of the finished shell has the girth wanted. */
import type { BrowSection, Shell } from '../model';
import { offsetVectors } from '../shell';
import type { Mm } from '../units';
import { browOn, evenScales, finishShell, type ShellDepths } from './finishedShell';
import { girthTolerance, mostScaleSteps } from './tolerance';

export interface SolvedScale {
  readonly scale: number;
  /** Inside girth less the girth wanted, as it came out. */
  readonly off: Mm;
  /** How often the section was measured. */
  readonly steps: number;
}

/**
 * Solves by secants from the formula's scale; where they leave the bracket found so far, it is halved. The girth grows
 * with the scale, since the foam's thickness does not.
 * @returns null when no scale gives the inside a section to measure
 */
export function solveScale(
  shell: Shell,
  brow: BrowSection,
  wanted: Mm,
  depths: ShellDepths,
): SolvedScale | null {
  const vectors = offsetVectors(shell);
  const girth = brow.tautGirth;
  const off = (scale: number): Mm | null => {
    const section = browOn(finishShell(shell, brow.plane, evenScales(scale), depths, vectors), 'inside');
    return section ? section.tautGirth - wanted : null;
  };
  let scale = (wanted + 2 * Math.PI * depths.inside) / girth;
  if (!(scale > 0) || !Number.isFinite(scale)) return null;
  let low = 0;
  let high = Number.POSITIVE_INFINITY;
  let before: { scale: number; off: Mm } | null = null;
  let best: { scale: number; off: Mm } | null = null;
  let steps = 0;
  while (steps < mostScaleSteps) {
    steps++;
    const now = off(scale);
    if (now === null) {
      // The foam fills the shell: too small.
      low = Math.max(low, scale);
      scale = high === Number.POSITIVE_INFINITY ? scale * 1.5 : (low + high) / 2;
      continue;
    }
    if (!best || Math.abs(now) < Math.abs(best.off)) best = { scale, off: now };
    if (Math.abs(now) <= girthTolerance) break;
    if (now < 0) low = Math.max(low, scale);
    else high = Math.min(high, scale);
    const slope: number =
      before && before.scale !== scale ? (now - before.off) / (scale - before.scale) : girth;
    before = { scale, off: now };
    let next: number = scale - now / slope;
    if (!(next > low && next < high))
      next = high === Number.POSITIVE_INFINITY ? scale * 1.5 : (low + high) / 2;
    scale = next;
  }
  return best ? { ...best, steps } : null;
}
