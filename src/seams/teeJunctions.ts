/**
 * One long edge against several short ones: the pieces round a closed end make a full turn, the short edges lie in one
 * line, and together they are as long as the long one.
 */
import type { Mm } from '../units';
import type { GluedOutlines, OpenCorner } from './gluedOutlines';
import { inLine, mostTeeEdges, sharpestTee, slitAngle, zipDefect } from './matchTolerance';

export interface Tee {
  readonly long: number;
  /** Short edges along the long one's direction, each with its stretch of it, mm. */
  readonly parts: readonly { readonly edge: number; readonly from: Mm; readonly to: Mm }[];
}

/**
 * Such places among the open edges, no edge in two of them.
 * @param reach most difference in length, mm
 */
export function findTees(glued: GluedOutlines, reach: Mm, mayPair: (a: number, b: number) => boolean): Tee[] {
  const { half } = glued;
  const after = new Map<number, OpenCorner>();
  const before = new Map<number, OpenCorner>();
  for (const loop of glued.openings())
    for (const corner of loop) {
      after.set(corner.into, corner);
      before.set(corner.out, corner);
    }
  const isFull = (angle: number) => angle <= 2 * Math.PI + zipDefect && angle >= 2 * Math.PI - sharpestTee;
  const isLine = (corner: OpenCorner | undefined): corner is OpenCorner =>
    corner !== undefined && Math.abs(corner.angle - Math.PI) <= inLine;

  /** Short edges from one end of `long` on, in walking order; null where they do not fit. */
  const chain = (long: number, step: 1 | -1): number[] | null => {
    const start = step === 1 ? after.get(long) : before.get(long);
    if (!start || !isFull(start.angle)) return null;
    const beyond = (e: number) => (step === 1 ? after.get(e) : before.get(e));
    const nextOf = (c: OpenCorner) => (step === 1 ? c.out : c.into);
    const edges = [nextOf(start)];
    for (;;) {
      const last = edges[edges.length - 1]!;
      if (last === long || !mayPair(long, last)) return null;
      const sum = edges.reduce((s, e) => s + half.length[e]!, 0);
      const corner = beyond(last);
      if (Math.abs(sum - half.length[long]!) <= reach * Math.sqrt(edges.length)) {
        if (edges.length < 2 || !corner) return null;
        if (nextOf(corner) === long) return isFull(corner.angle) ? edges : null;
        const other = step === 1 ? before.get(long) : after.get(long);
        return other && corner.angle + other.angle <= slitAngle ? edges : null;
      }
      if (sum > half.length[long]! || edges.length >= mostTeeEdges || !isLine(corner)) return null;
      edges.push(nextOf(corner));
    }
  };
  const tees: Tee[] = [];
  const used = new Set<number>();
  for (let long = 0; long < half.count; long++) {
    if (!glued.isOpen(long) || !half.straight[long]) continue;
    const forward = chain(long, 1);
    const edges = forward ? [...forward].reverse() : chain(long, -1);
    if (!edges || [long, ...edges].some((e) => used.has(e))) continue;
    for (const e of [long, ...edges]) used.add(e);
    const scale = half.length[long]! / edges.reduce((s, e) => s + half.length[e]!, 0);
    let at: Mm = 0;
    const parts = edges.map((edge, i) => {
      const from = at;
      at = i + 1 === edges.length ? half.length[long]! : at + scale * half.length[edge]!;
      return { edge, from, to: at };
    });
    tees.push({ long, parts });
  }
  return tees;
}
