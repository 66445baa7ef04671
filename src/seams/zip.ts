/**
 * Zipping: where everything round a corner is glued but the two open edges that meet there, and the angles make about a
 * full turn, the two edges are mates if they are equally long. So seams grow from closed ends, mirror images too, and
 * stop by themselves at openings, where there is half a turn.
 */
import type { GluedOutlines } from './gluedOutlines';
import { zipDefect } from './matchTolerance';

export interface Zipped {
  readonly a: number;
  readonly b: number;
  /** How far the corner is from a full turn, rad. */
  readonly defect: number;
}

/**
 * Glues what can be zipped, best closed corners first, and returns it in that order.
 * @param mayPair whether the person lets two edges meet
 * @param reach most difference in length, mm
 */
export function zipOn(
  glued: GluedOutlines,
  reach: number,
  mayPair: (a: number, b: number) => boolean,
): Zipped[] {
  const { half } = glued;
  const done: Zipped[] = [];
  for (;;) {
    let best: Zipped | null = null;
    for (let e = 0; e < half.count; e++) {
      if (!glued.isOpen(e)) continue;
      const corner = glued.cornerAfter(e);
      if (!corner || corner.out === e) continue;
      const { out } = corner;
      if (Math.abs(half.length[e]! - half.length[out]!) > reach || !mayPair(e, out)) continue;
      // Two open edges that meet at both ends enclose nothing: they are one line.
      const encloseNothing = glued.cornerAfter(out)?.out === e && corner.corners > 1;
      const defect = encloseNothing ? 0 : Math.abs(corner.angle - 2 * Math.PI);
      if (defect <= zipDefect && (!best || defect < best.defect)) best = { a: e, b: out, defect };
    }
    if (!best) return done;
    glued.glue(best.a, best.b);
    done.push(best);
  }
}
