/**
 * One piece of the pattern as foam: soft bends taken up, edges shifted face by face, kerf added. Pure, and the only
 * costly step of the stage, so callers may remember it by piece and plan (see {@link rememberShapes}).
 *
 * mm, y up, seen from outside, at the final scale.
 */
import { distance, lerp, type Point, point, polylineLength, ringArea } from '../math';
import type { Edge, FoamDepths, Fold, PanelEdge, PanelFold, Piece, SeamPreparation } from '../model';
import { type ShiftEdge, type ShiftedEdge, type ShiftResult, shiftEdges } from '../plane';
import type { Mm, Rad } from '../units';
import { type CornerMove, foldMoves, moveLine } from './foldShift';
import { borderCut, type SeamCut, seamCut } from './seamCut';
import { type BendFoam, bendLengthChange } from './softBend';
import { sameCorner } from './tolerance';

/** Everything besides the piece itself that its shape depends on; plain data. */
export interface PiecePlan extends BendFoam {
  readonly scale: number;
  readonly depths: FoamDepths;
  readonly kerf: Mm;
  readonly traced: 'outside' | 'inside';
  readonly mitreLimit: number;
  /** By edge id; edges that are not here are borders. */
  readonly seams: Readonly<Record<string, PlannedSeam>>;
  /** Bend by fold id; null: not set. */
  readonly folds: Readonly<Record<string, Rad | null>>;
}

export interface PlannedSeam {
  readonly seam: string;
  readonly bend: Rad | null;
  readonly preparation: SeamPreparation;
}

export interface PieceShape {
  /** Edges of the traced face, kerf included, as in the panel. */
  readonly loops: readonly (readonly PanelEdge[])[];
  readonly folds: readonly PanelFold[];
  /** `inside` and `outside` are the two skins as they should come out, without kerf; `traced` is what is cut along. */
  readonly outlines: {
    readonly inside: readonly (readonly Point[])[];
    readonly traced: readonly (readonly Point[])[];
    readonly outside: readonly (readonly Point[])[];
  };
  /** Length of each edge on the traced face without kerf, by edge id. */
  readonly netLengths: Readonly<Record<string, Mm>>;
  readonly troubles: readonly FaceTrouble[];
}

/** What went wrong on one skin. */
export interface FaceTrouble {
  readonly skin: 'inside' | 'outside';
  /** Pairs of edges that run into each other. */
  readonly crossings: readonly (readonly [string, string])[];
  readonly vanished: readonly string[];
  /** Number of separate parts that are left: 1 is right, 0 means that nothing is left. */
  readonly parts: number;
  /** Bevelled edges at these places that would lie further back on this skin if they were cut square. */
  readonly squareHelps: readonly string[];
}

export type ShapePiece = (piece: Piece, plan: PiecePlan) => PieceShape;

/** Makes the foam shape of a piece. */
export const shapePiece: ShapePiece = (piece, plan) => {
  const scaled = scalePiece(piece, plan.scale);
  const moves = foldMoves(scaled, (fold) => {
    const bend = plan.folds[fold.id] ?? null;
    return bend === null || bend === 0 ? 0 : bendLengthChange(bend, plan, plan.depths);
  });
  const loops = [scaled.outline, ...scaled.holes].map((loop) =>
    loop.map((edge) => ({ edge, points: moveLine(edge.points, moves), cut: cutOf(edge.id, plan) })),
  );
  const shift = (skin: 'inside' | 'outside', extra: Mm) => {
    const given = loops.map((loop) =>
      loop.map(
        ({ edge, points, cut }): ShiftEdge => ({
          id: edge.id,
          points,
          shift: cut[skin] + extra,
          blend: plan.seams[edge.id]?.preparation === 'square' ? 'deeper' : 'mean',
        }),
      ),
    );
    return { given, result: shiftEdges(given, { mitreLimit: plan.mitreLimit }) };
  };
  const skins = { inside: shift('inside', 0), outside: shift('outside', 0) };
  const traced = plan.kerf === 0 ? skins[plan.traced] : shift(plan.traced, plan.kerf / 2);
  return {
    loops: traced.result.loops.map((loop, l) =>
      loop.map((shifted, k) => panelEdge(loops[l]![k]!.edge, shifted, plan)),
    ),
    folds: scaled.folds.map((fold) => panelFold(fold, plan, moves, traced)),
    outlines: {
      inside: skins.inside.result.rings,
      traced: traced.result.rings,
      outside: skins.outside.result.rings,
    },
    netLengths: Object.fromEntries(
      skins[plan.traced].result.loops.flat().map((edge) => [edge.id, partsLength(edge)]),
    ),
    troubles: (['outside', 'inside'] as const).flatMap((skin) =>
      troublesOf(skin, skins[skin].given, skins[skin].result, plan),
    ),
  };
};

/** A {@link shapePiece} (or `shape`) that remembers its last answers for every piece and gives them again for an equal
 *  plan. Pieces are told apart by identity, so it fits a pattern that is kept while settings change. */
export function rememberShapes(shape: ShapePiece = shapePiece): ShapePiece {
  const known = new WeakMap<Piece, { readonly key: string; readonly shape: PieceShape }[]>();
  return (piece, plan) => {
    const key = JSON.stringify(plan);
    const entries = known.get(piece) ?? [];
    const hit = entries.find((entry) => entry.key === key);
    if (hit) return hit.shape;
    const made = shape(piece, plan);
    // A few plans a piece: the rounds of one run, and going back and forth with one setting.
    known.set(piece, [{ key, shape: made }, ...entries].slice(0, 8));
    return made;
  };
}

function scalePiece(piece: Piece, scale: number): Piece {
  if (scale === 1) return piece;
  const at = (p: Point) => point(p.x * scale, p.y * scale);
  const loop = (edges: readonly Edge[]) => edges.map((edge) => ({ ...edge, points: edge.points.map(at) }));
  return {
    ...piece,
    outline: loop(piece.outline),
    holes: piece.holes.map(loop),
    folds: piece.folds.map((fold) => ({ ...fold, points: fold.points.map(at) })),
    faces: piece.faces.map((face) => ({
      ...face,
      polygon: face.polygon.map(at),
      holes: face.holes.map((ring) => ring.map(at)),
    })),
  };
}

const cutOf = (edge: string, plan: PiecePlan): SeamCut => {
  const planned = plan.seams[edge];
  return planned ? seamCut(planned.bend ?? 0, planned.preparation, plan.depths) : borderCut;
};

function panelEdge(edge: Edge, shifted: ShiftedEdge, plan: PiecePlan): PanelEdge {
  const planned = plan.seams[edge.id];
  const tilt = cutOf(edge.id, plan).tilt;
  return {
    id: edge.id,
    seam: planned?.seam ?? null,
    shift: shifted.shift,
    bevel: plan.traced === 'outside' || tilt === 0 ? tilt : -tilt,
    bend: planned?.bend ?? null,
    points: longest(shifted.parts),
    curved: edge.curved,
  };
}

/** The largest part of an edge that a clean-up has cut in several. */
function longest(parts: readonly (readonly Point[])[]): readonly Point[] {
  let best: readonly Point[] = [];
  for (const part of parts) if (polylineLength(part) > polylineLength(best) || best.length === 0) best = part;
  return best;
}

const partsLength = (edge: ShiftedEdge): Mm =>
  edge.parts.reduce((sum, part) => sum + polylineLength(part), 0);

/** The fold on the panel: moved with its faces, and its ends brought to the corners of the traced outline. */
function panelFold(
  fold: Fold,
  plan: PiecePlan,
  moves: CornerMove,
  traced: { readonly given: readonly (readonly ShiftEdge[])[]; readonly result: ShiftResult },
): PanelFold {
  const moved = moveLine(fold.points, moves);
  const points = [...moved];
  points[0] = tracedCorner(moved[0]!, traced) ?? moved[0]!;
  points[points.length - 1] = tracedCorner(moved.at(-1)!, traced) ?? moved.at(-1)!;
  return { id: fold.id, points, role: fold.role, bend: plan.folds[fold.id] ?? null };
}

/** Where the outline's corner at `corner` went; null when there is none or it went with its edges. */
function tracedCorner(
  corner: Point,
  traced: { readonly given: readonly (readonly ShiftEdge[])[]; readonly result: ShiftResult },
): Point | null {
  for (const [l, loop] of traced.given.entries()) {
    for (const [k, edge] of loop.entries()) {
      if (distance(edge.points.at(-1)!, corner) > sameCorner) continue;
      const before = traced.result.loops[l]![k]!;
      const after = traced.result.loops[l]![(k + 1) % loop.length]!;
      const end = before.parts.length > 0 ? before.line.at(-1) : undefined;
      const start = after.parts.length > 0 ? after.line[0] : undefined;
      if (end && start) return lerp(end, start, 0.5);
      return end ?? start ?? null;
    }
  }
  return null;
}

function troublesOf(
  skin: 'inside' | 'outside',
  given: readonly (readonly ShiftEdge[])[],
  result: ShiftResult,
  plan: PiecePlan,
): FaceTrouble[] {
  const parts = result.rings.filter((ring) => ringArea(ring) > 0).length;
  if (result.crossings.length === 0 && result.vanished.length === 0 && parts === 1) return [];
  return [
    {
      skin,
      crossings: result.crossings,
      vanished: result.vanished,
      parts,
      squareHelps: squareHelps(skin, given, result, plan),
    },
  ];
}

/**
 * Bevelled edges that cross another edge, or that lie in a notch in which an edge vanished, and that a square cut would
 * take back: those that reach beyond the square cut's line on this skin. Besides narrow notches these are darts that
 * close because the flat outer skin is longer than the bent one.
 */
function squareHelps(
  skin: 'inside' | 'outside',
  given: readonly (readonly ShiftEdge[])[],
  result: ShiftResult,
  plan: PiecePlan,
): string[] {
  const found = new Set<string>();
  const take = (id: string) => {
    const planned = plan.seams[id];
    if (planned?.preparation !== 'bevel') return;
    const square = seamCut(planned.bend ?? 0, 'square', plan.depths);
    if (square[skin] < cutOf(id, plan)[skin]) found.add(id);
  };
  for (const [p, q] of result.crossings) {
    take(p);
    take(q);
  }
  const vanished = new Set(result.vanished);
  for (const loop of given) {
    loop.forEach((edge, k) => {
      if (!vanished.has(edge.id)) return;
      const before = loop[(k + loop.length - 1) % loop.length]!;
      const after = loop[(k + 1) % loop.length]!;
      if (!isReflex(before, edge) && !isReflex(edge, after)) return;
      for (const near of [before, edge, after]) take(near.id);
    });
  }
  return [...found];
}

/** The outline turns right from one edge to the next: a corner that points into the material. */
function isReflex(before: ShiftEdge, after: ShiftEdge): boolean {
  const [p, q] = [before.points.at(-2)!, before.points.at(-1)!];
  const [r, s] = [after.points[0]!, after.points[1]!];
  return (q.x - p.x) * (s.y - r.y) - (q.y - p.y) * (s.x - r.x) < 0;
}
