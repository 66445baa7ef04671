/**
 * The pattern's pieces as foam panels, each flat by itself: bends are those that were typed or that the folded shell
 * gives. See README.
 */
import { GirthwiseError, type Issue } from '../base';
import {
  type BendSource,
  type FoamDecisions,
  type FoamResult,
  type FoamSeamRow,
  foamDepths,
  type MarkDecisions,
  type Panel,
  type Pattern,
  type Piece,
  type Seams,
} from '../model';
import { type Bends, type FoldedBends, findBends } from './bends';
import { panelIssues, seamIssues } from './issues';
import { seamCut } from './seamCut';
import { type PiecePlan, type PieceShape, type PlannedSeam, type ShapePiece, shapePiece } from './shapePiece';
import { fallbackRounds } from './tolerance';

/**
 * Makes a panel of every piece. All lengths of the drawing are multiplied by `scale` first; foam thickness, kerf and
 * bend radius are not. Panel ids are the piece ids. Bevelled edges that run into each other in a narrow notch are cut
 * square instead, with their mates, and an issue says so.
 * @param folded bends of the folded shell; typed ones come before them, those for whole kinds after.
 * @param shape how to shape one piece: {@link shapePiece}, or `rememberShapes()` to reuse shapes of unchanged pieces.
 * @throws GirthwiseError for a scale that is not positive, or foam figures that are negative or not finite.
 */
export function makePanels(
  pattern: Pattern,
  seams: Seams,
  scale: number,
  foam: FoamDecisions,
  marks: MarkDecisions,
  shape: ShapePiece = shapePiece,
  folded: FoldedBends | null = null,
): FoamResult {
  checkFigures(scale, foam);
  const bends = findBends(pattern, seams, foam, folded);
  const depths = foamDepths(foam);
  const mates = matesOf(seams);
  const squared = new Set<string>();
  const planOf = (piece: Piece): PiecePlan => ({
    scale,
    depths,
    thickness: foam.thickness,
    neutralRatio: foam.neutralRatio,
    bendRadius: foam.bendRadius,
    kerf: foam.kerf,
    traced: foam.traced,
    mitreLimit: foam.mitreLimit,
    seams: planSeams(piece, mates, bends, (seam) => preparationOf(seam, foam, squared)),
    folds: Object.fromEntries(piece.folds.map((fold) => [fold.id, bends.ofFold.get(fold.id) ?? null])),
  });
  const shapes = pattern.pieces.map((piece) => shape(piece, planOf(piece)));
  for (let round = 0; round < fallbackRounds; round++) {
    const colliding = collidingSeams(shapes, mates);
    if (colliding.size === 0) break;
    for (const seam of colliding) squared.add(seam);
    pattern.pieces.forEach((piece, k) => {
      const edges = [piece.outline, ...piece.holes].flat();
      if (edges.some((edge) => colliding.has(mates.get(edge.id) ?? '')))
        shapes[k] = shape(piece, planOf(piece));
    });
  }
  const rows = seamRows(seams, foam, bends, squared, lengthsOf(shapes));
  return {
    panels: pattern.pieces.map((piece, k) => panelOf(piece, shapes[k]!, foam, marks, bends)),
    rows,
    unsetBends: bends.unset,
    issues: [
      ...bends.issues,
      ...seamIssues(seams, rows, squared),
      ...pattern.pieces.flatMap((piece, k) => panelIssues(nameOf(piece, marks), piece, shapes[k]!, foam)),
    ] satisfies Issue[],
  };
}

function checkFigures(scale: number, foam: FoamDecisions): void {
  if (!(scale > 0) || !Number.isFinite(scale))
    throw new GirthwiseError('foam-scale', `The scale must be positive, not ${scale}.`);
  for (const figure of ['thickness', 'kerf', 'bendRadius', 'neutralRatio'] as const)
    if (!(foam[figure] >= 0) || !Number.isFinite(foam[figure]))
      throw new GirthwiseError('foam-figure', `Foam ${figure} must be 0 or more, not ${foam[figure]}.`);
}

/** Seam of every edge that has one. */
function matesOf(seams: Seams): Map<string, string> {
  return new Map(
    seams.seams.flatMap((seam) => [seam.a, seam.b].map((side) => [side.edge, seam.id] as const)),
  );
}

const preparationOf = (seam: string, foam: FoamDecisions, squared: ReadonlySet<string>) =>
  squared.has(seam) ? 'square' : (foam.preparationOf[seam] ?? foam.preparation);

function planSeams(
  piece: Piece,
  mates: ReadonlyMap<string, string>,
  bends: Bends,
  preparation: (seam: string) => PlannedSeam['preparation'],
): Record<string, PlannedSeam> {
  const planned: Record<string, PlannedSeam> = {};
  for (const edge of [piece.outline, ...piece.holes].flat()) {
    const seam = mates.get(edge.id);
    if (seam === undefined) continue;
    planned[edge.id] = { seam, bend: bends.ofSeam.get(seam) ?? null, preparation: preparation(seam) };
  }
  return planned;
}

/** Seams that are bevelled now and whose square cut takes an edge out of a collision. */
function collidingSeams(shapes: readonly PieceShape[], mates: ReadonlyMap<string, string>): Set<string> {
  const edges = shapes.flatMap((shape) => shape.troubles.flatMap((trouble) => trouble.squareHelps));
  return new Set(edges.flatMap((edge) => mates.get(edge) ?? []));
}

const lengthsOf = (shapes: readonly PieceShape[]): Record<string, number> =>
  Object.assign({}, ...shapes.map((shape) => shape.netLengths));

function seamRows(
  seams: Seams,
  foam: FoamDecisions,
  bends: Bends,
  squared: ReadonlySet<string>,
  lengths: Readonly<Record<string, number>>,
): FoamSeamRow[] {
  const runOf = new Map(seams.runs.flatMap((run) => run.seams.map((seam) => [seam, run.number] as const)));
  return seams.seams.map((seam) => {
    const bend = bends.ofSeam.get(seam.id) ?? null;
    const preparation = preparationOf(seam.id, foam, squared);
    const cut = seamCut(bend ?? 0, preparation, foamDepths(foam));
    const lengthA = lengths[seam.a.edge] ?? 0;
    const lengthB = lengths[seam.b.edge] ?? 0;
    return {
      seam: seam.id,
      run: runOf.get(seam.id) ?? seam.number,
      preparation,
      bend,
      ...sourceOf(seam.id, bends),
      bevel: foam.traced === 'outside' || cut.tilt === 0 ? cut.tilt : -cut.tilt,
      lengthA,
      lengthB,
      mismatch: Math.abs(lengthA - lengthB),
      openWedge: cut.openWedge,
    };
  });
}

/** The field that tells where a bend is from; none where no bend is set. */
function sourceOf(id: string | null, bends: Bends): { bendFrom?: BendSource } {
  const from = id === null ? undefined : bends.from.get(id);
  return from ? { bendFrom: from } : {};
}

const nameOf = (piece: Piece, marks: MarkDecisions): string => marks.pieceNames[piece.id] ?? piece.name;

function panelOf(
  piece: Piece,
  shape: PieceShape,
  foam: FoamDecisions,
  marks: MarkDecisions,
  bends: Bends,
): Panel {
  return {
    id: piece.id,
    name: nameOf(piece, marks),
    pieces: [piece.id],
    quantity: marks.quantities[piece.id] ?? 1,
    mirrored: false,
    thickness: foam.thickness,
    loops: shape.loops.map((loop) => loop.map((edge) => ({ ...edge, ...sourceOf(edge.seam, bends) }))),
    folds: shape.folds.map((fold) => ({ ...fold, ...sourceOf(fold.id, bends) })),
    outlines: shape.outlines,
  };
}
