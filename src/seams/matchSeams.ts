/**
 * Which edge meets which, by all that a flat drawing tells: the person's word, printed numbers, then geometry for the
 * rest. A geometric seam needs equal lengths and either corners that close at its ends or no rival; what stays unclear
 * stays open and is listed with its candidates.
 */
import type { Pattern, SeamDecisions, Seams } from '../model';
import { findSeams } from './findSeams';
import { type GeometryMatch, matchByGeometry } from './matchByGeometry';
import { type MatchState, pairKey, seamsOfState, startMatching, takeBack } from './matchState';
import { farMoreExact, mostRimRounds } from './matchTolerance';
import { noiseOfGlued } from './mateCandidates';
import { sewnRims } from './mirrorRims';
import { openMouths } from './mouths';

/**
 * Like `findSeams`, with geometry for what the person and the numbers leave open. Lengths in mm. Seams by geometry say
 * why in `reason`; open edges carry `candidates` with `scores`, best first. With `findRest` off it is `findSeams`. Never
 * throws for bad decisions.
 */
export function matchSeams(pattern: Pattern, decisions: SeamDecisions): Seams {
  if (!decisions.findRest) return findSeams(pattern, decisions);
  const { state, belief } = firstMatch(pattern, decisions);
  return seamsOfState(state, belief);
}

/** Matches at the noise that runs show; where what is found shows the drawing to be far more exact, again at that. */
export function firstMatch(
  pattern: Pattern,
  decisions: SeamDecisions,
): { readonly state: MatchState; readonly belief: Float64Array } {
  const state = startMatching(pattern, decisions);
  const belief = matchLeft(state);
  const noise = noiseOfGlued(state.glued.half, state.glued.mate);
  if (noise === null || farMoreExact * noise > state.pairs.noise) return { state, belief };
  const exact = startMatching(pattern, decisions, noise);
  return { state: exact, belief: matchLeft(exact) };
}

/** Matches what the state leaves open; returns the beliefs of the last pass, by pair. */
export function matchLeft(state: MatchState): Float64Array {
  let belief = matchOnce(state);
  const isFound = new Set(state.found.map((f) => pairKey(f.a, f.b)));
  const mouths = openMouths(state.glued, (a, b) => isFound.has(pairKey(a, b)));
  if (mouths.length > 0) {
    takeBack(state, mouths);
    belief = matchOnce(state);
  }
  for (let rounds = 0; rounds < mostRimRounds; rounds++) {
    const isFound = new Set(state.found.map((f) => pairKey(f.a, f.b)));
    const rims = sewnRims(state.glued, (a, b) => isFound.has(pairKey(a, b)));
    if (rims.length === 0) break;
    for (const [a, b] of rims) state.heldBack.add(pairKey(a, b));
    takeBack(state, rims);
    belief = matchOnce(state);
  }
  return belief;
}

function matchOnce(state: MatchState): Float64Array {
  const { matches, belief } = matchByGeometry(state.glued, state.pairs, state.mayPair);
  for (const match of matches)
    state.found.push({ a: match.a, b: match.b, belief: match.belief, reason: reasonFor(match, state) });
  return belief;
}

function reasonFor({ a, b, how }: GeometryMatch, { glued }: MatchState): string {
  const { length } = glued.half;
  const lengths = `${length[a]!.toFixed(2)} and ${length[b]!.toFixed(2)} mm`;
  switch (how) {
    case 'corners':
      return `The edges are equally long (${lengths}), and the pieces close round their ends.`;
    case 'length':
      return `The edges are equally long (${lengths}), and no other open edge is.`;
    case 'line':
      return `The edges are equally long (${lengths}), and so are their neighbours all along a line of seams.`;
    case 'zip':
      return `The seam before it ends here, the pieces make a full turn, and the edges are equally long (${lengths}).`;
  }
}
