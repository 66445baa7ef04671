/**
 * What glue tabs tell: a seam has a tab on one of its sides, a rim has none. Only where the seams already known bear
 * that out.
 */
import type { Pattern } from '../model';
import type { MatchState } from './matchState';
import { fewestTabs, tabsTellPart } from './matchTolerance';
import type { TabsTell } from './mirrorJoin';

/** Whether an edge has a tab, or null where tabs are missing or follow no rule. */
export function tabEvidence(pattern: Pattern, { glued }: MatchState): TabsTell {
  const { half, mate } = glued;
  const tabbed = new Uint8Array(half.count);
  for (const piece of pattern.pieces)
    for (const tab of piece.tabs) {
      const edge = half.indexOf.get(tab.edge);
      if (edge !== undefined) tabbed[edge] = 1;
    }
  if (tabbed.reduce((sum, t) => sum + t, 0) < fewestTabs) return null;
  let seams = 0;
  let one = 0;
  mate.forEach((b, a) => {
    if (b < a) return;
    seams++;
    if (tabbed[a] !== tabbed[b]) one++;
  });
  return one >= fewestTabs && one >= tabsTellPart * seams ? (edge) => tabbed[edge] === 1 : null;
}
