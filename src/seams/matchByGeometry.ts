/**
 * Pairs by geometry alone, in passes: candidates by length, corners that close, beliefs; what is believed is glued, then
 * zipped on from closed ends; then again over what is left. Mirror-like pairs take no part but for zipping.
 */
import { weighPairs } from './beliefs';
import { closingCorners } from './closingCorners';
import type { GluedOutlines } from './gluedOutlines';
import {
  believedFrom,
  leftOpenShare,
  leftUnclosed,
  loneBelievedFrom,
  mostRound,
  openShare,
  zipReach,
} from './matchTolerance';
import { type CandidatePairs, lengthWeights, otherOf } from './mateCandidates';
import { openEndWeights } from './openEnds';
import { zipOn } from './zip';

export type GeometryEvidence = 'corners' | 'length' | 'zip';

export interface GeometryMatch {
  readonly a: number;
  readonly b: number;
  readonly how: GeometryEvidence;
  /** From 0 to 1. */
  readonly belief: number;
}

export interface GeometryResult {
  readonly matches: readonly GeometryMatch[];
  /** Beliefs of the last pass, by pair. */
  readonly belief: Float64Array;
}

/** Belief of a zipped seam whose corner closes exactly; it falls to half of that at the limit. */
const zipBelief = 0.95;

/** Glues into `glued`, which may hold stronger evidence already. */
export function matchByGeometry(
  glued: GluedOutlines,
  pairs: CandidatePairs,
  mayPair: (a: number, b: number) => boolean,
): GeometryResult {
  const { half, mate } = glued;
  const matches: GeometryMatch[] = [];
  let belief: Float64Array = new Float64Array(pairs.low.length);
  for (const [pass, round] of mostRound.entries()) {
    const settled = (p: number) => mate[pairs.low[p]!] === pairs.high[p];
    const usable = (p: number) =>
      settled(p) || (!pairs.mirrorLike[p] && mayPair(pairs.low[p]!, pairs.high[p]!));
    const corners = closingCorners(half, pairs, usable, round);
    const isOpen = (e: number) => glued.isOpen(e);
    const weight = lengthWeights(half, pairs, isOpen, pass === 0 ? openShare : leftOpenShare);
    const unclosed = openEndWeights(glued, pairs, pass < 2 ? 1 : leftUnclosed);
    const weighed = weighPairs(half, pairs, weight, corners, usable, settled, unclosed);
    belief = weighed.belief;
    const before = matches.length;
    const believed = [...belief.keys()]
      .filter((p) => belief[p]! >= believedFrom && !settled(p))
      .sort((p, q) => belief[q]! - belief[p]! || p - q);
    for (const p of believed) {
      const [a, b] = [pairs.low[p]!, pairs.high[p]!];
      if (!glued.isOpen(a) || !glued.isOpen(b)) continue;
      const closes = weighed.support[2 * p]! + weighed.support[2 * p + 1]!;
      if (closes <= 0.05 && belief[p]! < loneBelievedFrom) continue;
      if (!glued.staysPlain(a, b) || glued.closesOnOneEdge(a, b)) continue;
      glued.glue(a, b);
      matches.push({ a, b, how: closes > 0.05 ? 'corners' : 'length', belief: belief[p]! });
    }
    for (const { a, b, defect } of zipOn(glued, zipReach * pairs.reach, mayPair))
      matches.push({ a, b, how: 'zip', belief: zipBelief - 0.5 * defect });
    if (matches.length === before && corners.complete && round >= 7) break;
  }
  return { matches, belief };
}

/** Edges that an edge could still meet by length, likeliest first. */
export function openCandidates(
  glued: GluedOutlines,
  pairs: CandidatePairs,
  belief: Float64Array,
  edge: number,
): { edge: number; score: number }[] {
  return pairs.ofEdge[edge]!.map((p) => ({ edge: otherOf(pairs, p, edge), score: belief[p]! }))
    .filter((c) => glued.isOpen(c.edge))
    .sort((p, q) => q.score - p.score || p.edge - q.edge);
}
