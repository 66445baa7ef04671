/**
 * Openings that one part plugs: all edges round an opening agree in length with all edges round another part, and every
 * corner closes. That is far more than chance gives, also where the edges are placed like mirror images.
 */
import type { Mm } from '../units';
import type { GluedOutlines, OpenCorner } from './gluedOutlines';
import { fewestPlugEdges, mostPlugEdges, zipDefect } from './matchTolerance';

type Pair = readonly [number, number];

/** Two openings laid against each other; `at` are their numbers. */
interface Plug {
  readonly at: readonly [number, number];
  readonly pairs: readonly Pair[];
}

/**
 * Openings that fit one another as a whole and in one way only. Nothing is glued.
 * @param reach most difference in length, mm
 * @param mayGlue false for pairs that the person rules out
 */
export function plugs(
  glued: GluedOutlines,
  reach: Mm,
  mayGlue: (a: number, b: number) => boolean,
): (readonly Pair[])[] {
  const { half } = glued;
  const part = glued.parts();
  const partOf = (loop: readonly OpenCorner[]) => part[half.piece[loop[0]!.into]!]!;
  const loops = glued.openings().filter((l) => {
    const closes = l.length > 0 && l[l.length - 1]!.out === l[0]!.into;
    return closes && l.length >= fewestPlugEdges && l.length <= mostPlugEdges;
  });
  const found: Plug[] = [];
  loops.forEach((mine, i) => {
    for (let k = i + 1; k < loops.length; k++) {
      const other = loops[k]!;
      if (other.length !== mine.length || partOf(other) === partOf(mine)) continue;
      for (let shift = 0; shift < mine.length; shift++) {
        const pairs = laidOn(mine, other, shift);
        const fits = pairs.every(
          ([p, q]) =>
            Math.abs(half.length[p.into]! - half.length[q.into]!) <= reach && mayGlue(p.into, q.into),
        );
        // The end of an edge of mine lies on the start of its mate, which is the end of the edge before that.
        const closes = pairs.every(([p], j) => {
          const before = pairs[(j + 1) % pairs.length]![1];
          return Math.abs(p.angle + before.angle - 2 * Math.PI) <= zipDefect;
        });
        if (fits && closes) found.push({ at: [i, k], pairs: pairs.map(([p, q]): Pair => [p.into, q.into]) });
      }
    }
  });
  const times = (loop: number) => found.filter((f) => f.at.includes(loop)).length;
  return found.filter((f) => f.at.every((loop) => times(loop) === 1)).map((f) => f.pairs);
}

/** Edge j of the one against edge `shift − j` of the other. */
const laidOn = (
  mine: readonly OpenCorner[],
  other: readonly OpenCorner[],
  shift: number,
): (readonly [OpenCorner, OpenCorner])[] =>
  mine.map((p, j) => [p, other[(shift - j + 2 * other.length) % other.length]!]);
