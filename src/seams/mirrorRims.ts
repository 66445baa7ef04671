/**
 * Rims sewn to their own mirror image. On a mirror-symmetric shell every rim agrees with itself, read from the point
 * where it crosses the middle: lengths and corners fit all along, however the pieces were cut, so they are no evidence.
 * Sewn up, such a rim shows as a line of seams that has equal angles on both sides at every corner and begins in a spike:
 * where the rim crosses the middle, one smooth stretch of rim is folded onto itself. These seams are held back for the
 * folded shell to decide.
 */
import type { GluedOutlines } from './gluedOutlines';
import { endAngle } from './halfEdges';
import { fewestRimSeams, mirrorSplit, spike, wideSlit } from './matchTolerance';

/** How a line of seams ends. */
type LineEnd = 'spike' | 'open' | 'inside';

/**
 * The seams of mirror-like rims, as pairs of edges; nothing is opened.
 * @param mayOpen false for seams of stronger evidence
 */
export function sewnRims(
  glued: GluedOutlines,
  mayOpen: (a: number, b: number) => boolean,
): (readonly [number, number])[] {
  const { mate } = glued;
  const corners = glued.closedCorners();
  const angleAt = new Map<number, number>();
  for (const { into, angle } of corners) for (const e of into) angleAt.set(e, angle);
  const found = new Map<number, readonly [number, number]>();
  const follow = (first: number) => {
    const line: (readonly [number, number])[] = [];
    let end: LineEnd = 'inside';
    const seen = new Set<number>();
    for (let into = first; mate[into]! >= 0 && mayOpen(into, mate[into]!) && !seen.has(into); ) {
      seen.add(into);
      line.push([into, mate[into]!]);
      const angle = angleAt.get(into);
      if (angle === undefined || angle <= spike) {
        end = angle === undefined ? 'open' : 'spike';
        break;
      }
      const next = evenSplit(glued, into, angle);
      if (next === null) break;
      into = next;
    }
    const fewest = end === 'inside' ? fewestRimSeams.oneEnd : fewestRimSeams.bothEnds;
    if (line.length >= fewest) for (const pair of line) found.set(Math.min(...pair), pair);
  };
  for (const { into, angle } of corners) if (angle <= spike) for (const e of into) follow(mate[e]!);
  for (let e = 0; e < glued.half.count; e++) {
    if (!glued.isOpen(e)) continue;
    const corner = glued.cornerAfter(e);
    if (!corner || corner.angle < wideSlit) continue;
    const first = evenSplit(glued, e, corner.angle);
    if (first !== null) follow(first);
  }
  return [...found.values()];
}

/** The edge that leaves the corner after `into` with equal angles on both sides; null where none does. */
function evenSplit({ half, mate }: GluedOutlines, into: number, total: number): number | null {
  let best: number | null = null;
  let least = mirrorSplit;
  let angle = 0;
  for (let at = into; ; ) {
    angle += endAngle(half, at);
    const out = half.next[at]!;
    at = mate[out]!;
    if (at < 0 || at === into) return best;
    const uneven = Math.abs(2 * angle - total);
    if (uneven < least) {
      least = uneven;
      best = out;
    }
  }
}
