/**
 * The gluing that matching works on: what the person and the printed numbers settle is glued first, then geometry adds
 * to it. Everything is by edge number; {@link seamsOfState} turns it into seams.
 */
import type { Issue } from '../base';
import type { OpenEdge, Pattern, Seam, SeamDecisions, SeamRun, Seams } from '../model';
import type { Mm } from '../units';
import { type EdgeTable, tabulateEdges } from './edgeTable';
import { GluedOutlines } from './gluedOutlines';
import { halfEdgesOf } from './halfEdges';
import { areUnequal } from './lengths';
import { seamsOfParts } from './madeParts';
import { openCandidates } from './matchByGeometry';
import { type CandidatePairs, candidatePairs } from './mateCandidates';
import type { MiddleWay } from './middleBridges';
import { evenedOut, mirrorTwins, type Twins, twinNoise } from './mirrorTwins';
import { numberEvidence, numbersByEdge } from './numbers';
import { type Match, type Resolution, resolve } from './resolve';
import { runsOf } from './runs';
import { seamIdOf } from './seamId';
import { acrossSides, type Sides } from './sides';
import { findTees, type Tee } from './teeJunctions';
import { crowdedIssue, leftOpenIssue, openIssue, unequalIssue } from './wording';

/** A seam found by geometry, with its sentence. */
export interface FoundByGeometry {
  readonly a: number;
  readonly b: number;
  readonly belief: number;
  readonly reason: string;
}

export interface MatchState {
  readonly edges: EdgeTable;
  readonly decisions: SeamDecisions;
  readonly labels: Pattern['labels'];
  readonly settled: Resolution;
  readonly twin: Twins;
  readonly glued: GluedOutlines;
  readonly pairs: CandidatePairs;
  readonly mayPair: (a: number, b: number) => boolean;
  readonly found: FoundByGeometry[];
  /** Pairs that were tried and taken back, see `pairKey`. */
  readonly refused: Set<string>;
  /** The sides of a mirror-symmetric shell, where they are known: `mayPair` is false across them. */
  readonly sided: { now: Sides | null };
  /** Of these, the pairs that the folded shell may still join. */
  readonly heldBack: Set<string>;
  /** Pairs left open because other ways fit as well: how likely each is, 0 to 1, see `pairKey`. */
  readonly doubts: Map<string, number>;
  /** Bridges that could be glued in several ways, each with its gain, see middleBridges.ts. */
  readonly asked: (readonly MiddleWay[])[];
  /** What the maker should know about how seams were found. */
  readonly findings: Issue[];
}

export const pairKey = (a: number, b: number): string => `${Math.min(a, b)} ${Math.max(a, b)}`;

/** @param noise error in length of mates, where it is known already */
export function startMatching(
  pattern: Pattern,
  decisions: SeamDecisions,
  noise: Mm | null = null,
): MatchState {
  const edges = tabulateEdges(pattern);
  const labels = decisions.useNumbers ? pattern.labels : [];
  const settled = resolve(edges, decisions, [numberEvidence(labels)]);
  const drawn = halfEdgesOf(edges);
  const twin = mirrorTwins(drawn);
  const half = evenedOut(drawn, twin);
  const glued = new GluedOutlines(half);
  for (const id of settled.borders) glued.shutOut(half.indexOf.get(id)!);
  for (const { a, b } of settled.parts) for (const id of [a, b]) glued.shutOut(half.indexOf.get(id)!);
  for (const match of new Set(settled.matchOf.values())) {
    const [a, b] = [half.indexOf.get(match.a)!, half.indexOf.get(match.b)!];
    if (match.direction === 'opposed') glued.glue(a, b);
    else {
      glued.shutOut(a);
      glued.shutOut(b);
    }
  }
  const rejected = new Set(decisions.rejected);
  const refused = new Set<string>();
  const sided: MatchState['sided'] = { now: null };
  const mayPair = (a: number, b: number): boolean =>
    a !== b &&
    (sided.now === null || !acrossSides(sided.now, twin, a, b)) &&
    ((glued.isOpen(a) && glued.isOpen(b)) || glued.mate[a] === b) &&
    !refused.has(pairKey(a, b)) &&
    (rejected.size === 0 || !rejected.has(seamIdOf(half.ids[a]!, half.ids[b]!)));
  // Mates by number take part in corners, whatever their lengths say.
  const known = [...new Set(settled.matchOf.values())]
    .filter((m) => m.direction === 'opposed')
    .map((m) => [half.indexOf.get(m.a)!, half.indexOf.get(m.b)!] as const);
  const pairs = candidatePairs(half, twin, mayPair, known, twinNoise(drawn, twin), noise);
  return {
    edges,
    decisions,
    labels,
    settled,
    twin,
    glued,
    pairs,
    mayPair,
    found: [],
    refused,
    sided,
    heldBack: new Set(),
    doubts: new Map(),
    asked: [],
    findings: [],
  };
}

/** Takes back seams that geometry had found, for good. */
export function takeBack(state: MatchState, seams: readonly (readonly [number, number])[]): void {
  const keys = new Set(seams.map(([a, b]) => pairKey(a, b)));
  const kept = state.found.filter((f) => !keys.has(pairKey(f.a, f.b)));
  state.found.splice(0, state.found.length, ...kept);
  for (const [a, b] of seams) {
    if (state.glued.mate[a] === b) state.glued.open(a);
    state.refused.add(pairKey(a, b));
  }
}

/** Seams, runs, open edges and findings of the state as it is. */
export function seamsOfState(state: MatchState, belief: Float64Array): Seams {
  const { edges, settled, glued, pairs, labels } = state;
  const { half } = glued;
  const matchOf = new Map<string, Match>(settled.matchOf);
  const reasonOf = new Map<string, string>();
  for (const { a, b, belief: confidence, reason } of state.found) {
    const match: Match = {
      a: half.ids[a]!,
      b: half.ids[b]!,
      direction: 'opposed',
      evidence: 'geometry',
      confidence,
    };
    matchOf.set(match.a, match);
    matchOf.set(match.b, match);
    reasonOf.set(seamIdOf(match.a, match.b), reason);
  }
  const seams: Seam[] = [];
  const runs: SeamRun[] = [];
  const issues: Issue[] = [...settled.issues, ...state.findings];
  runsOf(edges, matchOf).forEach((draft, i) => {
    const members = draft.map(({ a, b, match }): Seam => {
      const [placeA, placeB] = [edges.get(a)!, edges.get(b)!];
      const id = seamIdOf(a, b);
      const reason = reasonOf.get(id);
      const seam: Seam = {
        id,
        number: i + 1,
        a: { piece: placeA.piece, edge: a },
        b: { piece: placeB.piece, edge: b },
        direction: match.direction,
        evidence: match.evidence,
        confidence: match.confidence,
        lengthA: placeA.length,
        lengthB: placeB.length,
        ...(reason ? { reason } : {}),
      };
      if (areUnequal(placeA.length, placeB.length)) issues.push(unequalIssue(seam, placeA, placeB));
      return seam;
    });
    seams.push(...members);
    runs.push({ id: `run:${members[0]!.id}`, number: i + 1, seams: members.map((s) => s.id) });
  });
  const ofParts = seamsOfParts(edges, settled.parts, runs.length + 1);
  seams.push(...ofParts.seams);
  runs.push(...ofParts.runs);
  issues.push(...ofParts.issues);
  const tees = findTees(glued, pairs.reach, state.mayPair);
  tees.forEach((tee) => {
    const members = seamsOfTee(tee, state, runs.length + 1);
    seams.push(...members);
    runs.push({ id: `run:${members[0]!.id}`, number: runs.length + 1, seams: members.map((s) => s.id) });
  });
  const inTee = new Set(
    tees.flatMap((t) => [t.long, ...t.parts.map((p) => p.edge)]).map((e) => half.ids[e]!),
  );
  const numbers = numbersByEdge(labels);
  const open = edges.inOrder
    .filter((p) => !matchOf.has(p.id) && !inTee.has(p.id) && !ofParts.covered.has(p.id))
    .map((place): OpenEdge => {
      const base = { piece: place.piece, edge: place.id, label: numbers.get(place.id)?.join(', ') ?? '' };
      if (settled.borders.has(place.id)) return { ...base, why: 'border', candidates: [] };
      const at = half.indexOf.get(place.id)!;
      const weighed = glued.isOpen(at) ? weighedCandidates(state, belief, at) : [];
      const doubt = settled.doubtOf.get(place.id);
      const byNumber = (doubt?.candidates ?? []).filter(
        (id) => !matchOf.has(id) && !settled.borders.has(id) && !weighed.some((c) => half.ids[c.edge] === id),
      );
      return {
        ...base,
        why: doubt?.why ?? 'no-evidence',
        candidates: [...weighed.map((c) => half.ids[c.edge]!), ...byNumber],
        scores: [...weighed.map((c) => c.score), ...byNumber.map(() => 0)],
      };
    });
  const left = open.filter((o) => o.why === 'no-evidence');
  const asked = left.filter((o) => o.candidates.length > 0);
  const alone = left.filter((o) => o.candidates.length === 0);
  const placesOf = (all: readonly OpenEdge[]) => all.map((o) => edges.get(o.edge)!);
  if (asked.length > 0) issues.push(leftOpenIssue(asked, placesOf(asked)));
  if (alone.length > 0) issues.push(openIssue(alone, placesOf(alone), true));
  const crowded = edges.inOrder.filter((p, i) => pairs.crowded[i] && !matchOf.has(p.id) && !inTee.has(p.id));
  if (crowded.length > 0) issues.push(crowdedIssue(crowded));
  return { seams, runs, open, issues };
}

/** Candidates of an open edge, likeliest first; where ways were weighed against each other, their scores hold. */
function weighedCandidates(
  { glued, pairs, doubts }: MatchState,
  belief: Float64Array,
  at: number,
): { edge: number; score: number }[] {
  const byBelief = openCandidates(glued, pairs, belief, at);
  if (doubts.size === 0) return byBelief;
  const weighed = [...doubts].flatMap(([key, score]) => {
    const [a, b] = key.split(' ').map(Number) as [number, number];
    const other = a === at ? b : b === at ? a : -1;
    return other >= 0 && glued.isOpen(other) ? [{ edge: other, score }] : [];
  });
  const rest = byBelief.filter((c) => !weighed.some((w) => w.edge === c.edge));
  const left = weighed.length > 0 ? Math.max(0, 1 - weighed.reduce((sum, w) => sum + w.score, 0)) : 1;
  return [...weighed, ...rest.map((c) => ({ edge: c.edge, score: left * c.score }))].sort(
    (p, q) => q.score - p.score || p.edge - q.edge,
  );
}

/** One seam for each short edge; the side read first is side a, as everywhere. */
function seamsOfTee({ long, parts }: Tee, { edges, glued }: MatchState, number: number): Seam[] {
  const { ids } = glued.half;
  const longPlace = edges.get(ids[long]!)!;
  const sum = parts.reduce((s, { edge }) => s + edges.get(ids[edge]!)!.length, 0);
  const reason = `The pieces make a full turn at the end, and ${parts.length} edges in one line (${sum.toFixed(2)} mm together) are as long as this one (${longPlace.length.toFixed(2)} mm).`;
  return parts.map(({ edge, from, to }): Seam => {
    const place = edges.get(ids[edge]!)!;
    const [a, b] = longPlace.order < place.order ? [longPlace, place] : [place, longPlace];
    return {
      id: seamIdOf(a.id, b.id),
      number,
      a: { piece: a.piece, edge: a.id },
      b: { piece: b.piece, edge: b.id },
      direction: 'opposed',
      evidence: 'geometry',
      confidence: teeConfidence,
      lengthA: a === longPlace ? to - from : a.length,
      lengthB: b === longPlace ? to - from : b.length,
      reason,
      ...(a === longPlace ? { partA: [from, to] } : { partB: [from, to] }),
    };
  });
}

/** As sure as zipping on from a closed end. */
const teeConfidence = 0.85;
