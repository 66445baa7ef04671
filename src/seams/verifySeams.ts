/**
 * The pass that folds up: what flat outlines leave open is decided by the shape that the sure seams give. Mirror-image
 * parts are joined along their middle, and taken apart again when the shell does not fold up with it; edges whose ends
 * come together are glued; then matching goes on from there, and the shell is folded again while that brings anything.
 */
import type { Work } from '../base';
import type { Point3 } from '../math';
import type { Pattern, SeamDecisions, Seams } from '../model';
import type { Mm } from '../units';
import { findSeams } from './findSeams';
import { matchLeft } from './matchSeams';
import { type MatchState, seamsOfState, startMatching } from './matchState';
import { gapLead, gapPart, gapWithin, mostFolds, soundFold } from './matchTolerance';
import { middleOf, mirrorRuns } from './mirrorJoin';

/** Where the edges lie in the folded shell. */
export interface FoldedEdges {
  /** Start and end of an edge, mm; those of one connected part are in one frame. Null for edges that were not folded. */
  endsOf(edge: string): readonly [Point3, Point3] | null;
  /** How far folded lengths are from flat ones. */
  readonly residual: { readonly rms: Mm; readonly max: Mm };
}

/**
 * Folds the pattern up with these seams (sides `opposed`) and no others.
 * @throws Cancelled
 */
export type FoldProbe = (
  seams: readonly { readonly a: string; readonly b: string }[],
  work: Work,
) => Promise<FoldedEdges>;

/**
 * Like `matchSeams`, and with the help of the folded shell for what is left. With `findRest` off it is `findSeams`, and
 * nothing is folded.
 * @throws Cancelled out of `work`, and whatever `probe` throws
 */
export async function verifySeams(
  pattern: Pattern,
  decisions: SeamDecisions,
  probe: FoldProbe,
  work: Work,
): Promise<Seams> {
  if (!decisions.findRest) return findSeams(pattern, decisions);
  const state = startMatching(pattern, decisions);
  await work.step(0, mostFolds + 1, 'Matching edges');
  let belief = matchLeft(state);
  for (let fold = 1; fold <= mostFolds && mayGain(state); fold++) {
    const before = state.found.length;
    const middles = joinMiddles(state);
    if (middles > 0) belief = matchLeft(state);
    await work.step(fold, mostFolds + 1, 'Folding up to check seams');
    const folded = await probe(gluedPairs(state), work);
    if (folded.residual.rms > soundFold) {
      // What was only joined for this fold does not hold; without it, matching has said all it can.
      for (const { a } of state.found.splice(before)) state.glued.open(a);
      break;
    }
    if (closeGaps(state, folded) === 0) break;
    belief = matchLeft(state);
  }
  await work.step(mostFolds + 1, mostFolds + 1, 'Seams checked');
  return seamsOfState(state, belief);
}

/** True when two open edges could still be mates. */
function mayGain({ glued, pairs, mayPair }: MatchState): boolean {
  for (let p = 0; p < pairs.low.length; p++)
    if (glued.isOpen(pairs.low[p]!) && mayPair(pairs.low[p]!, pairs.high[p]!)) return true;
  return false;
}

function gluedPairs({ glued }: MatchState): { a: string; b: string }[] {
  const { ids } = glued.half;
  const out: { a: string; b: string }[] = [];
  glued.mate.forEach((b, a) => {
    if (b > a) out.push({ a: ids[a]!, b: ids[b]! });
  });
  return out;
}

/** Joins mirror-image parts along their middles; returns the number of seams made. */
function joinMiddles({ glued, pairs, mayPair, found }: MatchState): number {
  let made = 0;
  const joined = new Set<number>();
  for (const parts of mirrorRuns(glued, pairs, mayPair)) {
    const middle = middleOf(parts);
    if (!middle || parts.parts.some((p) => joined.has(p))) continue;
    for (const p of parts.parts) joined.add(p);
    for (const [a, b] of middle.pairs) {
      if (!glued.isOpen(a) || !glued.isOpen(b)) continue;
      glued.glue(a, b);
      found.push({ a, b, belief: middleBelief, reason: middleReason(middle.length) });
      made++;
    }
  }
  return made;
}

/** The longest line is a strong sign and no proof: an opening could be longer. */
const middleBelief = 0.7;
const middleReason = (length: Mm): string =>
  `The two sides are mirror images, and this is by far the longest line along which they can meet (${length.toFixed(0)} mm); the shell folds up with it.`;

/** Glues pairs of one part whose ends lie together, the closest first. */
function closeGaps({ glued, pairs, mayPair, found }: MatchState, folded: FoldedEdges): number {
  const { half } = glued;
  const part = glued.parts();
  const gaps: { a: number; b: number; gap: Mm }[] = [];
  const apart = (p: Point3, q: Point3) => Math.hypot(p.x - q.x, p.y - q.y, p.z - q.z);
  for (let p = 0; p < pairs.low.length; p++) {
    const [a, b] = [pairs.low[p]!, pairs.high[p]!];
    if (!glued.isOpen(a) || !mayPair(a, b) || part[half.piece[a]!] !== part[half.piece[b]!]) continue;
    const [endsA, endsB] = [folded.endsOf(half.ids[a]!), folded.endsOf(half.ids[b]!)];
    if (!endsA || !endsB) continue;
    gaps.push({ a, b, gap: Math.max(apart(endsA[0], endsB[1]), apart(endsA[1], endsB[0])) });
  }
  gaps.sort((p, q) => p.gap - q.gap);
  let gained = 0;
  for (const { a, b, gap } of gaps) {
    if (gap > gapWithin || gap > gapPart * half.length[a]!) continue;
    const rival = gaps.find((g) => g.b + g.a !== a + b && [g.a, g.b].some((e) => e === a || e === b));
    if (rival && rival.gap < gapLead * gap + 1) continue;
    if (!glued.isOpen(a) || !glued.isOpen(b)) continue;
    glued.glue(a, b);
    const reason = `The edges are equally long, and folded up their ends lie ${gap.toFixed(1)} mm apart.`;
    found.push({ a, b, belief: 0.9 - (0.3 * gap) / gapWithin, reason });
    gained++;
  }
  return gained;
}
