/** Seams that the person made on stretches of edges, for the result. */
import type { Issue } from '../base';
import type { MadeSeam, Seam, SeamRun } from '../model';
import type { Mm } from '../units';
import { stretchOn } from './byHand';
import type { EdgePlace, EdgeTable } from './edgeTable';
import { areUnequal } from './lengths';
import { seamIdOf } from './seamId';
import { unequalBeyond } from './tolerance';
import { unequalIssue } from './wording';

export interface SeamsOfParts {
  readonly seams: readonly Seam[];
  readonly runs: readonly SeamRun[];
  /** Edges that such a seam is on, and of which too little is left over to be called open. */
  readonly covered: ReadonlySet<string>;
  readonly issues: readonly Issue[];
}

/** One run for each edge that is glued by stretches, in reading order. @param number of the first run */
export function seamsOfParts(edges: EdgeTable, parts: readonly MadeSeam[], number: number): SeamsOfParts {
  const divided = (seam: MadeSeam) => edges.get(seam.partA ? seam.a : seam.b)!;
  const groups = new Map<EdgePlace, MadeSeam[]>();
  for (const seam of parts) groups.set(divided(seam), [...(groups.get(divided(seam)) ?? []), seam]);
  const seams: Seam[] = [];
  const runs: SeamRun[] = [];
  for (const [place, group] of [...groups].sort((p, q) => p[0].order - q[0].order)) {
    const from = (seam: MadeSeam) => stretchOn(seam, place.id)![0];
    const members = group
      .sort((p, q) => from(p) - from(q))
      .map((seam) => seamOf(edges, seam, number + runs.length));
    seams.push(...members);
    runs.push({
      id: `run:${members[0]!.id}`,
      number: number + runs.length,
      seams: members.map((s) => s.id),
    });
  }
  const covered = new Set(
    parts.flatMap(({ a, b }) => [a, b]).filter((id) => leftOver(id, parts, edges) <= unequalBeyond),
  );
  const issues = seams
    .filter((s) => areUnequal(s.lengthA, s.lengthB))
    .map((s) => unequalIssue(s, edges.get(s.a.edge)!, edges.get(s.b.edge)!));
  return { seams, runs, covered, issues };
}

function seamOf(edges: EdgeTable, made: MadeSeam, number: number): Seam {
  const places = [edges.get(made.a)!, edges.get(made.b)!] as const;
  const [a, b] = places[0].order < places[1].order ? places : [places[1], places[0]];
  const [onA, onB] = [a, b].map((place): readonly [Mm, Mm] => {
    const [from, to] = stretchOn(made, place.id)!;
    return [from * place.length, to * place.length];
  }) as [readonly [Mm, Mm], readonly [Mm, Mm]];
  const whole = (place: EdgePlace) => (place.id === made.a ? made.partA : made.partB) === undefined;
  return {
    id: seamIdOf(a.id, b.id),
    number,
    a: { piece: a.piece, edge: a.id },
    b: { piece: b.piece, edge: b.id },
    direction: made.direction,
    evidence: 'person',
    confidence: 1,
    lengthA: onA[1] - onA[0],
    lengthB: onB[1] - onB[0],
    ...(whole(a) ? {} : { partA: onA }),
    ...(whole(b) ? {} : { partB: onB }),
  };
}

/** Length of an edge that no such seam covers, mm. */
function leftOver(edge: string, parts: readonly MadeSeam[], edges: EdgeTable): Mm {
  const share = parts.reduce((sum, seam) => {
    const on = stretchOn(seam, edge);
    return on ? sum + on[1] - on[0] : sum;
  }, 0);
  return (1 - share) * edges.get(edge)!.length;
}
