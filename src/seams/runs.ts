/**
 * Seams that follow each other along the same two pieces make a run: successive edges of one outline meet successive
 * edges of the other in reverse order (or in the same order, where one piece was drawn from inside). Where three pieces
 * come together the edges that follow each other on one side do not on the other, so a T corner ends a run by itself.
 */
import type { Seam } from '../model';
import type { EdgeTable } from './edgeTable';
import type { Match } from './resolve';

/** One run: its seams along side a's outline, each with its side a first. */
export type DraftRun = readonly { readonly a: string; readonly b: string; readonly match: Match }[];

/** All runs, in reading order of their first edge. */
export function runsOf(edges: EdgeTable, matchOf: ReadonlyMap<string, Match>): DraftRun[] {
  const mateOf = (id: string): string | undefined => {
    const match = matchOf.get(id);
    return match && (match.a === id ? match.b : match.a);
  };
  /** The edge after (or before) `id` when the run goes on there. */
  const goOn = (id: string, step: 1 | -1, direction: Seam['direction']): string | null => {
    const mate = mateOf(id)!;
    const next = edges.neighbour(id, step).id;
    const nextMate = mateOf(next);
    if (nextMate === undefined || next === mate || next === id) return null;
    if (matchOf.get(next)!.direction !== direction) return null;
    const across = direction === 'opposed' ? (step === 1 ? -1 : 1) : step;
    return edges.neighbour(mate, across).id === nextMate ? next : null;
  };
  const done = new Set<string>();
  const runs: DraftRun[] = [];
  for (const { id } of edges.inOrder) {
    const match = matchOf.get(id);
    if (!match || done.has(id)) continue;
    let start = id;
    for (let before = goOn(start, -1, match.direction); before && before !== id; ) {
      start = before;
      before = goOn(start, -1, match.direction);
    }
    const run: { a: string; b: string; match: Match }[] = [];
    for (let at: string | null = start; at && !done.has(at); at = goOn(at, 1, match.direction)) {
      const mate = mateOf(at)!;
      run.push({ a: at, b: mate, match: matchOf.get(at)! });
      done.add(at);
      done.add(mate);
    }
    runs.push(run);
  }
  return runs;
}
