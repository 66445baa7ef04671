import { bendAngles } from './hinge';
import type { System } from './system';

/** How a folded surface stands: edges off their length, folds against their sign or shut. */

/**
 * A fold against its sign by more than this (rad) at prior weight .1 shows a snapped-in corner before rho can: the
 * kick comes first then, and the way on without it only where the kick gains nothing.
 */
const snapped = 5e-3;

/**
 * Then no fold is shut like this, rad: a seam sewn where none belongs can be closed by bent faces, but its corner is
 * pressed flat on itself then (160–180° at nine of nine such seams tried; no shell of the own family passes 99°).
 */
const shut = 2.6;

/**
 * A snapped-through spot puts its edges off 50–1400 times the median (own study), noise of a drawing on a rigid shell
 * about 4 times: only the first is for rho to show.
 */
const fewEdges = 20;

/** Whether a fold bends against its drawn sign so far that a corner must have snapped in. */
export function bendsAgainst({ hinges, signs }: System, x: Float64Array): boolean {
  return bendAngles(hinges, x).some((theta, h) => -signs[h]! * theta > snapped);
}

/** Whether some fold or seam is folded flat on itself. */
export function isShut({ hinges }: System, x: Float64Array): boolean {
  return bendAngles(hinges, x).some((theta) => Math.abs(theta) > shut);
}

/** Whether a few edges are off their length far more than the rest. */
export function isLocal({ pairA, pairB, rest, edgeRows }: System, x: Float64Array): boolean {
  const off = Float64Array.from({ length: edgeRows }, (_, k) => {
    const a = pairA[k]! * 3;
    const b = pairB[k]! * 3;
    return Math.abs(Math.hypot(x[a]! - x[b]!, x[a + 1]! - x[b + 1]!, x[a + 2]! - x[b + 2]!) - rest[k]!);
  }).sort();
  return off[off.length - 1]! > fewEdges * off[off.length >> 1]!;
}

/** How far edges are from their flat lengths, rms, mm. */
export function edgesOff({ pairA, pairB, rest, edgeRows }: System, x: Float64Array): number {
  let sum = 0;
  for (let k = 0; k < edgeRows; k++) {
    const a = pairA[k]! * 3;
    const b = pairB[k]! * 3;
    sum += (Math.hypot(x[a]! - x[b]!, x[a + 1]! - x[b + 1]!, x[a + 2]! - x[b + 2]!) - rest[k]!) ** 2;
  }
  return Math.sqrt(sum / Math.max(1, edgeRows));
}
