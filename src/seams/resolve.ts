/**
 * Decides which edges are mates. The person's word comes first; then each source of evidence is asked in turn, and of
 * its proposals those are taken that are good enough and clearly the best for both of their edges. A seam taken removes
 * rivals, so the rest is looked at again until nothing changes. What stays unclear stays open.
 */
import type { Issue } from '../base';
import type { MadeSeam, Seam, SeamDecisions } from '../model';
import { seamsByHand } from './byHand';
import type { EdgeTable } from './edgeTable';
import type { Doubt, EvidenceSource, Proposal, Settled } from './evidence';
import { seamIdOf } from './seamId';
import { acceptFrom, clearLead } from './tolerance';

/** A pair of mates, before it is named and numbered. */
export interface Match {
  readonly a: string;
  readonly b: string;
  readonly direction: Seam['direction'];
  readonly evidence: Seam['evidence'];
  readonly confidence: number;
}

export interface Resolution {
  /** Both edges of each match lead to it. */
  readonly matchOf: ReadonlyMap<string, Match>;
  /** Seams of the person on stretches of edges; their edges are in no match. */
  readonly parts: readonly MadeSeam[];
  readonly borders: ReadonlySet<string>;
  /** The latest doubt about each edge. */
  readonly doubtOf: ReadonlyMap<string, Doubt>;
  readonly issues: readonly Issue[];
}

export function resolve(
  edges: EdgeTable,
  decisions: SeamDecisions,
  sources: readonly EvidenceSource[],
): Resolution {
  const issues: Issue[] = [];
  const missing = decisions.borders.filter((id) => !edges.get(id));
  const { whole, parts } = seamsByHand(edges, decisions.made, missing, issues);
  const matchOf = new Map<string, Match>();
  for (const { a, b, direction } of whole) {
    const match: Match = { a, b, direction, evidence: 'person', confidence: 1 };
    matchOf.set(a, match);
    matchOf.set(b, match);
  }
  const inPart = new Set(parts.flatMap(({ a, b }) => [a, b]));
  const rejected = new Set(decisions.rejected);
  const borders = new Set(
    decisions.borders.filter((id) => edges.get(id) && !matchOf.has(id) && !inPart.has(id)),
  );
  const settled: Settled = {
    mateOf: (edge) => {
      const match = matchOf.get(edge);
      return match && (match.a === edge ? match.b : match.a);
    },
    isFree: (edge) => !matchOf.has(edge) && !borders.has(edge) && !inPart.has(edge),
    isRejected: (a, b) => rejected.has(seamIdOf(a, b)),
  };
  const doubtOf = new Map<string, Doubt>();
  for (const source of sources) {
    const findings = source.find(edges, settled);
    issues.push(...findings.issues);
    for (const doubt of findings.doubts) doubtOf.set(doubt.edge, doubt);
    const usable = findings.proposals.filter((p) => p.a !== p.b && !settled.isRejected(p.a, p.b));
    takeClearOnes(usable, settled, (p) => {
      const match: Match = { ...p, evidence: source.evidence };
      matchOf.set(p.a, match);
      matchOf.set(p.b, match);
    });
  }
  return { matchOf, parts, borders, doubtOf, issues };
}

function takeClearOnes(proposals: readonly Proposal[], settled: Settled, take: (p: Proposal) => void): void {
  let open = [...proposals];
  for (;;) {
    open = open.filter((p) => settled.isFree(p.a) && settled.isFree(p.b));
    const ofEdge = new Map<string, Proposal[]>();
    for (const p of open) for (const id of [p.a, p.b]) ofEdge.set(id, [...(ofEdge.get(id) ?? []), p]);
    const isClear = (p: Proposal) =>
      p.confidence >= acceptFrom &&
      [p.a, p.b].every((id) =>
        ofEdge.get(id)!.every((rival) => samePair(rival, p) || rival.confidence <= p.confidence - clearLead),
      );
    const clear = open.filter(isClear);
    if (clear.length === 0) return;
    for (const p of clear) take(p);
  }
}

const samePair = (p: Proposal, q: Proposal): boolean => seamIdOf(p.a, p.b) === seamIdOf(q.a, q.b);
