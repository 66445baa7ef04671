/** Seams as the person's word: whole edges and parts of edges. Pure. */
import type { MadeSeam, Seam, Stretch } from '../../src/model';
import { seamIdOf, sharePlace, stretchOn } from '../../src/seams';

/** Seams made by hand with more of them: each goes before those that want the same place on an edge. */
export const withMade = (made: readonly MadeSeam[], more: readonly MadeSeam[]): readonly MadeSeam[] =>
  more.reduce<readonly MadeSeam[]>(
    (all, seam) => [
      ...all.filter((m) => !sharePlace(m, seam) && seamIdOf(m.a, m.b) !== seamIdOf(seam.a, seam.b)),
      seam,
    ],
    made,
  );

/** A seam as the person's word: its stretches as parts of the edges' lengths (mm, by edge id). */
export function asMade(seam: Seam, lengthOf: (edge: string) => number | undefined): MadeSeam {
  const share = (part: Seam['partA'], edge: string): Stretch | undefined => {
    const length = lengthOf(edge);
    return part && length ? [Math.max(0, part[0] / length), Math.min(1, part[1] / length)] : undefined;
  };
  const [partA, partB] = [share(seam.partA, seam.a.edge), share(seam.partB, seam.b.edge)];
  return {
    a: seam.a.edge,
    b: seam.b.edge,
    direction: seam.direction,
    ...(partA ? { partA } : {}),
    ...(partB ? { partB } : {}),
  };
}

/**
 * The stretch of an edge that a shorter mate gets at one end of what is still free there.
 * @param share length of the mate as a part of the edge's
 */
export function freeStretch(
  made: readonly MadeSeam[],
  edge: string,
  share: number,
  end: 'start' | 'end',
): Stretch | null {
  const taken = made
    .map((seam) => stretchOn(seam, edge))
    .filter((taken) => taken !== null)
    .sort((p, q) => p[0] - q[0]);
  const gaps: Stretch[] = [];
  let at = 0;
  for (const [from, to] of [...taken, [1, 1] as const]) {
    if (from - at > leastGap) gaps.push([at, from]);
    at = Math.max(at, to);
  }
  const gap = end === 'start' ? gaps[0] : gaps[gaps.length - 1];
  if (!gap) return null;
  const length = Math.min(share, gap[1] - gap[0]);
  return end === 'start' ? [gap[0], gap[0] + length] : [gap[1] - length, gap[1]];
}

/** Gaps under this part of an edge are what adding lengths leaves, not room for a mate. */
const leastGap = 0.01;
