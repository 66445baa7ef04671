/**
 * How likely it is that a seam ends at an opening: there the pieces make about half a turn, where the rim of an opening
 * runs on, and hardly ever a full one.
 */
import type { GluedOutlines } from './gluedOutlines';
import {
  leftUnclosed,
  slitAngle,
  smoothRim,
  smoothRimSpread,
  unclosedWeight,
  usualDefect,
} from './matchTolerance';
import type { CandidatePairs } from './mateCandidates';

/**
 * Weight of "nothing closes here" at the end [2·pair] and the start [2·pair + 1] of the lower edge of each pair.
 * @param share factor on all of them: the more is settled, the likelier what is left ends at openings
 */
export function openEndWeights(glued: GluedOutlines, pairs: CandidatePairs, share: number): Float64Array {
  const { half } = glued;
  const after = new Float64Array(half.count).fill(Number.NaN);
  const before = new Float64Array(half.count).fill(Number.NaN);
  const follower = new Int32Array(half.count).fill(-1);
  for (const loop of glued.openings())
    for (const { into, out, angle } of loop) {
      after[into] = angle;
      before[out] = angle;
      follower[into] = out;
    }
  const weight = (a: number, b: number): number => {
    // The two edges follow each other: gluing them closes this corner, or makes it a corner of one edge.
    if (follower[a] === b) return unclosedWeight;
    const angle = after[a]! + before[b]!;
    return Number.isNaN(angle) ? unclosedWeight : unclosedWeight * share * rimFactor(angle);
  };
  const out = new Float64Array(2 * pairs.low.length);
  for (let p = 0; p < pairs.low.length; p++) {
    const [a, b] = [pairs.low[p]!, pairs.high[p]!];
    out[2 * p] = weight(a, b);
    out[2 * p + 1] = weight(b, a);
  }
  return out;
}

/** How much likelier an angle is at the rim of an opening than elsewhere. */
export function rimFactor(angle: number): number {
  const floor = angle > slitAngle ? 0.03 : 0.3;
  return floor + smoothRim * Math.exp(-Math.abs(angle - Math.PI) / smoothRimSpread);
}

/** The same for an angle at which everything round a corner is glued: near a full turn, or hardly ever. */
export const closedFactor = (angle: number): number =>
  Math.max(1e-3, Math.exp(-Math.abs(angle - 2 * Math.PI) / usualDefect)) / (unclosedWeight * leftUnclosed);
