/** How many seams were found, and how many of them are right. */
import type { Seams } from '../../src/model';

export interface MatchScore {
  readonly truth: number;
  readonly found: number;
  readonly right: number;
}

export function scoreMatch(seams: Seams, truth: readonly string[]): MatchScore {
  const wanted = new Set(truth);
  const right = seams.seams.filter((s) => wanted.has(s.id)).length;
  return { truth: wanted.size, found: seams.seams.length, right };
}

/** Share of the seams found that are right; 1 when none was found. */
export const precision = (s: MatchScore): number => (s.found === 0 ? 1 : s.right / s.found);
/** Share of the true seams that were found. */
export const recall = (s: MatchScore): number => (s.truth === 0 ? 1 : s.right / s.truth);

export const sumOf = (scores: readonly MatchScore[]): MatchScore =>
  scores.reduce(
    (sum, s) => ({ truth: sum.truth + s.truth, found: sum.found + s.found, right: sum.right + s.right }),
    { truth: 0, found: 0, right: 0 },
  );
