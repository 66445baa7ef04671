/**
 * Decides between ways to glue a bridge (see otherWays.ts): by how smoothly the rims run on and how smooth the folded
 * shell is, both together. Where no way is clearly the best, all stay open, and each edge lists its mates with scores.
 */
import type { Pattern } from '../model';
import { GluedOutlines } from './gluedOutlines';
import { type MatchState, pairKey, takeBack } from './matchState';
import {
  bridgeBehind,
  bridgeLead,
  equallySmooth,
  mostBridgeFolds,
  smoothnessWeight,
  soundFold,
} from './matchTolerance';
import { type OtherWay, otherWays } from './otherWays';
import { pieceTurns, type Turn } from './pieceTurns';
import { bendOfSeams } from './seamBends';
import { seamIdOf } from './seamId';
import type { FoldedEdges } from './verifySeams';
import { bridgeIssue } from './wording';

type Pair = readonly [number, number];

/**
 * Settles all bridges in `state`.
 * @param fold folds the shell with the seams of the state
 */
export async function settleBridges(
  pattern: Pattern,
  state: MatchState,
  fold: () => Promise<FoldedEdges | null>,
): Promise<void> {
  const settled = new Set<number>();
  for (let folds = 0; folds < mostBridgeFolds; ) {
    const ways = waysOf(pattern, state).filter((w) => !w.now.flat().some((e) => settled.has(e)));
    const [first] = ways;
    if (!first) break;
    const edges = new Set([...first.now, ...first.other].flat());
    const rivals = ways.filter((w) => [...w.now, ...w.other].flat().every((e) => edges.has(e)));
    for (const e of edges) settled.add(e);
    const before = await fold();
    const bend = before && smoothness(pattern, state, before);
    const scores: { pairs: readonly Pair[]; score: number }[] = [
      { pairs: first.now, score: bend === null ? Number.NEGATIVE_INFINITY : 0 },
    ];
    for (const { now, other, lead } of rivals) {
      if (pairKeys(now) !== pairKeys(first.now)) continue;
      swap(state, now, other);
      const shell = await fold();
      folds++;
      const after = shell && smoothness(pattern, state, shell);
      swap(state, other, now);
      scores.push({ pairs: other, score: lead + smoothnessWeight * smootherThan(bend, after) });
    }
    decide(state, first.now, scores);
  }
}

/** Ways that rims do not rule out, of seams that geometry found. */
function waysOf(pattern: Pattern, state: MatchState): OtherWay[] {
  const { glued, pairs, found, decisions, refused, heldBack } = state;
  const isFound = new Set(found.map((f) => pairKey(f.a, f.b)));
  const rejected = new Set(decisions.rejected);
  const { ids } = glued.half;
  const mayGlue = (a: number, b: number) => {
    const key = pairKey(a, b);
    return !rejected.has(seamIdOf(ids[a]!, ids[b]!)) && (!refused.has(key) || heldBack.has(key));
  };
  const turns = pieceTurns(pattern, new GluedOutlines(glued.half), pairs.reach);
  return otherWays(glued, pairs, (a, b) => isFound.has(pairKey(a, b)), mayGlue).filter(
    (w) => w.lead > -bridgeBehind && !isSameShell(glued, w, turns),
  );
}

/** True when the other way is this one with a piece turned that looks the same turned. */
function isSameShell(
  { half, mate }: GluedOutlines,
  { now, other }: OtherWay,
  turns: ReadonlyMap<number, readonly Turn[]>,
): boolean {
  const ofWay = new Set(now.flat());
  const wanted = pairKeys(other);
  return [...new Set(now.flat().map((e) => half.piece[e]!))].some((piece) =>
    (turns.get(piece) ?? []).some(
      (turn) =>
        [...turn.keys()].every((e) => mate[e]! < 0 || ofWay.has(e)) &&
        pairKeys(now.map(([a, b]): Pair => [turn.get(a) ?? a, turn.get(b) ?? b])) === wanted,
    ),
  );
}

/** Sum of squared bends; null for a shell that is none. */
function smoothness(pattern: Pattern, { glued }: MatchState, folded: FoldedEdges): number | null {
  if (folded.residual.rms > soundFold) return null;
  const { ids } = glued.half;
  const seams = [...glued.mate.entries()].flatMap(([a, b]) => (b > a ? [{ a: ids[a]!, b: ids[b]! }] : []));
  return bendOfSeams(pattern, folded, seams);
}

/** By how much one shell is smoother than another, as a logarithm, as far as that says anything. */
function smootherThan(before: number | null, after: number | null): number {
  if (after === null) return Number.NEGATIVE_INFINITY;
  if (before === null || before <= 0 || after <= 0) return 0;
  const log = Math.log(before / after);
  return Math.sign(log) * Math.max(0, Math.abs(log) - equallySmooth);
}

/** Keeps, takes or opens. */
function decide(
  state: MatchState,
  now: readonly Pair[],
  ways: readonly { readonly pairs: readonly Pair[]; readonly score: number }[],
): void {
  const [best, second] = [...ways].sort((p, q) => q.score - p.score);
  if (!best || !second || best.score === Number.NEGATIVE_INFINITY) return;
  const clear = best.score - second.score >= Math.log(bridgeLead);
  if (clear && best.pairs === now) return;
  const places = [...new Set(ways.flatMap((w) => w.pairs.flat()))].map(
    (e) => state.edges.get(state.glued.half.ids[e]!)!,
  );
  const likely = ways.map((w) => Math.exp(w.score - best.score));
  const total = likely.reduce((sum, l) => sum + l, 0);
  state.findings.push(bridgeIssue(places, clear));
  if (clear) {
    const keys = new Set(now.map(([a, b]) => pairKey(a, b)));
    const kept = state.found.filter((f) => !keys.has(pairKey(f.a, f.b)));
    for (const [a] of now) state.glued.open(a);
    for (const [a, b] of best.pairs) {
      state.glued.glue(a, b);
      kept.push({ a, b, belief: 1 / total, reason: otherWayReason });
    }
    state.found.splice(0, state.found.length, ...kept);
    return;
  }
  takeBack(state, [...now, ...ways.flatMap((w) => w.pairs)]);
  ways.forEach(({ pairs }, i) => {
    for (const [a, b] of pairs)
      state.doubts.set(pairKey(a, b), (state.doubts.get(pairKey(a, b)) ?? 0) + likely[i]! / total);
  });
}

const otherWayReason =
  'The edges are equally long and fit other edges as well; this way the rims run on most smoothly and the folded shell is the smoothest. Check it.';

function swap({ glued }: MatchState, out: readonly Pair[], into: readonly Pair[]): void {
  for (const [a] of out) glued.open(a);
  for (const [a, b] of into) glued.glue(a, b);
}

const pairKeys = (pairs: readonly Pair[]): string =>
  pairs
    .map(([a, b]) => pairKey(a, b))
    .sort()
    .join();
