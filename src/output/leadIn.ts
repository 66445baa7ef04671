/**
 * Lead-ins: a cut starts in the waste beside an outline and runs straight into it, so that the mark of piercing stays
 * off the panel.
 */
import { add, lerp, type Point, scaleBy, subtract, turnLeft, turnRight, unitOf } from '../math';
import type { Mm } from '../units';
import { isInside } from './cutOrder';

type Ring = readonly Point[];

/** Sides that are tried as the place of the lead-in, longest first. */
const mostTries = 12;

/** An outline as it is cut: closed, or open with a lead-in. */
export interface CutPath {
  readonly points: readonly Point[];
  readonly closed: boolean;
}

/** All outlines of a drawing with lead-ins of this length, 0 for none; those without room for one stay closed. */
export function withLeadIns(rings: readonly Ring[], length: Mm): CutPath[] {
  const closed = (points: Ring): CutPath => ({ points, closed: true });
  if (length <= 0) return rings.map(closed);
  const material = inMaterial(rings);
  return rings.map((ring) => {
    const points = withLeadIn(ring, length, rings, material);
    return points ? { points, closed: false } : closed(ring);
  });
}

/**
 * The outline as one open path that starts with a lead-in of this length at the middle of a long side and ends where it
 * met the outline. The lead-in touches none of `all` and lies in no material.
 * @param all every outline of the drawing, this one included
 * @param material whether a point lies in foam that is wanted
 * @returns null where there is no room on any of the longest sides
 */
function withLeadIn(
  ring: Ring,
  length: Mm,
  all: readonly Ring[],
  material: (p: Point) => boolean,
): Point[] | null {
  const sides = ring
    .map((a, i) => ({ a, b: ring[(i + 1) % ring.length]!, i }))
    .map((side) => ({ ...side, long: Math.hypot(side.b.x - side.a.x, side.b.y - side.a.y) }))
    .sort((p, q) => q.long - p.long || p.i - q.i);
  for (const { a, b, i, long } of sides.slice(0, mostTries)) {
    if (long === 0) break;
    const middle = lerp(a, b, 0.5);
    for (const turn of [turnRight, turnLeft]) {
      const across = turn(unitOf(subtract(b, a)));
      const start = add(middle, scaleBy(across, length));
      // A hair off the outline, so that touching it at the end does not count as crossing.
      const beside = add(middle, scaleBy(across, length * 1e-6));
      if (material(start) || material(beside)) continue;
      if (all.some((other) => crosses(start, beside, other))) continue;
      const round = [...ring.slice(i + 1), ...ring.slice(0, i + 1)];
      return [start, middle, ...round, middle];
    }
  }
  return null;
}

/** Even-odd over all outlines: foam that is wanted has an odd number of outlines round it. */
const inMaterial =
  (all: readonly Ring[]) =>
  (p: Point): boolean =>
    all.filter((ring) => isInside(p, ring)).length % 2 === 1;

function crosses(a: Point, b: Point, ring: Ring): boolean {
  const side = (u: Point, v: Point, w: Point) => (v.x - u.x) * (w.y - u.y) - (v.y - u.y) * (w.x - u.x);
  return ring.some((c, i) => {
    const d = ring[(i + 1) % ring.length]!;
    return side(a, b, c) * side(a, b, d) < 0 && side(c, d, a) * side(c, d, b) < 0;
  });
}
