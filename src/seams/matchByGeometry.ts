/**
 * Pairs by geometry alone, in passes: candidates by length, corners that close, beliefs; what is believed is glued, then
 * zipped on from closed ends; then again over what is left. Mirror-like pairs take no part but for zipping.
 */
import { alignedLines } from './alignRims';
import { weighPairs } from './beliefs';
import { closingCorners } from './closingCorners';
import type { GluedOutlines } from './gluedOutlines';
import {
  believedFrom,
  leadingBelievedFrom,
  leadingBy,
  leftOpenShare,
  leftUnclosed,
  loneBelievedFrom,
  mostRound,
  openShare,
  zipReach,
} from './matchTolerance';
import { type CandidatePairs, lengthWeights, otherOf } from './mateCandidates';
import { openEndWeights } from './openEnds';
import { plugs } from './plugs';
import { zipOn } from './zip';

export type GeometryEvidence = 'corners' | 'length' | 'zip' | 'line' | 'plug';

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
/** Belief of the seams of a line that agrees as a whole. */
const lineBelief = 0.9;

/** Glues into `glued`, which may hold stronger evidence already. */
export function matchByGeometry(
  glued: GluedOutlines,
  pairs: CandidatePairs,
  mayPair: (a: number, b: number) => boolean,
): GeometryResult {
  const { half, mate } = glued;
  const matches: GeometryMatch[] = [];
  let belief: Float64Array = new Float64Array(pairs.low.length);
  const settled = (p: number) => mate[pairs.low[p]!] === pairs.high[p];
  const usable = (p: number) =>
    settled(p) || (!pairs.mirrorLike[p] && mayPair(pairs.low[p]!, pairs.high[p]!));
  const zip = () => {
    for (const { a, b, defect } of zipOn(glued, zipReach * pairs.reach, mayPair))
      matches.push({ a, b, how: 'zip', belief: zipBelief - 0.5 * defect });
  };
  /** Whether a pair is believed far more than any other of its two edges. */
  const leads = (p: number) =>
    [pairs.low[p]!, pairs.high[p]!].every((e) =>
      pairs.ofEdge[e]!.every(
        (q) => q === p || !glued.isOpen(otherOf(pairs, q, e)) || leadingBy * belief[q]! <= belief[p]!,
      ),
    );
  /** One pass; returns whether all corners were looked at. @param alone whether length alone may speak */
  const pass = (number: number, round: number, alone: boolean): boolean => {
    const corners = closingCorners(half, pairs, usable, round);
    const isOpen = (e: number) => glued.isOpen(e);
    const weight = lengthWeights(half, pairs, isOpen, number === 0 ? openShare : leftOpenShare);
    const unclosed = openEndWeights(glued, pairs, number < 2 ? 1 : leftUnclosed);
    const weighed = weighPairs(half, pairs, weight, corners, usable, settled, unclosed);
    belief = weighed.belief;
    const believed = [...belief.keys()]
      .filter((p) => belief[p]! >= (alone ? leadingBelievedFrom : believedFrom) && !settled(p))
      .sort((p, q) => belief[q]! - belief[p]! || p - q);
    for (const p of believed) {
      const [a, b] = [pairs.low[p]!, pairs.high[p]!];
      if (!glued.isOpen(a) || !glued.isOpen(b)) continue;
      const closes = weighed.support[2 * p]! + weighed.support[2 * p + 1]! > 0.05;
      if (closes && belief[p]! < believedFrom) continue;
      if (!closes && !(alone && (belief[p]! >= loneBelievedFrom || leads(p)))) continue;
      if (!glued.staysPlain(a, b) || glued.closesOnOneEdge(a, b)) continue;
      glued.glue(a, b);
      matches.push({ a, b, how: closes ? 'corners' : 'length', belief: belief[p]! });
    }
    zip();
    return corners.complete;
  };
  const passes = (rounds: readonly number[], first: number, alone: boolean) => {
    for (const [i, round] of rounds.entries()) {
      const before = matches.length;
      const complete = pass(first + i, round, alone);
      if (matches.length === before && complete && round >= 7) break;
    }
  };
  passes(mostRound, 0, false);
  for (const line of alignedLines(glued, pairs, mayPair))
    for (const [a, b] of line) {
      if (!glued.isOpen(a) || !glued.isOpen(b) || !glued.staysPlain(a, b)) continue;
      glued.glue(a, b);
      matches.push({ a, b, how: 'line', belief: lineBelief });
    }
  for (const plug of plugs(glued, zipReach * pairs.reach, mayPair))
    for (const [a, b] of plug) {
      if (!glued.isOpen(a) || !glued.isOpen(b)) continue;
      glued.glue(a, b);
      matches.push({ a, b, how: 'plug', belief: lineBelief });
    }
  zip();
  // Single edges last: with the long lines still open, one of their edges could pass for one that has no other mate.
  passes(mostRound.slice(-2), mostRound.length, true);
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
