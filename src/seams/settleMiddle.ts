/**
 * The middle of a mirror-symmetric shell whose pieces cross it (see faceMirror.ts): rims that were sewn to their own
 * mirror image are taken apart, seams of the middle that were left open are glued (middleChains.ts), and so are strips
 * that cross it (middleBridges.ts). Strips that fit several ways stay open, and nothing near them is glued.
 */
import type { Pattern } from '../model';
import { type FaceMirror, faceMirror } from './faceMirror';
import { type MatchState, pairKey, takeBack } from './matchState';
import { bridgeAhead, bridgeGain, middleClear, middleSure, sureBridge, zipReach } from './matchTolerance';
import { edgesOf, middleWays } from './middleBridges';
import { middleChains } from './middleChains';
import { seamIdOf } from './seamId';

type Pair = readonly [number, number];

export interface SettledMiddle {
  /** Seams that were made. */
  readonly made: readonly Pair[];
  /** How many seams were taken apart. */
  readonly apart: number;
}

/** Settles the middle in `state`; nothing is done where the faces have no mirror. */
export function settleMiddle(pattern: Pattern, state: MatchState): SettledMiddle {
  const { glued, pairs, found } = state;
  const mirror = faceMirror(pattern, glued, zipReach * pairs.reach);
  if (!mirror) return { made: [], apart: 0 };
  const before = new Set(found.map((f) => pairKey(f.a, f.b)));
  const apart = unlikeOtherSide(state, mirror);
  takeBack(state, apart);
  for (const pair of likeOtherSide(state, mirror)) make(state, pair, otherSideBelief, otherSideReason);
  const bridges = bridgesInQuestion(state, mirror);
  for (const [a] of bridges) glued.open(a);
  const sewn = openMiddle(state, mirror);
  const { asked, claimed } = glueBridges(state, mirror);
  const right = weighChains(state, mirror, asked, claimed);
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

/**
 * Glues strips across the middle, the likeliest first, while one way is clearly the best.
 * @returns edges of strips that fit several ways, and of others that may belong to one
 */
function glueBridges(
  state: MatchState,
  mirror: FaceMirror,
): { readonly asked: ReadonlySet<number>; readonly claimed: ReadonlySet<number> } {
  const { glued, pairs } = state;
  const asked = new Set<number>();
  for (;;) {
    const mayGlue = (a: number, b: number) => fits(state, a, b);
    const ways = middleWays(glued, mirror, pairs.noise, zipReach * pairs.reach, mayGlue);
    const best = ways.find((w) => !edgesOf(w).some((e) => asked.has(e)));
    if (!best || best.gain < bridgeGain)
      return { asked, claimed: new Set(ways.filter((w) => w.gain > 0).flatMap(edgesOf)) };
    const edges = edgesOf(best);
    const rivals = ways.filter(
      (w) => w !== best && w.gain > best.gain - bridgeAhead && edgesOf(w).some((e) => edges.includes(e)),
    );
    if (rivals.length === 0)
      for (const pair of best.pairs) make(state, pair, shareOf(best.gain), bridgeReason);
    else {
      const ways = [best, ...rivals];
      for (const e of ways.flatMap(edgesOf)) asked.add(e);
      // Nothing but the folded shell or the person may decide.
      for (const [a, b] of ways.flatMap((w) => w.pairs)) {
        state.refused.add(pairKey(a, b));
        state.heldBack.delete(pairKey(a, b));
      }
      state.asked.push(ways);
    }
  }
}

/** Edges of the middle to glue, and those that are rims: these are ruled out as seams. */
function weighChains(
  state: MatchState,
  mirror: FaceMirror,
  asked: ReadonlySet<number>,
  claimed: ReadonlySet<number>,
): { readonly seams: { pair: Pair; lead: number }[]; readonly rims: ReadonlySet<string> } {
  const seams: { pair: Pair; lead: number }[] = [];
  const rims = new Set<string>();
  for (const { pairs } of middleChains(state.glued, mirror).chains) {
    const isAsked = pairs.map(({ pair }) => pair.some((e) => asked.has(e)));
    const anyClaimed = pairs.some(({ pair }) => pair.some((e) => asked.has(e) || claimed.has(e)));
    pairs.forEach(({ pair, lead }, i) => {
      const key = pairKey(...pair);
      const beside = isAsked[i - 1] || isAsked[i + 1];
      if (isAsked[i] || lead < (beside ? middleSure : -middleClear)) rims.add(key);
      if (lead > middleClear && !anyClaimed && fits(state, ...pair)) seams.push({ pair, lead });
      else {
        // Only all edges together may make it a seam, never its length.
        state.refused.add(key);
        state.heldBack.delete(key);
      }
    });
  }
  return { seams, rims };
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
