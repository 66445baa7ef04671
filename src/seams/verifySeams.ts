/**
 * The pass that folds up: what flat outlines leave open is decided by the shape that the sure seams give. Mirror-image
 * parts are joined along their middle, and taken apart again when the shell does not fold up with it; edges whose ends
 * come together are glued; then matching goes on from there, and the shell is folded again while that brings anything.
 */
import { GirthwiseError, type Work } from '../base';
import type { Point3 } from '../math';
import type { Pattern, SeamDecisions, Seams } from '../model';
import type { Mm } from '../units';
import { settleAlike } from './alike';
import { askShell } from './askShell';
import { exchangeByShell, exchangesInQuestion } from './exchangeByShell';
import { reportExchanges } from './exchanges';
import { findSeams } from './findSeams';
import { joiningOf } from './looseParts';
import { commonest, firstMatch, matchLeft, renewSides } from './matchSeams';
import { type FoundByGeometry, type MatchState, pairKey, seamsOfState } from './matchState';
import {
  doubtSteps,
  foldCost,
  gapLead,
  gapPart,
  gapWithin,
  hopelessFold,
  mostFolds,
  mostMiddleRounds,
  soundFold,
  worthFolding,
} from './matchTolerance';
import { edgesOf } from './middleBridges';
import { type Middle, middleOf, mirrorRuns } from './mirrorJoin';
import { pieceTurns } from './pieceTurns';
import { settleBridges } from './settleBridges';
import { settleMiddle } from './settleMiddle';
import { tabEvidence } from './tabEvidence';
import { ringInQuestion, turnRing } from './turnRing';
import { looseIssue } from './wording';

/** Where the edges lie in the folded shell. */
export interface FoldedEdges {
  /** Start and end of an edge, mm; those of one connected part are in one frame. Null for edges that were not folded. */
  endsOf(edge: string): readonly [Point3, Point3] | null;
  /** How far folded lengths are from flat ones. */
  readonly residual: { readonly rms: Mm; readonly max: Mm };
}

/** A fold-up that differs from the one asked for by a few pieces, which a probe may begin from. */
export interface NearFold {
  /** As the probe gave it. */
  readonly folded: FoldedEdges;
  /** Edges of pieces that changed places: each lies where the other edge lay. */
  readonly movedTo: ReadonlyMap<string, string>;
}

/** Where a fold-up may begin, and whether it is only for a look: then corners that snapped in may be left. */
export interface FoldFrom {
  readonly near?: NearFold;
  readonly rough?: boolean;
}

/**
 * Folds the pattern up with these seams (sides `opposed`) and no others.
 * @throws Cancelled
 */
export type FoldProbe = (
  seams: readonly { readonly a: string; readonly b: string }[],
  work: Work,
  from?: FoldFrom,
) => Promise<FoldedEdges>;

/**
 * Like `matchSeams`, and with the help of the folded shell for what is left. With `findRest` off it is `findSeams`, and
 * nothing is folded. Seams with which the shell does not fold up are reported open, with their candidates. A probe that
 * refuses a set of seams (by a GirthwiseError) counts as one that does not fold up.
 * @throws Cancelled out of `work`, and other errors of `probe`
 */
export async function verifySeams(
  pattern: Pattern,
  decisions: SeamDecisions,
  probe: FoldProbe,
  work: Work,
): Promise<Seams> {
  if (!decisions.findRest) return findSeams(pattern, decisions);
  await work.step(0, mostFolds + 1, 'Matching edges');
  const matched = firstMatch(pattern, decisions);
  const { state } = matched;
  let { belief } = matched;
  const joined = joinMiddles(pattern, state);
  if (joined.length > 0) belief = matchLeft(state);
  const settle = (weighed: readonly (readonly [number, number])[] = []) => {
    for (let rounds = 0; rounds < mostMiddleRounds; rounds++) {
      const { made, apart } = settleMiddle(pattern, state, weighed);
      joined.push(...made);
      if (made.length + apart === 0) break;
      belief = matchLeft(state);
    }
  };
  settle();
  const hung = joinLooseParts(pattern, state);
  joined.push(...hung);
  if (hung.length > 0) {
    belief = matchLeft(state);
    // What hung loose may have stood between the two sides of a seam of the middle.
    settle(hung);
  }
  const fold = (done: number, from?: FoldFrom) => foldWith(state, probe, work, done, from);
  let ring = ringInQuestion(state);
  let questions = exchangesInQuestion(pattern, state);
  let settled: ReadonlySet<string> = new Set();
  /** Settles exchanges by a sound shell; null where it is none, or nothing is asked. */
  const judge = async (shell: FoldedEdges): Promise<NearFold | null> => {
    if (questions.length === 0 || shell.residual.rms > soundFold) return null;
    const trial = (near: NearFold) => fold(mostFolds, { near, rough: true });
    const way = await exchangeByShell(pattern, state, questions, shell, trial);
    settled = way.settled;
    questions = [];
    renewSides(state);
    return way.near;
  };
  const worthwhile = joined.length > 0 || ring !== null || questions.length > 0 || mayGain(state);
  for (let folds = 1; folds <= mostFolds && (folds > 1 || worthwhile); ) {
    // Exchanges are judged by a rough look; the shell is folded in full from there. What is poor is not asked.
    const look = questions.length > 0 ? await fold(folds, { rough: true }) : null;
    const near = look && (await judge(look));
    let folded = await fold(folds++, near ? { near } : {});
    if (!folded || folded.residual.rms > soundFold) {
      const sounder = await holdBack(state, folded, folds === 2 ? joined : [], () => fold(folds++));
      if (!sounder) break;
      folded = sounder;
      const renewed = await judge(folded);
      if (renewed) folded = (await fold(folds++, { near: renewed })) ?? folded;
    }
    questions = [];
    if (ring) await turnRing(pattern, state, ring, folded, () => fold(folds++));
    ring = null;
    const gained = closeGaps(state, folded);
    if (gained > 0) belief = matchLeft(state);
    if (gained < worthFolding) break;
  }
  // Nothing is matched after it: what it leaves open in doubt would be taken by the next best.
  await askShell(pattern, state, () => fold(mostFolds));
  await settleBridges(pattern, state, () => fold(mostFolds));
  await settleAlike(state, () => fold(mostFolds));
  reportExchanges(pattern, state, settled);
  await work.step(mostFolds + 1, mostFolds + 1, 'Seams checked');
  return seamsOfState(state, belief);
}

/** The shell with the seams of now; null where they make no surface. */
async function foldWith(
  state: MatchState,
  probe: FoldProbe,
  work: Work,
  done: number,
  from?: FoldFrom,
): Promise<FoldedEdges | null> {
  await work.step(Math.min(done, mostFolds), mostFolds + 1, 'Folding up to check seams');
  try {
    return await probe(gluedPairs(state), work, from);
  } catch (error) {
    if (error instanceof GirthwiseError) return null;
    throw error;
  }
}

/**
 * A fold-up that is not sound: what was joined last, then what is least sure, is taken out, and stays out when that
 * makes a surface of it, or a much better one. Returns the better fold-up; null where there is none.
 */
async function holdBack(
  state: MatchState,
  folded: FoldedEdges | null,
  joined: readonly (readonly [number, number])[],
  fold: () => Promise<FoldedEdges | null>,
): Promise<FoldedEdges | null> {
  const isJoined = new Set(joined.map(([a, b]) => pairKey(a, b)));
  const groups = [
    (f: FoundByGeometry) => isJoined.has(pairKey(f.a, f.b)),
    ...doubtSteps.map((limit) => (f: FoundByGeometry) => f.belief < limit),
  ];
  let best = folded;
  for (const doubtful of groups) {
    const out = state.found.filter(doubtful);
    if (out.length === 0) continue;
    for (const { a } of out) state.glued.open(a);
    const without = await fold();
    const better =
      without &&
      (!best || best.residual.rms > hopelessFold || best.residual.rms > foldCost * without.residual.rms);
    if (better) {
      const kept = state.found.filter((f) => !out.includes(f));
      state.found.splice(0, state.found.length, ...kept);
      best = without;
      if (best.residual.rms <= soundFold) return best;
    } else for (const { a, b } of out) state.glued.glue(a, b);
    // One group is held against a fold-up that is merely poor; more are tried while there is no surface at all.
    if (best) return best;
  }
  return best;
}

/** True when two open edges could still be mates. */
function mayGain({ glued, pairs, mayPair, heldBack }: MatchState): boolean {
  for (let p = 0; p < pairs.low.length; p++) {
    const [a, b] = [pairs.low[p]!, pairs.high[p]!];
    if (!glued.isOpen(a) || !glued.isOpen(b)) continue;
    if (mayPair(a, b) || heldBack.has(pairKey(a, b))) return true;
  }
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

/** Joins mirror-image parts along their middles; returns the seams made. */
function joinMiddles(pattern: Pattern, state: MatchState): (readonly [number, number])[] {
  const { glued, pairs, found, heldBack } = state;
  const made: (readonly [number, number])[] = [];
  const joined = new Set<number>();
  const mayJoin = (a: number, b: number) => state.mayPair(a, b) || heldBack.has(pairKey(a, b));
  for (const parts of mirrorRuns(glued, pairs, mayJoin)) {
    if (parts.parts.some((p) => joined.has(p))) continue;
    const middle = middleOf(glued, parts, tabEvidence(pattern, state));
    if (!middle) continue;
    for (const p of parts.parts) joined.add(p);
    for (const [a, b] of middle.runs.flatMap((run) => run.pairs)) {
      if (!glued.isOpen(a) || !glued.isOpen(b)) continue;
      glued.glue(a, b);
      found.push({ a, b, belief: middleBelief[middle.why], reason: middleReason(middle) });
      made.push([a, b]);
    }
  }
  return made;
}

/** Joins parts that hang loose; returns the seams made. */
function joinLooseParts(pattern: Pattern, state: MatchState): (readonly [number, number])[] {
  const { glued, pairs, mayPair, found } = state;
  // Where a strip across the middle belongs is asked as a whole.
  const part = glued.parts();
  const partOf = (e: number) => part[glued.half.piece[e]!]!;
  const asked = new Set(state.asked.flat().flatMap(edgesOf));
  const strips = new Set([...asked].map(partOf));
  strips.delete(commonest(part));
  const isAsked = (e: number) => asked.has(e) || strips.has(partOf(e));
  const mayJoin = (a: number, b: number) => mayPair(a, b) && !isAsked(a) && !isAsked(b);
  const joining = joiningOf(glued, pairs, mayJoin, pieceTurns(pattern, glued, pairs.reach));
  if (!joining) return [];
  for (const [a, b] of joining.pairs) {
    glued.glue(a, b);
    found.push({ a, b, belief: looseBelief, reason: looseReason });
  }
  const places = joining.pairs.flat().map((e) => state.edges.get(glued.half.ids[e]!)!);
  state.findings.push(looseIssue(places, joining));
  return [...joining.pairs];
}

const looseBelief = 0.75;
const looseReason =
  'No corner closes here, but without this seam parts would hang loose; the edges are equally long, and this way the rims run on most smoothly.';

/** The longest line is a strong sign and no proof: an opening could be longer. */
const middleBelief = { longest: 0.7, tabs: 0.9 } as const;
const middleReason = ({ why, length }: Middle): string =>
  why === 'longest'
    ? `The two sides are mirror images, and along this line they meet over by far the greatest length (${length.toFixed(0)} mm).`
    : 'The two sides are mirror images, and along this line one of them has glue tabs.';

/** Glues pairs of one part whose ends lie together, the closest first. */
function closeGaps({ glued, pairs, mayPair, heldBack, found }: MatchState, folded: FoldedEdges): number {
  const { half } = glued;
  const part = glued.parts();
  const gaps: { a: number; b: number; gap: Mm }[] = [];
  const apart = (p: Point3, q: Point3) => Math.hypot(p.x - q.x, p.y - q.y, p.z - q.z);
  for (let p = 0; p < pairs.low.length; p++) {
    const [a, b] = [pairs.low[p]!, pairs.high[p]!];
    if (!glued.isOpen(a) || !glued.isOpen(b) || part[half.piece[a]!] !== part[half.piece[b]!]) continue;
    if (!mayPair(a, b) && !heldBack.has(pairKey(a, b))) continue;
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
