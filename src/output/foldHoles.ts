import { distance, type Point } from '../math';
import type { RingPlace } from './foldMesh';

/**
 * A hole joined to the ring of the face round it: the new ring walks to the hole, round it, and back along the same
 * join edge. The shortest join that crosses nothing is taken; of equal ones the first.
 * @param at places of the corners
 */
export function joinHole(
  ring: readonly RingPlace[],
  hole: readonly RingPlace[],
  at: readonly Point[],
): RingPlace[] {
  const sides = [ring, hole].flatMap((loop) =>
    loop.map((r, i) => [at[r.corner]!, at[loop[(i + 1) % loop.length]!.corner]!] as const),
  );
  let best: { r: number; h: number; length: number } | null = null;
  for (const [r, from] of ring.entries())
    for (const [h, to] of hole.entries()) {
      const [p, q] = [at[from.corner]!, at[to.corner]!];
      const length = distance(p, q);
      if (best && length >= best.length) continue;
      if (!sides.some(([a, b]) => crosses(p, q, a, b))) best = { r, h, length };
    }
  // Some corner of the ring always sees some corner of the hole; noise alone can hide them all from each other.
  const { r, h } = best ?? { r: 0, h: 0 };
  const join = { kind: 'join', of: '', step: 0 } as const;
  const round = [...hole.slice(h), ...hole.slice(0, h)];
  return [
    ...ring.slice(0, r),
    { ...join, corner: ring[r]!.corner, forward: true },
    ...round,
    { ...join, corner: hole[h]!.corner, forward: false },
    ...ring.slice(r),
  ];
}

/** Whether two stretches cross inside both. */
function crosses(p: Point, q: Point, a: Point, b: Point): boolean {
  const side = (u: Point, v: Point, w: Point) => (v.x - u.x) * (w.y - u.y) - (v.y - u.y) * (w.x - u.x);
  return side(p, q, a) * side(p, q, b) < 0 && side(a, b, p) * side(a, b, q) < 0;
}
