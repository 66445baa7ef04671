/**
 * Slits along the middle that were held back with a rim. A rim sewn to its own mirror image is taken apart along the
 * whole line of the middle, and where a seam of the middle runs into that rim, it comes apart too. It shows: its inner
 * end is a full turn, from which it zips on and stops by itself where the rims run on smoothly. A rim zips up too when
 * it is begun, but ends in a spike, where it is folded onto itself.
 */
import type { GluedOutlines } from './gluedOutlines';
import { spike, wideSlit, zipDefect } from './matchTolerance';

/**
 * Seams of slits among the pairs held back, as pairs of edges; they are glued in `glued`.
 * @param isHeld whether two edges are held back with a rim
 */
export function zipSlits(
  glued: GluedOutlines,
  isHeld: (a: number, b: number) => boolean,
): (readonly [number, number])[] {
  const done: (readonly [number, number])[] = [];
  for (let e = 0; e < glued.half.count; e++) {
    if (!glued.isOpen(e)) continue;
    const slit = slitFrom(glued, e, isHeld);
    for (const [a, b] of slit) glued.glue(a, b);
    done.push(...slit);
  }
  return done;
}

/** The slit whose inner end is the corner after an open edge; none where it ends in a spike or in a wide slit. */
function slitFrom(
  glued: GluedOutlines,
  first: number,
  isHeld: (a: number, b: number) => boolean,
): (readonly [number, number])[] {
  const line: (readonly [number, number])[] = [];
  let into = first;
  let endsWell = false;
  for (;;) {
    const corner = glued.cornerAfter(into);
    if (!corner || corner.out === into || !isHeld(into, corner.out)) break;
    if (Math.abs(corner.angle - 2 * Math.PI) > zipDefect) break;
    glued.glue(into, corner.out);
    line.push([into, corner.out]);
    const end = glued.cornerAt(corner.out);
    endsWell = end.closed ? end.angle > spike : end.angle < wideSlit;
    if (end.closed) break;
    into = openBefore(glued, into);
  }
  for (const [a] of line) glued.open(a);
  return endsWell ? line : [];
}

/** The open edge that ends where a glued edge begins, round a corner that is open. */
function openBefore({ half, mate }: GluedOutlines, edge: number): number {
  let at = half.before[edge]!;
  while (mate[at] !== -1) at = half.before[mate[at]!]!;
  return at;
}
