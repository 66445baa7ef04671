/**
 * The two sides of a mirror-symmetric shell. A piece and its mirror twin lie on opposite sides, so a seam joins edges of
 * one side, unless it lies in the mirror plane and joins an edge to its own mirror image. A seam that joins the sides in
 * any other way is wrong, however well its lengths agree; one is enough to tie the halves together.
 */
import type { GluedOutlines } from './gluedOutlines';
import type { Twins } from './mirrorTwins';

/** The side of each edge: 1 or −1 within its group; edges of different groups may lie either way. */
export interface Sides {
  readonly group: Int32Array;
  readonly side: Int8Array;
}

type Pair = readonly [number, number];

/** True when two edges lie on opposite sides and are not each other's mirror image. */
export const acrossSides = ({ group, side }: Sides, twin: Twins, a: number, b: number): boolean =>
  twin[a] !== b && group[a] === group[b] && side[a] !== side[b];

/** Groups whose members lie on one side or the other of each other. */
class Sided {
  private readonly parent: Int32Array;
  private readonly turned: Int8Array;

  constructor(count: number) {
    this.parent = Int32Array.from({ length: count }, (_, i) => i);
    this.turned = new Int8Array(count).fill(1);
  }

  /** The group of an edge, and its side in it. */
  find(e: number): readonly [number, number] {
    let side = 1;
    let at = e;
    for (; this.parent[at] !== at; at = this.parent[at]!) side *= this.turned[at]!;
    // The path is shortened, so that long chains are gone through once.
    let rest = side;
    for (let q = e; this.parent[q] !== at && q !== at; ) {
      const [up, t] = [this.parent[q]!, this.turned[q]!];
      this.parent[q] = at;
      this.turned[q] = rest as 1 | -1;
      rest *= t;
      q = up;
    }
    return [at, side];
  }

  /** Puts two edges on the same side (1) or on opposite ones (−1); false where that contradicts what is known. */
  join(a: number, b: number, way: 1 | -1): boolean {
    const [[p, s], [q, t]] = [this.find(a), this.find(b)];
    if (p === q) return s * t === way;
    this.parent[q] = p;
    this.turned[q] = (s * t * way) as 1 | -1;
    return true;
  }
}

/**
 * Sides as seams show them, the surest first, and the seams that contradict the others.
 * @param belief how much each seam is believed; 0 for edges without one, 1 for those of stronger evidence
 */
export function sidesOf(
  { half, mate }: GluedOutlines,
  twin: Twins,
  belief: (a: number, b: number) => number,
): { readonly sides: Sides; readonly wrong: readonly Pair[] } {
  const sided = new Sided(half.count);
  for (let e = 0; e < half.count; e++) {
    const [t, n] = [twin[e]!, half.next[e]!];
    if (t < 0) continue;
    if (t !== e) sided.join(e, t, -1);
    // A piece of the middle is its own twin; it changes sides where its axis crosses the outline.
    const ownTwin = half.piece[t] === half.piece[e];
    if (!ownTwin || (t !== e && t !== n && twin[n] !== n)) sided.join(e, n, 1);
  }
  const seams: { a: number; b: number; belief: number }[] = [];
  mate.forEach((b, a) => {
    if (b <= a || twin[a]! < 0 || twin[b]! < 0 || twin[a] === b) return;
    if (twin[a] === a || twin[b] === b) return;
    seams.push({ a, b, belief: belief(a, b) });
  });
  seams.sort((p, q) => q.belief - p.belief || p.a - q.a);
  const against = seams.filter(({ a, b }) => !sided.join(a, b, 1));
  const group = new Int32Array(half.count);
  const side = new Int8Array(half.count);
  for (let e = 0; e < half.count; e++) [group[e], side[e]] = sided.find(e) as [number, number];
  return { sides: { group, side }, wrong: against.map(({ a, b }): Pair => [a, b]) };
}
