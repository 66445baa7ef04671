/**
 * Corners of bevelled outlines brought to agree with those of their mates.
 *
 * The half rule looks at each panel alone, so the two sides of a bent seam differ in length by what their corners slip
 * along it. That slip is linear in the corners' moves: for every glued stretch the slips at its two ends, taken on both
 * panels, must add up to the same. Of all moves that do, those nearest to the half rule are taken, near meaning little
 * off the edges' own lines: a move along an edge that hardly turns at the corner is almost free. Found by projecting on
 * one condition after the other (Kaczmarz), which ends at the nearest solution.
 */
import { dot, dot3, type Point, point, subtract3, unitOf3 } from '../math';
import { bevelCorner, type CornerMoves, type CutPiece, directionsAt } from './cutPiece';
import { fanMitre, inSpace } from './shellCorners';
import type { FoamNet } from './surface';
import { agreeRounds, alongEdgeCost } from './tolerance';

/** A corner that may move, in one unit of height. */
interface Free {
  slope: Point;
  /** Inverse of the cost of moving: xx, xy, yy. */
  readonly ease: readonly [number, number, number];
}

interface Condition {
  readonly constant: number;
  readonly terms: readonly { readonly corner: Free; readonly weight: Point; readonly eased: Point }[];
  readonly size: number;
}

/** @param pieces all panels from the shell. @returns the same with their corners agreed, in the same order. */
export function agreeCorners(pieces: readonly CutPiece[], net: FoamNet): CutPiece[] {
  const free = pieces.map(freeCorners);
  const conditions = conditionsOf(pieces, free, net);
  for (let round = 0; round < agreeRounds; round++) {
    let worst = 0;
    for (const { constant, terms, size } of conditions) {
      let miss = constant;
      for (const { corner, weight } of terms) miss += dot(corner.slope, weight);
      worst = Math.max(worst, Math.abs(miss));
      const step = miss / size;
      for (const { corner, eased } of terms)
        corner.slope = point(corner.slope.x - step * eased.x, corner.slope.y - step * eased.y);
    }
    if (worst < settledSlip) break;
  }
  return pieces.map((piece, p) => ({
    ...piece,
    corners: piece.corners.map((loop, l) =>
      loop.map((corner, k): CornerMoves => {
        const moved = free[p]![l]![k];
        return moved ? bevelCorner(moved.slope, piece.plan, corner.kerf) : corner;
      }),
    ),
  }));
}

/** Slips below this, per unit of height, are rounding. */
const settledSlip = 1e-9;

function freeCorners(piece: CutPiece): (Free | null)[][] {
  return piece.corners.map((loop, l) =>
    loop.map((corner, k): Free | null => {
      if (!corner.slope) return null;
      const stretches = piece.loops[l]!;
      const { before, after } = directionsAt(stretches[k]!, stretches[(k + 1) % stretches.length]!);
      // Cost of a move d: its parts square to both edges, and a little of all of it.
      const xx = before.y ** 2 + after.y ** 2 + alongEdgeCost;
      const xy = -before.x * before.y - after.x * after.y;
      const yy = before.x ** 2 + after.x ** 2 + alongEdgeCost;
      const det = xx * yy - xy * xy;
      const ease = [yy / det, -xy / det, xx / det] as const;
      return { slope: corner.slope, ease };
    }),
  );
}

function conditionsOf(
  pieces: readonly CutPiece[],
  free: readonly (readonly (readonly (Free | null)[])[])[],
  net: FoamNet,
): Condition[] {
  const sides = new Map<string, Place[]>();
  pieces.forEach((piece, p) => {
    piece.loops.forEach((loop, l) => {
      loop.forEach(({ planned, side, startVertex, endVertex }, k) => {
        if (side.kind !== 'seam' || planned?.preparation !== 'bevel') return;
        const key = startVertex < endVertex ? `${startVertex} ${endVertex}` : `${endVertex} ${startVertex}`;
        sides.set(key, [...(sides.get(key) ?? []), { p, l, k }]);
      });
    });
  });
  return [...sides.values()].flatMap((two): Condition[] => {
    const [a, b] = two;
    if (!a || !b || two.length !== 2) return [];
    const own = slipsOf(pieces, free, net, a);
    const mate = slipsOf(pieces, free, net, b);
    if (!own || !mate) return [];
    const weights = new Map<Free, Point>();
    for (const [list, sign] of [
      [own.terms, 1],
      [mate.terms, -1],
    ] as const)
      for (const { corner, weight } of list) {
        const so = weights.get(corner) ?? point(0, 0);
        weights.set(corner, point(so.x + sign * weight.x, so.y + sign * weight.y));
      }
    const terms = [...weights].map(([corner, weight]) => {
      const [xx, xy, yy] = corner.ease;
      return { corner, weight, eased: point(xx * weight.x + xy * weight.y, xy * weight.x + yy * weight.y) };
    });
    const size = terms.reduce((sum, { weight, eased }) => sum + dot(weight, eased), 0);
    return size > 1e-6 ? [{ constant: own.constant - mate.constant, terms, size }] : [];
  });
}

interface Place {
  readonly p: number;
  readonly l: number;
  readonly k: number;
}

/** By how much a stretch is longer, per unit of height, than between the shell's own vertices: slip at its end less slip
 *  at its start, along its direction. Null where heights are no measure. */
function slipsOf(
  pieces: readonly CutPiece[],
  free: readonly (readonly (readonly (Free | null)[])[])[],
  net: FoamNet,
  { p, l, k }: Place,
): { constant: number; terms: { corner: Free; weight: Point }[] } | null {
  const piece = pieces[p]!;
  const { neutral, plan } = piece;
  const loop = piece.loops[l]!;
  const stretch = loop[k]!;
  const height = plan.traced === 'outside' ? plan.depths.outside : -plan.depths.inside;
  if (height === 0) return null;
  const along = unitOf3(subtract3(neutral.places[stretch.endVertex]!, neutral.places[stretch.startVertex]!));
  let constant = 0;
  const terms: { corner: Free; weight: Point }[] = [];
  const ends = [
    { place: (k + loop.length - 1) % loop.length, node: stretch.startNode, v: stretch.startVertex, sign: -1 },
    { place: k, node: stretch.endNode, v: stretch.endVertex, sign: 1 },
  ];
  for (const { place, node, v, sign } of ends) {
    const fan = neutral.fans[node]!;
    const rise = subtract3(fanMitre(fan), net.vectors[v]!);
    constant += sign * dot3(rise, along);
    const corner = free[p]![l]![place];
    if (corner) {
      const mean = (axis: 'x' | 'y') => fan.reduce((sum, f) => sum + dot3(f[axis], along), 0) / fan.length;
      terms.push({ corner, weight: point(sign * mean('x'), sign * mean('y')) });
    } else {
      const moved = inSpace(fan, piece.corners[l]![place]![plan.traced]);
      constant += (sign * dot3(moved, along)) / height;
    }
  }
  return { constant, terms };
}
