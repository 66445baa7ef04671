/**
 * The middle of a mirror-symmetric shell whose pieces cross it (see faceMirror.ts): rims that were sewn to their own
 * mirror image are taken apart, seams of the middle that were left open are glued (middleChains.ts), and so are strips
 * that cross it (middleBridges.ts). Strips that fit several ways stay open, and nothing near them is glued.
 */
import type { Pattern } from '../model';
import { type FaceMirror, faceMirror } from './faceMirror';
import { type MatchState, pairKey, takeBack } from './matchState';
import {
  bridgeAhead,
  bridgeGain,
  bridgeTie,
  closingGain,
  middleClear,
  sureBridge,
  zipReach,
} from './matchTolerance';
import { edgesOf, type MiddleWay, middleWays } from './middleBridges';
import { middleChains } from './middleChains';
import { seamIdOf } from './seamId';

type Pair = readonly [number, number];

export interface SettledMiddle {
  /** Seams that were made. */
  readonly made: readonly Pair[];
  /** How many seams were taken apart. */
  readonly apart: number;
}

/**
 * Settles the middle in `state`; nothing is done where the faces have no mirror.
 * @param weighed seams that were weighed as a whole already
 */
export function settleMiddle(
  pattern: Pattern,
  state: MatchState,
  weighed: readonly Pair[] = [],
): SettledMiddle {
  const { glued, pairs, found } = state;
  const mirror = faceMirror(pattern, glued, zipReach * pairs.reach);
  if (!mirror) return { made: [], apart: 0 };
  const before = new Set(found.map((f) => pairKey(f.a, f.b)));
  const apart = unlikeOtherSide(state, mirror);
  takeBack(state, apart);
  for (const pair of likeOtherSide(state, mirror)) make(state, pair, otherSideBelief, otherSideReason);
  const isWeighed = new Set(weighed.map((pair) => pairKey(...pair)));
  const bridges = bridgesInQuestion(state, mirror).filter((pair) => !isWeighed.has(pairKey(...pair)));
  for (const [a] of bridges) glued.open(a);
  const sewn = openMiddle(state, mirror);
  const strips = glueBridges(state, mirror);
  state.asked.push(...strips.asked);
  const asked = new Set(strips.asked.flat().flatMap(edgesOf));
  const right = weighChains(state, mirror, strips);
  const wrong: Pair[] = [];
  for (const pair of bridges) {
    const [a, b] = pair;
    if (glued.mate[a] === b) continue;
    if (glued.isOpen(a) && glued.isOpen(b) && !asked.has(a) && !asked.has(b)) glued.glue(a, b);
    else wrong.push(pair);
  }
  for (const pair of sewn) {
    const [a, b] = pair;
    const isRim = right.rims.has(pairKey(a, b));
    if (!isRim && glued.isOpen(a) && glued.isOpen(b)) glued.glue(a, b);
    else wrong.push(pair);
  }
  takeBack(state, wrong);
  for (const [a, b] of wrong) state.heldBack.delete(pairKey(a, b));
  for (const { pair, lead } of right.seams) make(state, pair, shareOf(lead), middleReason);
  const made = found.map((f): Pair => [f.a, f.b]).filter(([a, b]) => !before.has(pairKey(a, b)));
  return { made, apart: apart.length + wrong.length };
}

/** Opens the seams of edges with their own mirror images; halves that nothing else holds together stay as they are. */
function openMiddle({ glued, found }: MatchState, mirror: FaceMirror): Pair[] {
  const sewn = found.filter((f) => mirror.imageOf(f.a) === f.b).map((f): Pair => [f.a, f.b]);
  for (const [a] of sewn) glued.open(a);
  if (middleChains(glued, mirror).chains.length > 0) return sewn;
  for (const [a, b] of sewn) glued.glue(a, b);
  return [];
}

/** Glues two open edges; a seam that was opened only to be weighed is one already. */
function make({ glued, found }: MatchState, [a, b]: Pair, belief: number, reason: string): void {
  if (!glued.isOpen(a) || !glued.isOpen(b)) return;
  glued.glue(a, b);
  const key = pairKey(a, b);
  if (!found.some((f) => pairKey(f.a, f.b) === key)) found.push({ a, b, belief, reason });
}

const shareOf = (lead: number): number => 1 / (1 + Math.exp(-lead));

/** Seams by geometry whose mirror image is none: it is a fold, or the two can't both be glued. */
function unlikeOtherSide({ glued, found }: MatchState, mirror: FaceMirror): Pair[] {
  return found
    .filter(({ a, b }) => {
      if (mirror.imageOf(a) === b) return false;
      const [p, q] = [mirror.mateOf(a), mirror.mateOf(b)];
      if (p.kind === 'clash' || q.kind === 'clash') return true;
      return p.kind === 'open' && q.kind === 'open' && !glued.staysPlain(p.image, q.image);
    })
    .map(({ a, b }): Pair => [a, b]);
}

/** Open edges whose mirror images are glued to each other, or are two sides of a fold. */
function likeOtherSide(state: MatchState, mirror: FaceMirror): Pair[] {
  const { glued } = state;
  const out: Pair[] = [];
  for (let a = 0; a < glued.half.count; a++) {
    if (!glued.isOpen(a)) continue;
    const there = mirror.mateOf(a);
    if (there.kind !== 'edge' || there.mate <= a || !glued.isOpen(there.mate)) continue;
    const back = mirror.mateOf(there.mate);
    if (back.kind === 'edge' && back.mate === a && fits(state, a, there.mate)) out.push([a, there.mate]);
  }
  return out;
}

/** Bridges that hang by single edges, found by little more than their length, as their mirror images were. */
function bridgesInQuestion({ glued, found }: MatchState, mirror: FaceMirror): Pair[] {
  return found
    .filter(({ a, b, belief }) => {
      const [c, d] = [mirror.imageOf(a), mirror.imageOf(b)];
      if (belief >= sureBridge || c < 0 || c === b || glued.mate[c] !== d) return false;
      return !glued.cornerAt(a).closed && !glued.cornerAt(b).closed;
    })
    .map(({ a, b }): Pair => [a, b]);
}

interface Bridges {
  /** Ways for strips that fit several ways. */
  readonly asked: readonly (readonly MiddleWay[])[];
  /** Edges of others that may belong to a strip. */
  readonly claimed: ReadonlySet<number>;
}

/** Glues strips across the middle, the likeliest first, while one way is clearly the best. */
function glueBridges(state: MatchState, mirror: FaceMirror): Bridges {
  const { glued, pairs } = state;
  const asked: MiddleWay[][] = [];
  const leftToOthers = new Set<number>();
  for (;;) {
    const all = middleWays(glued, mirror, pairs.noise, zipReach * pairs.reach, (a, b) => fits(state, a, b));
    const best = all.find(
      (w) => w.gain > (w.joins ? bridgeGain : closingGain) && !edgesOf(w).some((e) => leftToOthers.has(e)),
    );
    if (!best) {
      for (const [first] of asked) for (const [a] of first!.pairs) glued.open(a);
      return { asked, claimed: new Set(all.filter((w) => w.gain > 0).flatMap(edgesOf)) };
    }
    const edges = edgesOf(best);
    const ways = all.filter(
      (w) => w === best || (w.gain > best.gain - bridgeAhead && edgesOf(w).some((e) => edges.includes(e))),
    );
    if (ways.length === 1) {
      for (const pair of best.pairs) make(state, pair, shareOf(best.gain), bridgeReason);
      continue;
    }
    if (ways[1]!.gain < best.gain - bridgeTie) {
      // Neither clear nor a tie: all loose parts together may tell, and that is said.
      for (const e of ways.flatMap(edgesOf)) leftToOthers.add(e);
      continue;
    }
    // Nothing but the folded shell or the person may decide; the others are weighed as if this way was taken.
    for (const [a, b] of ways.flatMap((w) => w.pairs)) {
      state.refused.add(pairKey(a, b));
      state.heldBack.delete(pairKey(a, b));
    }
    for (const pair of best.pairs) glued.glue(...pair);
    asked.push(ways);
  }
}

/** Edges of the middle to glue, and those that are rims: these are ruled out as seams. */
function weighChains(
  state: MatchState,
  mirror: FaceMirror,
  { asked, claimed }: Bridges,
): { readonly seams: { pair: Pair; lead: number }[]; readonly rims: ReadonlySet<string> } {
  const seams: { pair: Pair; lead: number }[] = [];
  const inQuestion = asked.flat().flatMap(edgesOf);
  const rims = new Set(inQuestion.map((e) => pairKey(e, mirror.imageOf(e))));
  for (const { pair, lead, isClaimed } of leadsEitherWay(state, mirror, asked, claimed)) {
    const key = pairKey(...pair);
    if (lead < -middleClear) rims.add(key);
    if (lead > middleClear && !rims.has(key) && !isClaimed && fits(state, ...pair))
      seams.push({ pair, lead });
    else {
      // Only all edges together may make it a seam, never its length.
      state.refused.add(key);
      state.heldBack.delete(key);
    }
  }
  return { seams, rims };
}

/** The least lead of each pair of the middle, whichever way the strips in question are glued. */
function leadsEitherWay(
  { glued }: MatchState,
  mirror: FaceMirror,
  asked: readonly (readonly MiddleWay[])[],
  claimed: ReadonlySet<number>,
): Iterable<{ readonly pair: Pair; readonly lead: number; readonly isClaimed: boolean }> {
  const leads = new Map<string, { pair: Pair; lead: number; isClaimed: boolean }>();
  const mostWays = Math.max(1, ...asked.map((ways) => ways.length));
  for (let i = 0; i < mostWays; i++) {
    const made: Pair[] = [];
    for (const ways of asked)
      for (const pair of ways[Math.min(i, ways.length - 1)]!.pairs) {
        glued.glue(...pair);
        made.push(pair);
      }
    for (const { pairs } of middleChains(glued, mirror).chains) {
      const isClaimed = pairs.some(({ pair }) => pair.some((e) => claimed.has(e)));
      for (const { pair, lead } of pairs) {
        const was = leads.get(pairKey(...pair));
        leads.set(pairKey(...pair), {
          pair,
          lead: Math.min(lead, was?.lead ?? lead),
          isClaimed: isClaimed || was?.isClaimed === true,
        });
      }
    }
    for (const [a] of made) glued.open(a);
  }
  return leads.values();
}

/** Whether two edges could be glued as far as their lengths, the person and the shell's openings go. */
function fits({ glued, pairs, decisions }: MatchState, a: number, b: number): boolean {
  const { half } = glued;
  return (
    Math.abs(half.length[a]! - half.length[b]!) <= zipReach * pairs.reach &&
    !decisions.rejected.includes(seamIdOf(half.ids[a]!, half.ids[b]!)) &&
    glued.staysPlain(a, b)
  );
}

const middleReason =
  'The edges are mirror images of each other, and along this line the rims run on most smoothly when it is a seam of the middle.';
const bridgeReason =
  'The edges are equally long, and so are their mirror images; this way the rims run on most smoothly across the middle.';
/** As sure as the map of faces, which leads clearly over any other. */
const otherSideBelief = 0.95;
const otherSideReason =
  'On the other side of the shell, which is its mirror image, the same two faces are joined.';
