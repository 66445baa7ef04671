/** Edges without a mate, sorted for the screen: those that have several candidates, the rest, the borders. Pure. */
import type { OpenEdge } from '../../../src/model';
import type { NamedEdge } from '../names';

export interface LikelyMate {
  readonly edge: string;
  readonly name: string;
  /** How much speaks for it, 0 to 1; null where nothing was weighed. */
  readonly score: number | null;
  /** Between the two edges as drawn, mm. */
  readonly difference: number;
}

/** Candidates of an open edge that the pattern still has, best first, equal ones in the order they were given. */
export function likelyMates(open: OpenEdge, edges: ReadonlyMap<string, NamedEdge>): readonly LikelyMate[] {
  const own = edges.get(open.edge);
  if (!own) return [];
  return open.candidates
    .flatMap((id, i): LikelyMate[] => {
      const mate = edges.get(id);
      if (!mate) return [];
      const score = open.scores?.[i] ?? null;
      return [{ edge: id, name: mate.name, score, difference: Math.abs(mate.length - own.length) }];
    })
    .sort((p, q) => (q.score ?? -1) - (p.score ?? -1));
}

export interface OpenGroups {
  /** Several mates fit, or its number stands at several edges: the person has to say. */
  readonly ambiguous: readonly OpenEdge[];
  /** One mate is thinkable, or none. */
  readonly lonely: readonly OpenEdge[];
  readonly borders: readonly OpenEdge[];
}

/** Below this a candidate is as long and nothing more: an opening has many such edges, and each most likely stays open. */
const worthAsking = 0.02;

export const isAmbiguous = (edge: OpenEdge): boolean =>
  edge.why !== 'border' &&
  (edge.why === 'number-repeated' ||
    (edge.candidates.length > 1 && (edge.scores === undefined || Math.max(...edge.scores) >= worthAsking)));

export function groupOpen(open: readonly OpenEdge[]): OpenGroups {
  const borders = open.filter((edge) => edge.why === 'border');
  const ambiguous = open.filter(isAmbiguous);
  return { ambiguous, borders, lonely: open.filter((e) => e.why !== 'border' && !isAmbiguous(e)) };
}

/** "78 %", or a dash where nothing was weighed. */
export const scoreText = (score: number | null): string =>
  score === null ? '–' : `${Math.round(score * 100)} %`;
