/**
 * Patterns whose edges are all equally long, as of regular solids. There lengths tell nothing, and what corners suggest
 * can be wrong though each seam looks right: such a pattern is assembled as a whole, or left to the maker as a whole.
 */
import { areSame } from './lengths';
import { type MatchState, pairKey, takeBack } from './matchState';
import { soundFold } from './matchTolerance';
import type { FoldedEdges } from './verifySeams';
import { alikeIssue } from './wording';

/** True when no edge is longer than another. */
export function allAlike({ glued }: MatchState): boolean {
  const { length } = glued.half;
  const [least, most] = length.reduce(([p, q], l) => [Math.min(p, l), Math.max(q, l)], [
    Number.POSITIVE_INFINITY,
    0,
  ] as [number, number]);
  return length.length > 0 && areSame(least, most);
}

/**
 * Takes back what geometry found on such a pattern, unless all edges have their mates and the solid folds up.
 * @param fold folds the shell with the seams of the state
 */
export async function settleAlike(state: MatchState, fold: () => Promise<FoldedEdges | null>): Promise<void> {
  const { glued, found } = state;
  if (found.length === 0 || !allAlike(state)) return;
  const whole = glued.mate.every((_, e) => !glued.isOpen(e));
  const folded = whole ? await fold() : null;
  if (folded && folded.residual.rms <= soundFold) return;
  const left = found.map((f) => [f.a, f.b] as const);
  const beliefs = found.map((f) => [pairKey(f.a, f.b), f.belief] as const);
  takeBack(state, left);
  // Each seam stays a candidate, with what spoke for it.
  for (const [key, belief] of beliefs) state.doubts.set(key, belief / 2);
  const places = left.flat().map((e) => state.edges.get(glued.half.ids[e]!)!);
  state.findings.push(alikeIssue(places));
}
