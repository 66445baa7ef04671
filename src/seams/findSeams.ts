/**
 * Which edge meets which. Positions are only read to count in reading order: moving or turning the whole pattern, or
 * the order of its pieces, changes no pair.
 */
import type { Issue } from '../base';
import type { OpenEdge, Pattern, Seam, SeamDecisions, SeamRun, Seams } from '../model';
import { type EdgePlace, tabulateEdges } from './edgeTable';
import type { EvidenceSource } from './evidence';
import { areUnequal } from './lengths';
import { seamsOfParts } from './madeParts';
import { numberEvidence, numbersByEdge } from './numbers';
import { resolve } from './resolve';
import { runsOf } from './runs';
import { seamIdOf } from './seamId';
import { openIssue, unequalIssue } from './wording';

/**
 * Pairs the edges of a pattern: by the person's decisions, then by printed numbers where those are used. Lengths in mm.
 * Seams come run by run in reading order and carry their run's number; side a of a run is the side read first. Edges
 * without a mate are listed in reading order. Never throws for bad decisions; what can't be kept is an issue.
 */
export function findSeams(pattern: Pattern, decisions: SeamDecisions): Seams {
  const edges = tabulateEdges(pattern);
  const labels = decisions.useNumbers ? pattern.labels : [];
  const sources: EvidenceSource[] = [numberEvidence(labels)];
  const { matchOf, parts, borders, doubtOf, issues: found } = resolve(edges, decisions, sources);

  const seams: Seam[] = [];
  const runs: SeamRun[] = [];
  const issues: Issue[] = [...found];
  runsOf(edges, matchOf).forEach((draft, i) => {
    const number = i + 1;
    const members = draft.map(({ a, b, match }): Seam => {
      const placeA = edges.get(a)!;
      const placeB = edges.get(b)!;
      const seam: Seam = {
        id: seamIdOf(a, b),
        number,
        a: { piece: placeA.piece, edge: a },
        b: { piece: placeB.piece, edge: b },
        direction: match.direction,
        evidence: match.evidence,
        confidence: match.confidence,
        lengthA: placeA.length,
        lengthB: placeB.length,
      };
      if (areUnequal(placeA.length, placeB.length)) issues.push(unequalIssue(seam, placeA, placeB));
      return seam;
    });
    seams.push(...members);
    runs.push({ id: `run:${members[0]!.id}`, number, seams: members.map((s) => s.id) });
  });

  const ofParts = seamsOfParts(edges, parts, runs.length + 1);
  seams.push(...ofParts.seams);
  runs.push(...ofParts.runs);
  issues.push(...ofParts.issues);

  const numbers = numbersByEdge(labels);
  const open = edges.inOrder
    .filter((place) => !matchOf.has(place.id) && !ofParts.covered.has(place.id))
    .map((place): OpenEdge => {
      const label = numbers.get(place.id)?.join(', ') ?? '';
      const base = { piece: place.piece, edge: place.id, label };
      if (borders.has(place.id)) return { ...base, why: 'border', candidates: [] };
      const doubt = doubtOf.get(place.id);
      if (!doubt) return { ...base, why: 'no-evidence', candidates: [] };
      const candidates = doubt.candidates.filter((id) => !matchOf.has(id) && !borders.has(id));
      return { ...base, why: doubt.why, candidates };
    });
  const unasked = open.filter((o) => o.why === 'no-evidence');
  if (unasked.length > 0) {
    const places: EdgePlace[] = unasked.map((o) => edges.get(o.edge)!);
    issues.push(openIssue(unasked, places, numbers.size > 0));
  }
  return { seams, runs, open, issues };
}
