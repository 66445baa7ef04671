/**
 * Mouths: openings that were sewn shut because their two sides happen to be equally long. Where such a false seam ends,
 * the rim that is left makes far more than a full turn, and taken apart again both sides are smooth rims all along.
 */
import type { GluedOutlines } from './gluedOutlines';
import { endAngle } from './halfEdges';
import { longestMouth, overfull, roughestRim, slitAngle } from './matchTolerance';

/**
 * Takes mouths apart in `glued` and returns their seams, as pairs of edges.
 * @param mayOpen false for seams of stronger evidence
 */
export function openMouths(
  glued: GluedOutlines,
  mayOpen: (a: number, b: number) => boolean,
): (readonly [number, number])[] {
  const opened: (readonly [number, number])[] = [];
  for (let e = 0; e < glued.half.count; e++) {
    if (!glued.isOpen(e)) continue;
    const corner = glued.cornerAfter(e);
    if (!corner || corner.angle < overfull) continue;
    const path: [number, number][] = [];
    for (const seam of splits(glued, e, corner.angle, 0, slitAngle, mayOpen)) {
      if (unzip(glued, seam, path, mayOpen)) break;
    }
    opened.push(...path);
  }
  return opened;
}

/** Seams at the corner after an open edge that split its angle into two rims within bounds, evenest first. */
function splits(
  glued: GluedOutlines,
  into: number,
  total: number,
  least: number,
  most: number,
  mayOpen: (a: number, b: number) => boolean,
): [number, number][] {
  const { half, mate } = glued;
  const found: { seam: [number, number]; uneven: number }[] = [];
  let angle = endAngle(half, into);
  let out = half.next[into]!;
  while (mate[out]! !== -1) {
    const g = mate[out]!;
    const rest = total - angle;
    if (Math.min(angle, rest) >= least && Math.max(angle, rest) <= most && mayOpen(out, g))
      found.push({ seam: [out, g], uneven: Math.abs(angle - rest) });
    angle += endAngle(half, g);
    out = half.next[g]!;
  }
  return found.sort((p, q) => p.uneven - q.uneven).map((f) => f.seam);
}

/** Opens a seam and those after it up to the next opening; puts them back and returns false when they lead to none. */
function unzip(
  glued: GluedOutlines,
  [out, into]: [number, number],
  path: [number, number][],
  mayOpen: (a: number, b: number) => boolean,
): boolean {
  if (path.length >= longestMouth) return false;
  glued.open(out);
  path.push([out, into]);
  const corner = glued.cornerAfter(out);
  if (corner) {
    if (corner.out !== into) {
      const other = cornerBefore(glued, into);
      const whole = corner.angle + other;
      if (whole >= slitAngle && corner.angle <= slitAngle && other <= slitAngle) return true;
    } else
      for (const seam of splits(
        glued,
        out,
        corner.angle,
        Math.PI - roughestRim,
        Math.PI + roughestRim,
        mayOpen,
      ))
        if (unzip(glued, seam, path, mayOpen)) return true;
  }
  path.pop();
  glued.glue(out, into);
  return false;
}

/** Angle of the corner before an open edge, rad. */
function cornerBefore({ half, mate }: GluedOutlines, out: number): number {
  let angle = 0;
  let at = half.before[out]!;
  for (let corners = 0; corners <= half.count; corners++) {
    angle += endAngle(half, at);
    if (mate[at] === -1) break;
    at = half.before[mate[at]!]!;
  }
  return angle;
}
