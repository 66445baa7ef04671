/**
 * Which edge meets which, by all that a flat drawing tells: the person's word, printed numbers, then geometry for the
 * rest. A geometric seam needs equal lengths and either corners that close at its ends or no rival; what stays unclear
 * stays open and is listed with its candidates.
 */
import type { Pattern, SeamDecisions, Seams } from '../model';
import { exchangeByLengths, exchangesOf, reportExchanges } from './exchanges';
import { findSeams } from './findSeams';
import { type GeometryMatch, matchByGeometry } from './matchByGeometry';
import { type MatchState, pairKey, seamsOfState, startMatching, takeBack } from './matchState';
import { farMoreExact, mostRimRounds } from './matchTolerance';
import { noiseOfGlued } from './mateCandidates';
import { sewnRims } from './mirrorRims';
import { openMouths } from './mouths';
import { sidesOf } from './sides';
import { zipSlits } from './slits';

/**
 * Like `findSeams`, with geometry for what the person and the numbers leave open. Lengths in mm. Seams by geometry say
 * why in `reason`; open edges carry `candidates` with `scores`, best first. With `findRest` off it is `findSeams`. Never
 * throws for bad decisions.
 */
export function matchSeams(pattern: Pattern, decisions: SeamDecisions): Seams {
  if (!decisions.findRest) return findSeams(pattern, decisions);
  const { state, belief } = firstMatch(pattern, decisions);
  reportExchanges(pattern, state, new Set());
  return seamsOfState(state, belief);
}

/** Matches at the noise that runs show; where what is found shows the drawing to be far more exact, again at that. */
export function firstMatch(
  pattern: Pattern,
  decisions: SeamDecisions,
): { readonly state: MatchState; readonly belief: Float64Array } {
  let state = startMatching(pattern, decisions);
  let belief = matchLeft(state);
  const noise = noiseOfGlued(state.glued.half, state.glued.mate);
  if (noise !== null && farMoreExact * noise <= state.pairs.noise) {
    state = startMatching(pattern, decisions, noise);
    belief = matchLeft(state);
  }
  belief = untie(state) ?? belief;
  belief = chooseSides(pattern, state) ?? belief;
  // The sides of pieces that changed places are others now.
  if (exchangeByLengths(pattern, state)) renewSides(state);
  return { state, belief };
}

/**
 * Puts mirror twins that fit each other's places on one side each: with both sides open to both, every seam of theirs has
 * a rival that is as good, and they would hang loose. Which of them goes where is weighed afterwards.
 */
function chooseSides(pattern: Pattern, state: MatchState): Float64Array | null {
  const { glued, twin, pairs, mayPair } = state;
  const { piece } = glued.half;
  if (twin.every((t) => t < 0)) return null;
  const loose = exchangesOf(pattern, state).filter(({ pieces: [p, q], to }) => {
    const edges = [...to.keys()];
    return (
      p !== q &&
      edges.some((e) => glued.isOpen(e)) &&
      edges.every((e) => twin[e]! >= 0 && piece[twin[e]!] !== piece[e])
    );
  });
  if (loose.length === 0) return null;
  const { group, side } = sidesNow(state).sides;
  const main = commonest(group);
  const groups = new Set(loose.flatMap(({ to }) => [...to.keys()].map((e) => group[e]!)));
  groups.delete(main);
  for (const other of groups) {
    let lead = 0;
    for (let p = 0; p < pairs.low.length; p++) {
      const [a, b] = [pairs.low[p]!, pairs.high[p]!];
      const across = (group[a] === main && group[b] === other) || (group[b] === main && group[a] === other);
      if (!across || pairs.mirrorLike[p] || !glued.isOpen(a) || !glued.isOpen(b) || !mayPair(a, b)) continue;
      lead += side[a] === side[b] ? pairs.likely[p]! : -pairs.likely[p]!;
    }
    group.forEach((g, e) => {
      if (g !== other) return;
      group[e] = main;
      if (lead < 0) side[e] = -side[e]!;
    });
  }
  state.sided.now = { group, side };
  return matchLeft(state);
}

/** The value that comes most often. */
export const commonest = (values: Int32Array): number => {
  const times = new Map<number, number>();
  for (const v of values) times.set(v, (times.get(v) ?? 0) + 1);
  return [...times].reduce((p, q) => (q[1] > p[1] ? q : p))[0];
};

/** Takes the sides from the seams again, where they are in use. */
export function renewSides(state: MatchState): void {
  if (state.sided.now) state.sided.now = sidesNow(state).sides;
}

/** The sides as all seams show them. */
function sidesNow({ glued, twin, found }: MatchState): ReturnType<typeof sidesOf> {
  const beliefs = new Map(found.map((f) => [pairKey(f.a, f.b), f.belief]));
  return sidesOf(glued, twin, (a, b) => beliefs.get(pairKey(a, b)) ?? 1);
}

/** Takes apart what ties the two sides of a symmetric shell together, and matches again, each side for itself. */
function untie(state: MatchState): Float64Array | null {
  const { twin, found } = state;
  if (twin.every((t) => t < 0)) return null;
  const { sides, wrong } = sidesNow(state);
  const byGeometry = new Set(found.map((f) => pairKey(f.a, f.b)));
  const ties = wrong.filter(([a, b]) => byGeometry.has(pairKey(a, b)));
  if (ties.length === 0) return null;
  takeBack(state, ties);
  state.sided.now = sides;
  return matchLeft(state);
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
  const slits = new Set<string>();
  for (let rounds = 0; rounds < mostRimRounds; rounds++) {
    const isFound = new Set(state.found.map((f) => pairKey(f.a, f.b)).filter((key) => !slits.has(key)));
    const rims = sewnRims(state.glued, (a, b) => isFound.has(pairKey(a, b)));
    if (rims.length > 0) {
      for (const [a, b] of rims) state.heldBack.add(pairKey(a, b));
      takeBack(state, rims);
    } else {
      const zipped = zipSlits(state.glued, (a, b) => state.heldBack.has(pairKey(a, b)));
      if (zipped.length === 0) break;
      for (const [a, b] of zipped) {
        slits.add(pairKey(a, b));
        for (const held of [state.heldBack, state.refused]) held.delete(pairKey(a, b));
        const reason = reasonFor({ a, b, how: 'zip', belief: slitBelief }, state);
        state.found.push({ a, b, belief: slitBelief, reason });
      }
    }
    belief = matchOnce(state);
  }
  return belief;
}

/** As zipping from a closed end, but the edges are mirror images: equal lengths say nothing. */
const slitBelief = 0.85;

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
    case 'plug':
      return `The edges are equally long (${lengths}), and so are all others round the opening that this part fills.`;
    case 'zip':
      return `The seam before it ends here, the pieces make a full turn, and the edges are equally long (${lengths}).`;
  }
}
