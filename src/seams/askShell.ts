/**
 * Strips across the middle that fit several ways (see settleMiddle.ts): the folded shell is asked which way is the smoothest and
 * keeps the lengths best.
 * Where that does not make one way clearly the best they stay open, and each edge lists its mates with shares.
 */
import type { Pattern } from '../model';
import { type MatchState, pairKey } from './matchState';
import { bridgeAhead, mostBridgeFolds } from './matchTolerance';
import { edgesOf, type MiddleWay } from './middleBridges';
import { type Folding, foldingOf, likelierThan } from './settleBridges';
import type { FoldedEdges } from './verifySeams';
import { bridgeIssue } from './wording';

/**
 * Settles or reports all strips in question.
 * @param fold folds the shell with the seams of the state
 */
export async function askShell(
  pattern: Pattern,
  state: MatchState,
  fold: () => Promise<FoldedEdges | null>,
): Promise<void> {
  const { glued, edges, findings, found } = state;
  const told = new Set<number>();
  let folds = 0;
  for (const ways of state.asked) {
    const all = [...new Set(ways.flatMap(edgesOf))];
    if (all.some((e) => told.has(e) || !glued.isOpen(e))) continue;
    for (const e of all) told.add(e);
    let first: Folding | null = null;
    const scores: number[] = [];
    const mayFold = folds + ways.length <= mostBridgeFolds;
    for (const way of ways) {
      let score = way.gain;
      if (mayFold) {
        for (const [a, b] of way.pairs) glued.glue(a, b);
        const folding = foldingOf(pattern, state, await fold());
        folds++;
        for (const [a] of way.pairs) glued.open(a);
        first ??= folding;
        score += likelierThan(first, folding);
      }
      scores.push(score);
    }
    const best = Math.max(...scores);
    const likely = scores.map((s) => (best === Number.NEGATIVE_INFINITY ? 1 : Math.exp(s - best)));
    const total = likely.reduce((sum, l) => sum + l, 0);
    const clear = scores.filter((s) => s > best - bridgeAhead).length === 1;
    findings.push(
      bridgeIssue(
        all.map((e) => edges.get(glued.half.ids[e]!)!),
        clear,
      ),
    );
    if (clear) {
      for (const [a, b] of ways[scores.indexOf(best)]!.pairs) {
        glued.glue(a, b);
        found.push({ a, b, belief: 1 / total, reason: smoothestReason });
      }
    } else
      addDoubts(
        state,
        ways,
        likely.map((l) => l / total),
      );
  }
}

function addDoubts({ doubts }: MatchState, ways: readonly MiddleWay[], shares: readonly number[]): void {
  ways.forEach(({ pairs }, i) => {
    for (const [a, b] of pairs) doubts.set(pairKey(a, b), (doubts.get(pairKey(a, b)) ?? 0) + shares[i]!);
  });
}

const smoothestReason =
  'The edges are equally long and fit other edges as well; this way the rims run on most smoothly and the folded shell is the smoothest. Check it.';
