/**
 * Evidence from printed numbers: edges with the same number belong together. A number on exactly two edges makes a
 * seam; on one edge it answers nothing; on more, lengths may single out pairs. Patterns that print one number for a
 * whole run of edges show it by numbers on unequal edges that fit one run only; then runs are paired edge by edge.
 */
import type { EdgeLabel } from '../model';
import type { EdgePlace, EdgeTable } from './edgeTable';
import type { Doubt, EvidenceSource, Findings, Proposal, Settled } from './evidence';
import { areSame, areUnequal } from './lengths';
import { type Alignment, alignmentsOf } from './numberedRun';
import { type AgreeingStretch, agreeingStretch } from './stretch';
import {
  fewestRunNumbers,
  fewestRunNumbersPart,
  numberConfidence,
  repeatedOtherConfidence,
  repeatedSameConfidence,
  runConfidence,
  runEndConfidence,
  unclearRunConfidence,
  unequalNumberConfidence,
} from './tolerance';
import {
  aloneIssue,
  repeatedIssue,
  runNumbersIssue,
  runQuestion,
  severalNumbersIssue,
  stretchQuestion,
} from './wording';

/** What is compared: spaces and a closing dot (which tells 6. from 9.) do not count. */
const numberOf = (label: EdgeLabel): string =>
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

/** The source that reads the given labels. */
export function numberEvidence(labels: readonly EdgeLabel[]): EvidenceSource {
  const ofEdge = numbersByEdge(labels);
  return {
    evidence: 'number',
    find(edges, settled) {
      const groups = new Map<string, EdgePlace[]>();
      for (const place of edges.inOrder)
        for (const number of ofEdge.get(place.id) ?? [])
          groups.set(number, [...(groups.get(number) ?? []), place]);
      const isPart = (id: string) => !ofEdge.has(id) && settled.isFree(id);
      const couples = new Map<string, Couple>();
      for (const [number, places] of groups)
        if (places.length === 2) couples.set(number, coupleOf(places, edges, settled, isPart));
      const byRuns = isNumberedByRuns([...couples.values()]);
      const all = [...groups].map(([number, places]): Findings => {
        if (places.length === 1) return judgeOne(number, places[0]!, settled);
        const couple = couples.get(number);
        return couple ? judgeTwo(number, couple, byRuns) : judgeMany(number, places, settled);
      });
      const proposals = all.flatMap((f) => f.proposals);
      const several = edges.inOrder.filter((p) => (ofEdge.get(p.id) ?? []).length > 1);
      return {
        proposals,
        doubts: all.flatMap((f) => f.doubts),
        issues: [
          ...(byRuns ? [runNumbersIssue(couples.size, proposals.length)] : []),
          ...all.flatMap((f) => f.issues),
          ...several.map((place) => severalNumbersIssue(place, ofEdge.get(place.id)!)),
        ],
      };
    },
  };
}

/** A number on exactly two edges. */
interface Couple {
  readonly a: EdgePlace;
  readonly b: EdgePlace;
  /** Those of the two that have no mate yet and are no borders. */
  readonly free: readonly EdgePlace[];
  readonly rejected: boolean;
  readonly unequal: boolean;
  /** Stretches round unequal edges that agree only as wholes. */
  readonly stretch: AgreeingStretch | null;
  /** Ways in which a run over edges without a number holds both; empty unless both are free. */
  readonly alignments: readonly Alignment[];
}

function coupleOf(
  places: readonly EdgePlace[],
  edges: EdgeTable,
  settled: Settled,
  isPart: (id: string) => boolean,
): Couple {
  const [a, b] = places as [EdgePlace, EdgePlace];
  const free = places.filter((p) => settled.isFree(p.id));
  const unequal = areUnequal(a.length, b.length);
  return {
    a,
    b,
    free,
    rejected: settled.isRejected(a.id, b.id),
    unequal,
    stretch: unequal && free.length === 2 ? agreeingStretch(a, b, edges, (id) => !isPart(id)) : null,
    alignments: free.length === 2 ? alignmentsOf(a, b, edges, isPart) : [],
  };
}

/** True when enough numbers stand on unequal edges that belong to one run in one way. */
function isNumberedByRuns(couples: readonly Couple[]): boolean {
  const telling = couples.filter((c) => c.unequal && c.alignments.length === 1).length;
  return telling >= Math.max(fewestRunNumbers, fewestRunNumbersPart * couples.length);
}

function judgeOne(number: string, only: EdgePlace, settled: Settled): Findings {
  // When the person has paired the edge, or keeps it open, its number asks nothing any more.
  if (!settled.isFree(only.id)) return nothing;
  return {
    proposals: [],
    doubts: [{ edge: only.id, why: 'number-alone', candidates: [] }],
    issues: [aloneIssue(number, only)],
  };
}

function judgeTwo(number: string, couple: Couple, byRuns: boolean): Findings {
  const { a, b, free, unequal, stretch, alignments } = couple;
  const doubts = doubtsAmong(free, 'no-evidence');
  if (free.length < 2) return { ...nothing, doubts };
  const pair = (confidence: number): Proposal => ({ a: a.id, b: b.id, direction: 'opposed', confidence });
  if (!byRuns && !unequal)
    return { proposals: couple.rejected ? [] : [pair(numberConfidence)], doubts, issues: [] };
  if (byRuns || alignments.length > 0) {
    const clear = byRuns && alignments.length === 1;
    return {
      proposals: byRuns ? alignments.flatMap((run) => proposeRun(run, clear)) : [],
      doubts,
      issues: clear ? [] : [runQuestion(number, a, b, alignments)],
    };
  }
  if (stretch) return { proposals: [], doubts, issues: [stretchQuestion(number, a, b, stretch)] };
  return { proposals: couple.rejected ? [] : [pair(unequalNumberConfidence)], doubts, issues: [] };
}

/** Mates of a run; with other ways to lay it out they are weaker than the doubtful ends of a clear run. */
const proposeRun = (run: Alignment, clear: boolean): Proposal[] =>
  run.map(({ a, b, sure }) => ({
    a,
    b,
    direction: 'opposed',
    confidence: clear ? (sure ? runConfidence : runEndConfidence) : unclearRunConfidence,
  }));

function judgeMany(number: string, places: readonly EdgePlace[], settled: Settled): Findings {
  const free = places.filter((p) => settled.isFree(p.id));
  if (free.length === 0) return nothing;
  const proposals: Proposal[] = [];
  for (let i = 0; i < free.length; i++)
    for (let j = i + 1; j < free.length; j++) {
      const [a, b] = [free[i]!, free[j]!];
      const confidence = areSame(a.length, b.length) ? repeatedSameConfidence : repeatedOtherConfidence;
      proposals.push({ a: a.id, b: b.id, direction: 'opposed', confidence });
    }
  return { proposals, doubts: doubtsAmong(free, 'number-repeated'), issues: [repeatedIssue(number, places)] };
}

const nothing: Findings = { proposals: [], doubts: [], issues: [] };

/** Each of the edges in doubt, with the others as its candidates. */
const doubtsAmong = (free: readonly EdgePlace[], why: Doubt['why']): Doubt[] =>
  free.map((p) => ({ edge: p.id, why, candidates: free.filter((q) => q !== p).map((q) => q.id) }));
