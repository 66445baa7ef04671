/** What the person glued together: whole edges, and stretches of edges. Of two that share a place the later one holds. */
import type { Issue } from '../base';
import type { MadeSeam, Stretch } from '../model';
import type { EdgeTable } from './edgeTable';
import { seamIdOf } from './seamId';
import { lostDecisionsIssue, overruledIssue, selfSeamIssue } from './wording';

export interface ByHand {
  readonly whole: readonly MadeSeam[];
  /** Seams with a stretch of one edge, or of both. */
  readonly parts: readonly MadeSeam[];
}

/** Ends of stretches that are one corner, as a part of an edge: rounding of a sum of lengths, far under any edge. */
const sameShare = 1e-3;

const all: Stretch = [0, 1];

/** The stretch of an edge in a seam; null when the edge is not in it. */
export const stretchOn = (made: MadeSeam, edge: string): Stretch | null =>
  made.a === edge ? (made.partA ?? all) : made.b === edge ? (made.partB ?? all) : null;

/** Whether two seams want the same place on an edge. */
export const sharePlace = (p: MadeSeam, q: MadeSeam): boolean =>
  [p.a, p.b].some((edge) => {
    const [mine, other] = [stretchOn(p, edge), stretchOn(q, edge)];
    return (
      mine !== null && other !== null && Math.min(mine[1], other[1]) - Math.max(mine[0], other[0]) > sameShare
    );
  });

/** @param missing edges that other decisions name and the pattern does not have */
export function seamsByHand(
  edges: EdgeTable,
  made: readonly MadeSeam[],
  missing: readonly string[],
  issues: Issue[],
): ByHand {
  const lost = new Set(missing);
  let held: MadeSeam[] = [];
  for (const seam of made) {
    const gone = [seam.a, seam.b].filter((id) => !edges.get(id));
    if (gone.length > 0) {
      for (const id of gone) lost.add(id);
      continue;
    }
    if (seam.a === seam.b) {
      issues.push(selfSeamIssue(edges.get(seam.a)!));
      continue;
    }
    for (const old of held) {
      if (!sharePlace(old, seam) || seamIdOf(old.a, old.b) === seamIdOf(seam.a, seam.b)) continue;
      const shared = [seam.a, seam.b].find((id) => stretchOn(old, id) !== null)!;
      issues.push(overruledIssue(edges.get(shared)!));
    }
    // One seam per pair of edges, whatever stretches were glued before.
    held = held.filter(
      (old) => !sharePlace(old, seam) && seamIdOf(old.a, old.b) !== seamIdOf(seam.a, seam.b),
    );
    held.push(seam);
  }
  if (lost.size > 0) issues.push(lostDecisionsIssue([...lost].sort()));
  const isPart = (seam: MadeSeam) => seam.partA !== undefined || seam.partB !== undefined;
  return { whole: held.filter((s) => !isPart(s)), parts: held.filter(isPart) };
}
