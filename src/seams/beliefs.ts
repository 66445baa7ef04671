/**
 * How much each candidate pair is believed: from its lengths and from the corners that close at its two ends, each of
 * which counts as much as its other pairs are believed. Repeated for a fixed number of rounds, so that what is sure
 * spreads round corners and along runs (the idea of loopy belief propagation, kept to its simplest form).
 */
import type { ClosingCorners } from './closingCorners';
import type { HalfEdges } from './halfEdges';
import { beliefRounds, firstPower, unclosedWeight } from './matchTolerance';
import type { CandidatePairs } from './mateCandidates';

export interface Beliefs {
  /** From 0 to 1, by pair. */
  readonly belief: Float64Array;
  /** Support from corners that close at the end [2·pair] and the start [2·pair + 1] of the lower edge. */
  readonly support: Float64Array;
}

/**
 * @param unclosed weight of no corner closing at the end [2·pair] and the start [2·pair + 1] of the lower edge
 */
export function weighPairs(
  h: HalfEdges,
  pairs: CandidatePairs,
  weight: Float64Array,
  corners: ClosingCorners,
  usable: (pair: number) => boolean,
  settled: (pair: number) => boolean,
  unclosed: Float64Array,
): Beliefs {
  const n = pairs.low.length;
  const belief = new Float64Array(n);
  const support = new Float64Array(2 * n);
  // Once most edges have their mates, few pairs are left that could be: only those are gone through.
  const live: number[] = [];
  const held = new Uint8Array(n);
  const isLive = new Uint8Array(n);
  for (let p = 0; p < n; p++) {
    if (settled(p)) held[p] = 1;
    if (!held[p] && !usable(p)) continue;
    live.push(p);
    isLive[p] = 1;
  }
  const { low, high, twin } = pairs;
  const strength = new Float64Array(n);
  const raised = new Float64Array(n);
  const total = new Float64Array(h.count);
  const normalise = () => {
    total.fill(1);
    for (const p of live) {
      total[low[p]!]! += strength[p]!;
      total[high[p]!]! += strength[p]!;
    }
    for (const p of live)
      belief[p] = held[p] ? 1 : strength[p]! / (total[low[p]!]! + total[high[p]!]! - 1 - strength[p]!);
  };
  for (const p of live) strength[p] = usable(p) ? weight[p]! : 0;
  normalise();
  /** Mirror images belong together or not at all. */
  const even = () => {
    for (const p of live) {
      const t = twin[p]!;
      if (t >= 0 && !isLive[t]) strength[p] = 0;
      if (t <= p || !isLive[t]) continue;
      const mean = Math.sqrt(strength[p]! * strength[t]!);
      strength[p] = mean;
      strength[t] = mean;
    }
  };
  for (let round = 0; round < beliefRounds; round++) {
    support.fill(0);
    const power = Math.min(1, firstPower + ((1 - firstPower) * round) / (0.7 * beliefRounds));
    for (const p of live) raised[p] = power === 1 ? belief[p]! : belief[p]! ** power;
    for (let c = 0; c < corners.count; c++) {
      const start = corners.from[c]!;
      const end = corners.from[c + 1]!;
      for (let i = start; i < end; i++) {
        let others = corners.weight[c]!;
        for (let j = start; j < end; j++) if (j !== i) others *= raised[corners.links[j]! >> 1]!;
        support[corners.links[i]!]! += others;
      }
    }
    for (const p of live)
      strength[p] = usable(p)
        ? (weight[p]! * (unclosed[2 * p]! + support[2 * p]!) * (unclosed[2 * p + 1]! + support[2 * p + 1]!)) /
          (unclosedWeight * 2)
        : 0;
    even();
    normalise();
  }
  return { belief, support };
}
