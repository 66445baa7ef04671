/**
 * Decides which way round a ring goes that fits turned by half a turn: by glue tabs where those tell, else by the
 * smoother of the two folded shells. What neither tells is taken apart and left to the person.
 */
import type { Pattern } from '../model';
import { type MatchState, pairKey, takeBack } from './matchState';
import { smootherBy, soundFold } from './matchTolerance';
import { bendOfSeams } from './seamBends';
import { tabEvidence } from './tabEvidence';
import { type TurnedRing, turnedRing } from './turnedRings';
import type { FoldedEdges } from './verifySeams';
import { ringIssue } from './wording';

/** A ring in question, or null. Only seams found by geometry are turned. */
export function ringInQuestion({ glued, found, pairs }: MatchState): TurnedRing | null {
  const byGeometry = new Set(found.flatMap((f) => [f.a, f.b]));
  return turnedRing(glued, pairs.reach, (e) => byGeometry.has(e));
}

/**
 * Settles the ring in `state`.
 * @param folded the shell as it is
 * @param fold folds the shell with the seams of the state
 */
export async function turnRing(
  pattern: Pattern,
  state: MatchState,
  ring: TurnedRing,
  folded: FoldedEdges | null,
  fold: () => Promise<FoldedEdges | null>,
): Promise<void> {
  const ids = state.glued.half.ids;
  const places = ring.now.flat().map((e) => state.edges.get(ids[e]!)!);
  const tabs = tabEvidence(pattern, state);
  if (tabs) {
    const tabbed = (seams: TurnedRing['now']) => seams.filter(([a, b]) => tabs(a) !== tabs(b)).length;
    const [now, turned] = [tabbed(ring.now), tabbed(ring.turned)];
    if (Math.abs(now - turned) >= fewestTabVotes) {
      replace(state, ring, turned > now ? ring.turned : ring.now, 0.9, reasons.tabs);
      return;
    }
  }
  if (folded && folded.residual.rms <= soundFold) {
    const bend = (shell: FoldedEdges) => bendOfSeams(pattern, shell, allSeams(state, ids));
    const before = bend(folded);
    replace(state, ring, ring.turned, 0.6, reasons.smooth);
    const other = await fold();
    const after = other && other.residual.rms <= soundFold ? bend(other) : Number.POSITIVE_INFINITY;
    const clear = Math.abs(after - before) > smootherBy * Math.min(after, before);
    if (clear) state.findings.push(ringIssue(places, true));
    if (clear && after < before) return;
    if (clear) {
      replace(state, ring, ring.now, 0.6, reasons.smooth);
      return;
    }
  }
  state.findings.push(ringIssue(places, false));
  takeBack(state, [...ring.now, ...ring.turned]);
}

/** Seams with one tab that the one way must have more than the other. */
const fewestTabVotes = 3;

const reasons = {
  tabs: 'This ring of seams fits turned by half a turn as well; this way round each seam has a glue tab on one side.',
  smooth:
    'This ring of seams fits turned by half a turn as well; this way round the folded shell is the smoother one. Check it.',
} as const;

function allSeams({ glued }: MatchState, ids: readonly string[]): { a: string; b: string }[] {
  return [...glued.mate.entries()].flatMap(([a, b]) => (b > a ? [{ a: ids[a]!, b: ids[b]! }] : []));
}

function replace(
  state: MatchState,
  ring: TurnedRing,
  chosen: TurnedRing['now'],
  belief: number,
  reason: string,
): void {
  const keys = new Set([...ring.now, ...ring.turned].map(([a, b]) => pairKey(a, b)));
  const kept = state.found.filter((f) => !keys.has(pairKey(f.a, f.b)));
  for (const [a] of ring.now) state.glued.open(a);
  for (const [a, b] of chosen) {
    state.glued.glue(a, b);
    kept.push({ a, b, belief, reason });
  }
  state.found.splice(0, state.found.length, ...kept);
}
