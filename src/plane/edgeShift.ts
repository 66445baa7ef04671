/**
 * Per-edge shift: every edge of a flat part is moved by its own signed distance, parallel to its source, and the
 * moved edges are joined to rings again.
 *
 * mm, y up. Loops are closed runs of edges with the material to their left: an outline counter-clockwise, holes
 * clockwise. A positive shift moves an edge away from the material, in outlines and holes alike. The source must not
 * cross itself. A shift always starts from the source: never shift a shifted result.
 *
 * Method: own (the polygon library offsets per vertex, which does not keep edges parallel).
 * - corners between edges: intersection of the shifted lines, the bisector below 20° of turn, blunt beyond the mitre
 *   limit (edgeShiftCorner), or where the caller says;
 * - inside a curved edge: mitres, fine arcs at kinks;
 * - edges that shrink to nothing leave in the order in which they do (edgeShiftCollapse);
 * - loops that cross are resolved by one union of all rings (edgeShiftClean).
 */
import { GirthwiseError } from '../base';
import type { Point } from '../math';
import { polylineLength } from '../math';
import type { Mm } from '../units';
import { type CleanRings, cleanRings } from './edgeShiftClean';
import { type MovedLoop, moveLoop, type OwnedRing } from './edgeShiftCollapse';

export interface ShiftEdge {
  readonly id: string;
  /** From start to end in the direction of the loop, both included; a closed edge repeats its first point. */
  readonly points: readonly Point[];
  /** Distance to move, mm, + away from the material. */
  readonly shift: Mm;
  /** What a nearly collinear corner takes when both its edges say the same: `mean` (default) or `deeper`, the
   *  smaller of the two shifts. Where they differ: mean. */
  readonly blend?: 'mean' | 'deeper';
  /** Where the corner at its end goes, as a displacement, in place of the rule for corners. */
  readonly corner?: Point;
}

export interface ShiftOptions {
  /** A corner at which both edges grow stands at most this many times the larger shift from its source. At least 1. */
  readonly mitreLimit: number;
}

export interface ShiftedEdge {
  readonly id: string;
  readonly shift: Mm;
  /** The moved edge before loops were cleaned of crossings, exact; empty when it collapsed. */
  readonly line: readonly Point[];
  /** What of it is part of the rings, in ring order: normally `line` alone. Empty: the edge vanished. */
  readonly parts: readonly (readonly Point[])[];
  /** One of its ends was blended or capped, so that it is not parallel to its source all along. */
  readonly blended: boolean;
}

export interface ShiftResult {
  /** Outlines counter-clockwise, largest first, then holes clockwise; first point not repeated. None: nothing is left. */
  readonly rings: readonly (readonly Point[])[];
  /** As the loops and edges that were given. */
  readonly loops: readonly (readonly ShiftedEdge[])[];
  /** Ids of edges that have no part in the rings, in order. */
  readonly vanished: readonly string[];
  /** Pairs of edge ids whose moved lines cross; that ground was resolved by the union. */
  readonly crossings: readonly (readonly [string, string])[];
  /** True when no loop touched itself or another: rings and lines are exact. */
  readonly clean: boolean;
}

/**
 * Moves every edge of `loops` by its own shift.
 * @throws GirthwiseError for shifts that are not finite and for a mitre limit below 1.
 */
export function shiftEdges(loops: readonly (readonly ShiftEdge[])[], options: ShiftOptions): ShiftResult {
  if (!(options.mitreLimit >= 1))
    throw new GirthwiseError('mitre-limit', `The mitre limit must be at least 1, not ${options.mitreLimit}.`);
  for (const edge of loops.flat())
    if (!Number.isFinite(edge.shift))
      throw new GirthwiseError('edge-shift', `The shift of edge ${edge.id} is ${edge.shift}.`);

  const moved = loops.map((loop) =>
    moveLoop(
      loop.map((edge) => ({
        points: edge.points,
        shift: edge.shift,
        deeper: edge.blend === 'deeper',
        ...(edge.corner ? { corner: edge.corner } : {}),
      })),
      options.mitreLimit,
    ),
  );
  const firstOf: number[] = [];
  let count = 0;
  for (const loop of loops) {
    firstOf.push(count);
    count += loop.length;
  }
  const clean = cleanRings(numberedRings(moved, firstOf));
  const ids = loops.flatMap((loop) => loop.map((edge) => edge.id));
  const shifted = loops.map((loop, l) =>
    loop.map((edge, k): ShiftedEdge => {
      const line = moved[l]!.lines[k]!;
      const parts = partsOf(line, clean, firstOf[l]! + k);
      return { id: edge.id, shift: edge.shift, line, parts, blended: moved[l]!.blended[k]! };
    }),
  );
  return {
    rings: clean.rings,
    loops: shifted,
    vanished: shifted.flatMap((loop) =>
      loop.filter((edge) => edge.parts.length === 0).map((edge) => edge.id),
    ),
    crossings: clean.crossings.map(([p, q]) => [ids[p]!, ids[q]!]),
    clean: clean.untouched,
  };
}

/** The rings that are left, with edge numbers that count over all loops. */
function numberedRings(moved: readonly MovedLoop[], firstOf: readonly number[]): OwnedRing[] {
  return moved.flatMap(({ ring }, l) =>
    ring
      ? [{ points: ring.points, owners: ring.owners.map((owner) => (owner < 0 ? -1 : owner + firstOf[l]!)) }]
      : [],
  );
}

function partsOf(line: readonly Point[], clean: CleanRings, number: number): readonly (readonly Point[])[] {
  if (clean.parts) return clean.parts.get(number) ?? [];
  return line.length > 1 && polylineLength(line) > 0 ? [line] : [];
}
