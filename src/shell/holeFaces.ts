import { cross, distance, type Point, subtract } from '../math';

/**
 * A face with a hole in it as two faces without: two bridges are laid from the rim of the hole to the outer ring, and
 * the rim then belongs to the sides of the two halves. The bridges do not lie on one line, so two flat halves that
 * share both lie in one plane, and nothing bends along a bridge.
 */
export interface HoleCut {
  /** Corner numbers of the ends on the outer ring, then of those on the hole. */
  readonly outer: readonly [number, number];
  readonly hole: readonly [number, number];
}

/** Twice the area of a triangle under this part of its longest side squared is a line: rounding. */
const onOneLine = 1e-9;
/** Bridges hold the halves in one plane well enough from this part of the widest pair on; then the shortest counts. */
const wideEnough = 1 / 3;

interface Bridge {
  readonly outer: number;
  readonly hole: number;
  readonly length: number;
}

/**
 * Bridges between a hole and the ring round it, mm.
 * @param outer counter-clockwise
 * @param hole clockwise, inside `outer`
 * @param others holes of the face that no bridge may cross
 * @param may corner numbers at which bridges may end; all when left out
 * @returns null where two bridges apart from one another cannot be laid
 */
export function cutRoundHole(
  outer: readonly Point[],
  hole: readonly Point[],
  others: readonly (readonly Point[])[],
  may?: { readonly outer: ReadonlySet<number>; readonly hole: ReadonlySet<number> },
): HoleCut | null {
  const rings = [outer, hole, ...others];
  const bridges: Bridge[] = [];
  outer.forEach((p, i) => {
    if (may && !may.outer.has(i)) return;
    hole.forEach((q, j) => {
      if (may && !may.hole.has(j)) return;
      if (rings.every((ring, r) => isClear(p, q, ring, r === 0 ? i : r === 1 ? j : -1)))
        bridges.push({ outer: i, hole: j, length: distance(p, q) });
    });
  });
  bridges.sort((a, b) => a.length - b.length || a.outer - b.outer || a.hole - b.hole);
  // The shortest may have no second beside it, where the hole all but touches the outline.
  for (const first of bridges) {
    const [p, q] = [outer[first.outer]!, hole[first.hole]!];
    const seconds = bridges
      .filter((b) => b.outer !== first.outer && b.hole !== first.hole)
      .map((bridge) => {
        const [r, s] = [outer[bridge.outer]!, hole[bridge.hole]!];
        return { bridge, width: widthOf([p, q, r, s]), apart: !meet(p, q, r, s) };
      })
      .filter((b) => b.apart && b.width > 0);
    const widest = Math.max(...seconds.map((b) => b.width));
    const second = seconds.find((b) => b.width >= widest * wideEnough)?.bridge;
    if (second) return { outer: [first.outer, second.outer], hole: [first.hole, second.hole] };
  }
  return null;
}

/** Corner numbers of each half: along the outer ring, over a bridge, along the hole, and back over the other bridge. */
export function halvesOf(
  cut: HoleCut,
  outerCount: number,
  holeCount: number,
): { readonly outer: readonly number[]; readonly hole: readonly number[] }[] {
  const walk = (from: number, to: number, n: number) =>
    Array.from({ length: ((to - from + n) % n) + 1 }, (_, i) => (from + i) % n);
  const half = (a: 0 | 1, b: 0 | 1) => ({
    outer: walk(cut.outer[a], cut.outer[b], outerCount),
    hole: walk(cut.hole[b], cut.hole[a], holeCount),
  });
  return [half(0, 1), half(1, 0)];
}

/** Whether a point lies inside a ring. */
export function isInside(p: Point, ring: readonly Point[]): boolean {
  let odd = false;
  ring.forEach((a, i) => {
    const b = ring[(i + 1) % ring.length]!;
    if (a.y > p.y !== b.y > p.y && p.x < a.x + ((p.y - a.y) / (b.y - a.y)) * (b.x - a.x)) odd = !odd;
  });
  return odd;
}

/** Which side of the line p–q the point r is on, as a sign; 0 on the line. */
function sideOf(p: Point, q: Point, r: Point): number {
  const area = cross(subtract(q, p), subtract(r, p));
  const span = Math.max(distance(p, q), distance(p, r), distance(q, r));
  return Math.abs(area) <= onOneLine * span * span ? 0 : Math.sign(area);
}

/** Whether two stretches cross or touch. Those on one line count as meeting, though they may lie apart. */
const meet = (p: Point, q: Point, a: Point, b: Point): boolean =>
  sideOf(p, q, a) * sideOf(p, q, b) <= 0 && sideOf(a, b, p) * sideOf(a, b, q) <= 0;

/** Whether the stretch p–q meets no side of a ring but at the corner `own`, one of its ends. */
function isClear(p: Point, q: Point, ring: readonly Point[], own: number): boolean {
  return ring.every((a, i) => {
    const j = (i + 1) % ring.length;
    const b = ring[j]!;
    if (i !== own && j !== own) return !meet(p, q, a, b);
    // At its own corner a side may leave in any direction but along the stretch.
    return sideOf(p, q, i === own ? b : a) !== 0;
  });
}

/** Twice the area of the widest triangle between four points; 0 where all lie on one line. */
function widthOf(points: readonly [Point, Point, Point, Point]): number {
  const [a, b, c, d] = points;
  const triples = [
    [a, b, c],
    [a, b, d],
    [a, c, d],
    [b, c, d],
  ] as const;
  return Math.max(
    ...triples.map(([p, q, r]) =>
      sideOf(p, q, r) === 0 ? 0 : Math.abs(cross(subtract(q, p), subtract(r, p))),
    ),
  );
}
