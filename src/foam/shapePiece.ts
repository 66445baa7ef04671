/**
 * One piece of the pattern as foam: soft bends taken up, edges shifted face by face, kerf added. Pure, and the only
 * costly step of the stage, so callers may remember it by piece and plan (see {@link rememberShapes}).
 *
 * mm, y up, seen from outside, at the final scale.
 */
import { distance, lerp, type Point, point, polylineLength } from '../math';
import type {
  Edge,
  FoamDepths,
  Fold,
  PanelBody,
  PanelEdge,
  PanelFold,
  Piece,
  SeamPreparation,
} from '../model';
import { type ShiftEdge, type ShiftedEdge, type ShiftResult, shiftEdges } from '../plane';
import type { Mm, Rad } from '../units';
import { type CornerMove, foldMoves, moveLine } from './foldShift';
import { borderCut, type LapPart, type SeamCut, seamCut } from './seamCut';
import type { BendFoam } from './softBend';
import { sameCorner } from './tolerance';
import { type FaceTrouble, type ShiftOwner, troublesOf } from './troubles';

/** Everything besides the piece itself that its shape depends on; plain data. */
export interface PiecePlan extends BendFoam {
  readonly scale: number;
  readonly depths: FoamDepths;
  readonly kerf: Mm;
  readonly traced: 'outside' | 'inside';
  readonly mitreLimit: number;
  /** By edge id, on the shell by seam id as well; edges that are not here are borders. */
  readonly seams: Readonly<Record<string, PlannedSeam>>;
  /** Bend by fold id; null: not set. */
  readonly folds: Readonly<Record<string, Rad | null>>;
  /** Height of the neutral layer above the source surface; 0 when that is the neutral surface itself. */
  readonly neutral: Mm;
  /** How deep the touching edges of square seams are squeezed; absent: not at all. */
  readonly squeeze?: Mm;
  /** Grooves of scored folds, by fold id. */
  readonly grooves: Readonly<Record<string, NonNullable<PanelFold['groove']>>>;
  /** By fold id: by how much the flat panel is longer across it than the surface that it is made from. */
  readonly foldLengths: Readonly<Record<string, Mm>>;
}

export interface PlannedSeam {
  readonly seam: string;
  readonly bend: Rad | null;
  /** The bend is the person's word. */
  readonly typed: boolean;
  readonly preparation: SeamPreparation;
  /** The skins of the mate above and below this panel's own source surface. */
  readonly mate?: FoamDepths;
  readonly lap?: LapPart;
}

/** Lengths of one side of a seam, kerf left out. */
export interface SideMeasure {
  /** Flat on the traced face. */
  readonly length: Mm;
  /** At the neutral depth. */
  readonly neutral: Mm;
  /** Once the panel is bent, at the depth where it is glued (`gluedHeight`); without a shell the same as flat. */
  readonly bent: Mm;
}

/** The key of a measure: an edge may take part in several seams. */
export const measureKey = (edge: string, seam: string | null): string => `${edge} ${seam ?? ''}`;

export interface PieceShape {
  /** Edges of the traced face, kerf included, as in the panel. */
  readonly loops: readonly (readonly PanelEdge[])[];
  readonly folds: readonly PanelFold[];
  /** Only of a panel from the shell. */
  readonly body?: PanelBody;
  /** `inside` and `outside` are the two skins as they should come out, without kerf; `traced` is what is cut along. */
  readonly outlines: {
    readonly inside: readonly (readonly Point[])[];
    readonly traced: readonly (readonly Point[])[];
    readonly outside: readonly (readonly Point[])[];
  };
  /** By edge and seam, see {@link measureKey}. */
  readonly measures: Readonly<Record<string, SideMeasure>>;
  readonly troubles: readonly FaceTrouble[];
}

export type ShapePiece = (piece: Piece, plan: PiecePlan) => PieceShape;

/** Makes the foam shape of a piece. */
export const shapePiece: ShapePiece = (piece, plan) => {
  const scaled = scalePiece(piece, plan.scale);
  const moves = foldMoves(scaled, (fold) => plan.foldLengths[fold.id] ?? 0);
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
          blend: (plan.seams[edge.id]?.preparation ?? 'bevel') === 'bevel' ? 'mean' : 'deeper',
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
    folds: scaled.folds.filter(isMade).map((fold) => panelFold(fold, plan, moves, traced)),
    outlines: {
      inside: skins.inside.result.rings,
      traced: traced.result.rings,
      outside: skins.outside.result.rings,
    },
    measures: measuresOf(skins.inside.result, skins.outside.result, plan),
    troubles: (['outside', 'inside'] as const).flatMap((skin) =>
      troublesOf(skin, skins[skin].given, skins[skin].result, (id) => ownerOf(id, plan)),
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

export function scalePiece(piece: Piece, scale: number): Piece {
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

/** The cut of a planned seam where it is bent so far. */
export const plannedCut = (planned: PlannedSeam, bend: Rad, plan: PiecePlan): SeamCut =>
  seamCut(bend, planned.preparation, plan.depths, {
    neutral: plan.neutral,
    squeeze: plan.squeeze ?? 0,
    ...(planned.mate ? { mate: planned.mate } : {}),
    ...(planned.lap ? { lap: planned.lap } : {}),
  });

/** What is told of the cut of an edge. */
export const cutWords = (planned: PlannedSeam | null | undefined): Pick<PanelEdge, 'preparation' | 'lap'> =>
  planned ? { preparation: planned.preparation, ...(planned.lap ? { lap: planned.lap.part } : {}) } : {};

const cutOf = (edge: string, plan: PiecePlan): SeamCut => {
  const planned = plan.seams[edge];
  return planned ? plannedCut(planned, planned.bend ?? 0, plan) : borderCut;
};

function panelEdge(edge: Edge, shifted: ShiftedEdge, plan: PiecePlan): PanelEdge {
  const planned = plan.seams[edge.id];
  const tilt = cutOf(edge.id, plan).tilt;
  return {
    id: edge.id,
    seam: planned?.seam ?? null,
    shift: shifted.shift,
    bevel: plan.traced === 'outside' || tilt === 0 ? tilt : -tilt,
    ...cutWords(planned),
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
export function panelFold(
  fold: Fold,
  plan: PiecePlan,
  moves: CornerMove,
  traced: { readonly given: readonly (readonly ShiftEdge[])[]; readonly result: ShiftResult },
): PanelFold {
  const moved = moveLine(fold.points, moves);
  const points = [...moved];
  points[0] = tracedCorner(moved[0]!, traced) ?? moved[0]!;
  points[points.length - 1] = tracedCorner(moved.at(-1)!, traced) ?? moved.at(-1)!;
  const groove = plan.grooves[fold.id];
  const bend = plan.folds[fold.id] ?? null;
  return { id: fold.id, points, role: fold.role, bend, ...(groove ? { groove } : {}) };
}

/** Folds that are bent or scored; the others only part one flat face in two. */
export const isMade = (fold: Fold): boolean => fold.plain !== true;

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

/**
 * The cut between the two skins of a panel is ruled, so at the part K of the thickness from the inside an edge is
 * (1 − K) of its inside and K of its outside length.
 */
function measuresOf(inside: ShiftResult, outside: ShiftResult, plan: PiecePlan): Record<string, SideMeasure> {
  const inner = new Map(inside.loops.flat().map((edge) => [edge.id, partsLength(edge)] as const));
  const k = plan.neutralRatio;
  return Object.fromEntries(
    outside.loops.flat().map((edge) => {
      const [i, o] = [inner.get(edge.id) ?? 0, partsLength(edge)];
      const length = plan.traced === 'outside' ? o : i;
      const measure: SideMeasure = { length, neutral: (1 - k) * i + k * o, bent: length };
      return [measureKey(edge.id, plan.seams[edge.id]?.seam ?? null), measure];
    }),
  );
}

function ownerOf(id: string, plan: PiecePlan): ShiftOwner {
  const planned = plan.seams[id];
  if (planned?.preparation !== 'bevel') return { edge: id, bevelled: null };
  return {
    edge: id,
    bevelled: {
      seam: planned.seam,
      now: cutOf(id, plan),
      square: seamCut(planned.bend ?? 0, 'square', plan.depths),
    },
  };
}
