/**
 * Decides between ways to glue a bridge (see otherWays.ts): by how smoothly the rims run on, how smooth the folded
 * shell is and how well its lengths fit, all together. Where no way is clearly the best, all stay open, and each edge lists its mates with scores.
 */
import type { Pattern } from '../model';
import type { Mm } from '../units';
import { GluedOutlines } from './gluedOutlines';
import { type MatchState, pairKey, takeBack } from './matchState';
import {
  bridgeBehind,
  bridgeLead,
  closenessWeight,
  equallyClose,
  equallySmooth,
  exchangeClear,
  mostBridgeFolds,
  smoothnessWeight,
  soundFold,
  stuckFold,
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
    const before = foldingOf(pattern, state, await fold());
    const scores: { pairs: readonly Pair[]; score: number }[] = [
      { pairs: first.now, score: before === null ? Number.NEGATIVE_INFINITY : 0 },
    ];
    for (const { now, other, lead } of rivals) {
      if (pairKeys(now) !== pairKeys(first.now)) continue;
      swap(state, now, other);
      const after = foldingOf(pattern, state, await fold());
      folds++;
      swap(state, other, now);
      scores.push({ pairs: other, score: lead + likelierThan(before, after) });
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

/** How well a shell with some seams folds up. */
export interface Folding {
  /** Sum of squared bends over the seams, rad². */
  readonly bend: number;
  /** How far folded lengths are from flat ones, mm rms. */
  readonly off: Mm;
}

/** Null for a shell that is none. */
export function foldingOf(
  pattern: Pattern,
  { glued }: MatchState,
  folded: FoldedEdges | null,
): Folding | null {
  if (!folded || folded.residual.rms > soundFold) return null;
  const { ids } = glued.half;
  const seams = [...glued.mate.entries()].flatMap(([a, b]) => (b > a ? [{ a: ids[a]!, b: ids[b]! }] : []));
  return { bend: bendOfSeams(pattern, folded, seams), off: folded.residual.rms };
}

/** Logarithm of how much likelier one shell is than another: how smooth it is and how well its lengths fit. */
export function likelierThan(before: Folding | null, after: Folding | null): number {
  if (after === null) return Number.NEGATIVE_INFINITY;
  if (before === null) return 0;
  const smoother = lessThan(before.bend, after.bend, equallySmooth);
  const stuck = Math.abs(Math.log(before.off / after.off)) > Math.log(stuckFold);
  const closer = stuck ? 0 : lessThan(before.off, after.off, equallyClose);
  return smoothnessWeight * smoother + closenessWeight * closer;
}

/** By how much one figure is less than another, as a logarithm, as far as that says anything. */
function lessThan(before: number, after: number, equal: number): number {
  if (before <= 0 || after <= 0) return 0;
  const log = Math.log(before / after);
  return Math.sign(log) * Math.max(0, Math.abs(log) - equal);
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
  const sure = best.score - second.score >= Math.log(exchangeClear);
  if (sure && best.pairs === now) return;
  const places = [...new Set(ways.flatMap((w) => w.pairs.flat()))].map(
    (e) => state.edges.get(state.glued.half.ids[e]!)!,
  );
  const likely = ways.map((w) => Math.exp(w.score - best.score));
  const total = likely.reduce((sum, l) => sum + l, 0);
  state.findings.push(bridgeIssue(places, clear));
  if (clear && best.pairs === now) return;
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
