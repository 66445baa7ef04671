/** A drawn line through a hole of a face: where it parts the rim of the hole. */
import { distance, nearestAlong, type Point } from '../math';
import type { Face, Piece } from '../model';
import { acrossHoles } from './crossing';
import { alongLine } from './lines';
import { samePlace } from './tolerance';

/** A place on a line of the pattern. */
export interface Site {
  readonly line: string;
  readonly at: number;
}

export interface HoleWay {
  readonly hole: number;
  readonly enter: Site;
  readonly leave: Site;
  readonly before: number;
  /** First point of `inner` after it. */
  readonly after: number;
}

/** How a chord goes through a hole of its face; null: it misses them. */
export function wayThrough(
  { f: face, p: piece }: { readonly f: Face; readonly p: Piece },
  line: readonly Point[],
  tip: number | null,
): HoleWay | 'hole' | null {
  if (face.holes.length === 0) return null;
  const met = acrossHoles(face.holes, line);
  if (met === null) return null;
  // A slit that meets a hole would part nothing, and one that ends in it has no end.
  if (met === 'tangled' || tip !== null) return 'hole';
  const ring = face.holes[met.hole]!;
  const loop = piece.holes.find((l) => l.some((e) => distance(e.points[0]!, ring[0]!) <= samePlace));
  const siteAt = (p: Point): Site | null => {
    let best: { site: Site; off: number } | null = null;
    for (const { id, points } of loop ?? []) {
      const at = nearestAlong(points, p);
      const off = distance(alongLine(points, at), p);
      if (off < (best?.off ?? samePlace)) best = { site: { line: id, at }, off };
    }
    return best?.site ?? null;
  };
  const [enter, leave] = [siteAt(met.enter.at), siteAt(met.leave.at)];
  if (!enter || !leave) return 'hole';
  let [run, before, after] = [0, 0, 0];
  for (let i = 1; i + 1 < line.length; i++) {
    run += distance(line[i - 1]!, line[i]!);
    if (run < met.enter.s) before = i;
    if (run <= met.leave.s) after = i;
  }
  return { hole: met.hole, enter, leave, before, after };
}
