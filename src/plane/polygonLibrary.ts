/**
 * The only door to the polygon library: union, difference, intersection and uniform offset of rings.
 *
 * Rings are given and returned without the first point repeated. The library works on whole numbers, so mm are
 * rounded to a grid that is fixed in space (see {@link gridPitch}); results lie on that grid. Returned outlines run
 * counter-clockwise, holes clockwise (y up). Coordinates are taken about a grid point near the middle of all rings,
 * which keeps the products that the library forms within the exact whole numbers of a double.
 */
import {
  booleanOp,
  ClipType,
  EndType,
  inflatePaths,
  JoinType,
  FillRule as LibraryFill,
  type Paths64,
} from 'clipper2-ts';
import { GirthwiseError } from '../base';
import { boxOf, type Point } from '../math';
import type { Mm } from '../units';

/**
 * 0.1 µm. Ten times coarser would show as steps in lengths compared to 1 µm; ten times finer would leave only
 * ±0.4 m before products lose exactness.
 */
export const gridPitch: Mm = 1e-4;

/** Largest distance from the middle: (2 · 4000 / 1e-4)² < 2^53, so every cross product is exact. */
const reachLimit: Mm = 4000;

/** Which winding numbers count as inside. `positive` lets clockwise leftovers of an inset disappear. */
export type FillRule = 'positive' | 'nonZero' | 'evenOdd';

type Rings = readonly (readonly Point[])[];

const fillOf: Readonly<Record<FillRule, LibraryFill>> = {
  positive: LibraryFill.Positive,
  nonZero: LibraryFill.NonZero,
  evenOdd: LibraryFill.EvenOdd,
};

/** Everything that at least one ring covers under the fill rule. All rings, holes too, in one call. */
export function uniteRings(rings: Rings, fill: FillRule = 'positive'): Point[][] {
  const grid = gridFor(rings);
  return grid.back(booleanOp(ClipType.Union, grid.forth(rings), null, fillOf[fill]));
}

/** What `rings` cover and `cut` do not. */
export function subtractRings(rings: Rings, cut: Rings, fill: FillRule = 'nonZero'): Point[][] {
  const grid = gridFor([...rings, ...cut]);
  return grid.back(booleanOp(ClipType.Difference, grid.forth(rings), grid.forth(cut), fillOf[fill]));
}

/** What both cover. */
export function intersectRings(rings: Rings, others: Rings, fill: FillRule = 'nonZero'): Point[][] {
  const grid = gridFor([...rings, ...others]);
  return grid.back(booleanOp(ClipType.Intersection, grid.forth(rings), grid.forth(others), fillOf[fill]));
}

/** How {@link offsetRings} treats corners. */
export type OffsetJoin =
  | { readonly kind: 'mitre'; readonly limit: number }
  | { readonly kind: 'round'; readonly sagitta: Mm };

/**
 * The same distance on every edge: `distance` outwards (negative: inwards). For a distance of its own on each edge
 * see edgeShift. Rings must not cross themselves: unite first.
 */
export function offsetRings(rings: Rings, distance: Mm, join: OffsetJoin): Point[][] {
  const grid = gridFor(rings, Math.abs(distance) * (join.kind === 'mitre' ? join.limit : 1));
  return grid.back(
    inflatePaths(
      grid.forth(rings),
      distance / gridPitch,
      join.kind === 'mitre' ? JoinType.Miter : JoinType.Round,
      EndType.Polygon,
      join.kind === 'mitre' ? join.limit : 2,
      join.kind === 'round' ? join.sagitta / gridPitch : 0,
    ),
  );
}

/** The two directions between mm and the library's whole numbers. */
function gridFor(rings: Rings, spread: Mm = 0) {
  const box = boxOf(rings.flat());
  const empty = box.minX > box.maxX;
  const originX = empty ? 0 : Math.round((box.minX + box.maxX) / 2 / gridPitch);
  const originY = empty ? 0 : Math.round((box.minY + box.maxY) / 2 / gridPitch);
  const reach = empty ? 0 : Math.max(box.maxX - box.minX, box.maxY - box.minY) / 2 + spread;
  // `not (≤)` so that NaN is caught as well.
  if (!(reach <= reachLimit))
    throw new GirthwiseError(
      'polygon-range',
      `Rings reach ${reach} mm from their middle; ${reachLimit} mm is the most.`,
    );
  return {
    forth: (some: Rings): Paths64 =>
      some.map((ring) =>
        ring.map((p) => ({
          x: Math.round(p.x / gridPitch) - originX,
          y: Math.round(p.y / gridPitch) - originY,
        })),
      ),
    back: (paths: Paths64): Point[][] =>
      paths.map((path) =>
        path.map((p) => ({ x: (p.x + originX) * gridPitch, y: (p.y + originY) * gridPitch })),
      ),
  };
}
