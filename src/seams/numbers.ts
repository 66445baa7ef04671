/**
 * Evidence from printed numbers: edges with the same number belong together. A number on exactly two edges makes a
 * seam; on one edge it answers nothing; on more, lengths may single out pairs.
 */
import type { Issue } from '../base';
import type { EdgeLabel } from '../model';
import type { EdgePlace, EdgeTable } from './edgeTable';
import type { Doubt, EvidenceSource, Findings, Proposal, Settled } from './evidence';
import { areSame, areUnequal } from './lengths';
import { agreeingStretch } from './stretch';
import {
  numberConfidence,
  repeatedOtherConfidence,
  repeatedSameConfidence,
  unequalNumberConfidence,
} from './tolerance';
import { aloneIssue, repeatedIssue, runQuestion, severalNumbersIssue } from './wording';

/** What is compared: spaces and a closing dot (which tells 6. from 9.) do not count. */
export const numberOf = (label: EdgeLabel): string =>
  label.text
    .normalize('NFKC')
    .trim()
    .replace(/[.\s]+$/, '');

/** Numbers of each edge, each once, in the order of their text. */
export function numbersByEdge(labels: readonly EdgeLabel[]): Map<string, string[]> {
  const found = new Map<string, Set<string>>();
  for (const label of labels) {
    const number = numberOf(label);
    if (number === '') continue;
    const set = found.get(label.edge) ?? new Set<string>();
    found.set(label.edge, set.add(number));
  }
  return new Map([...found].map(([edge, set]) => [edge, [...set].sort()]));
}

export function numberEvidence(labels: readonly EdgeLabel[]): EvidenceSource {
  const ofEdge = numbersByEdge(labels);
  return {
    evidence: 'number',
    find(edges, settled) {
      const groups = new Map<string, EdgePlace[]>();
      for (const place of edges.inOrder)
        for (const number of ofEdge.get(place.id) ?? [])
          groups.set(number, [...(groups.get(number) ?? []), place]);
      const all: Findings[] = [...groups].map(([number, places]) =>
        judgeNumber(number, places, edges, settled, (id) => ofEdge.has(id)),
      );
      const several = edges.inOrder.filter((p) => (ofEdge.get(p.id) ?? []).length > 1);
      return {
        proposals: all.flatMap((f) => f.proposals),
        doubts: all.flatMap((f) => f.doubts),
        issues: [
          ...all.flatMap((f) => f.issues),
          ...several.map((place) => severalNumbersIssue(place, ofEdge.get(place.id)!)),
        ],
      };
    },
  };
}

function judgeNumber(
  number: string,
  places: readonly EdgePlace[],
  edges: EdgeTable,
  settled: Settled,
  hasNumber: (edge: string) => boolean,
): Findings {
  const proposals: Proposal[] = [];
  const doubts: Doubt[] = [];
  const issues: Issue[] = [];
  const free = places.filter((p) => settled.isFree(p.id));
  const others = (p: EdgePlace) => free.filter((q) => q.id !== p.id).map((q) => q.id);

  if (places.length === 1) {
    const only = places[0]!;
    // When the person has paired the edge, or keeps it open, its number asks nothing any more.
    if (free.length === 1) {
      doubts.push({ edge: only.id, why: 'number-alone', candidates: [] });
      issues.push(aloneIssue(number, only));
    }
  } else if (places.length === 2) {
    const [a, b] = places as [EdgePlace, EdgePlace];
    for (const p of free) doubts.push({ edge: p.id, why: 'no-evidence', candidates: others(p) });
    if (free.length === 2 && !settled.isRejected(a.id, b.id)) {
      const unequal = areUnequal(a.length, b.length);
      const stretch = unequal ? agreeingStretch(a, b, edges, hasNumber) : null;
      if (stretch) issues.push(runQuestion(number, a, b, stretch));
      else
        proposals.push({
          a: a.id,
          b: b.id,
          direction: 'opposed',
          confidence: unequal ? unequalNumberConfidence : numberConfidence,
        });
    }
  } else {
    for (const p of free) doubts.push({ edge: p.id, why: 'number-repeated', candidates: others(p) });
    for (let i = 0; i < free.length; i++)
      for (let j = i + 1; j < free.length; j++) {
        const a = free[i]!;
        const b = free[j]!;
        if (settled.isRejected(a.id, b.id)) continue;
        const confidence = areSame(a.length, b.length) ? repeatedSameConfidence : repeatedOtherConfidence;
        proposals.push({ a: a.id, b: b.id, direction: 'opposed', confidence });
      }
    if (free.length > 0) issues.push(repeatedIssue(number, places));
  }
  return { proposals, doubts, issues };
}
