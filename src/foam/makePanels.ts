/**
 * The pieces of a pattern as foam panels. What the folded shell holds is unfolded again from its neutral surface; every
 * other piece is made flat by itself, with the bends that are known. See README.
 */
import { GirthwiseError, type Issue } from '../base';
import {
  type BendSource,
  type FoamDecisions,
  type FoamDepths,
  type FoamResult,
  type FoamSeamRow,
  foamDepths,
  type MarkDecisions,
  type Panel,
  type Pattern,
  type Piece,
  type Seams,
} from '../model';
import { agreeCorners } from './agreeCorners';
import { type Bends, type FoldedBends, findBends } from './bends';
import { cutPiece } from './cutPiece';
import { panelIssues, seamIssues, surfaceIssues } from './issues';
import { type NeutralPiece, neutralPiece } from './neutralPieces';
import { seamCut } from './seamCut';
import {
  measureKey,
  type PiecePlan,
  type PieceShape,
  type PlannedSeam,
  type ShapePiece,
  type SideMeasure,
  scalePiece,
  shapePiece,
} from './shapePiece';
import { shapeFromShell } from './shellPiece';
import { bendLengthChange } from './softBend';
import { type FoamNet, type FoamSurface, facesOfPiece, readNet } from './surface';
import { fallbackRounds } from './tolerance';

/**
 * Makes a panel of every piece. Panel ids are the piece ids, edges keep theirs. Bevelled edges that run into each other
 * in a narrow notch are cut square instead, with their mates, and an issue says so.
 * @param pattern the pieces as they are cut; for those of the surface only where they lie
 * @param scale factor on all lengths of `pattern`; foam thickness, kerf and bend radius are not scaled.
 * @param shape how to shape one piece without a shell: {@link shapePiece}, or `rememberShapes()` to reuse shapes of
 * unchanged pieces.
 * @param folded bends of the folded shell; typed ones come before them, those for whole kinds after.
 * @param surface the folded shell at its final size, when it is sound or trusted; pieces that it does not hold as a
 * whole are made without it.
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
  surface: FoamSurface | null = null,
): FoamResult {
  checkFigures(scale, foam);
  const bends = findBends(pattern, seams, foam, folded);
  const depths = foamDepths(foam);
  const mates = matesOf(seams);
  const squared = new Set<string>();
  const net = surface ? readNet(surface, seams) : null;
  const neutral = surface && net ? neutralPieces(pattern, seams, scale, surface, net, depths, foam) : [];
  const makers = pattern.pieces.map((piece, k) => {
    const from = neutral[k] ?? null;
    return { piece, neutral: from };
  });
  const planOf = (piece: Piece, from: NeutralPiece | null): PiecePlan => {
    const own = from ? neutralDepths(foam) : depths;
    return {
      scale,
      depths: own,
      thickness: foam.thickness,
      neutralRatio: foam.neutralRatio,
      bendRadius: foam.bendRadius,
      kerf: foam.kerf,
      traced: foam.traced,
      mitreLimit: foam.mitreLimit,
      seams: planSeams(piece, mates, from, bends, (seam) => preparationOf(seam, foam, squared)),
      folds: Object.fromEntries(piece.folds.map((fold) => [fold.id, bends.ofFold.get(fold.id) ?? null])),
      foldLengths: from ? {} : softLengths(piece, bends, foam, own),
    };
  };
  /** The corners of the panels from the shell agree with each other, so these are made together. */
  const shapeAll = (): PieceShape[] => {
    const cuts = makers.flatMap(({ piece, neutral: from }) =>
      net && from ? [cutPiece(from, net, planOf(piece, from))] : [],
    );
    const agreed = new Map(net ? agreeCorners(cuts, net).map((cut) => [cut.neutral.id, cut]) : []);
    return makers.map(({ piece, neutral: from }) => {
      const cut = agreed.get(piece.id);
      return net && cut ? shapeFromShell(cut, net) : shape(piece, planOf(piece, from));
    });
  };
  let shapes = shapeAll();
  for (let round = 0; round < fallbackRounds; round++) {
    const colliding = new Set(shapes.flatMap((s) => s.troubles.flatMap((trouble) => trouble.squareHelps)));
    if (colliding.size === 0) break;
    for (const seam of colliding) squared.add(seam);
    shapes = shapeAll();
  }
  const onShell = new Set(makers.flatMap(({ piece, neutral: from }) => (from ? [piece.id] : [])));
  const rows = seamRows(seams, foam, bends, squared, measuresOf(shapes), onShell);
  return {
    panels: pattern.pieces.map((piece, k) => panelOf(piece, shapes[k]!, foam, marks, bends)),
    rows,
    unsetBends: bends.unset,
    issues: [
      ...bends.issues,
      ...(surface ? surfaceIssues(pattern, makers, marks) : []),
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

const edgesOf = (piece: Piece) => [piece.outline, ...piece.holes].flat();

/** The skins above and below the neutral surface. */
const neutralDepths = ({ thickness, neutralRatio }: FoamDecisions): FoamDepths => ({
  outside: (1 - neutralRatio) * thickness,
  inside: neutralRatio * thickness,
});

/** Every piece that the surface holds, unfolded from the neutral depth; null for the others. */
function neutralPieces(
  pattern: Pattern,
  seams: Seams,
  scale: number,
  surface: FoamSurface,
  net: FoamNet,
  depths: FoamDepths,
  foam: FoamDecisions,
): (NeutralPiece | null)[] {
  const depth = depths.outside - neutralDepths(foam).outside;
  return pattern.pieces.map((piece) => {
    const faces = facesOfPiece(net, piece);
    if (!faces) return null;
    return neutralPiece({ net, drawn: surface.pattern, seams }, faces, scalePiece(piece, scale), depth);
  });
}

/** What soft bends change on a flat drawing. */
const softLengths = (piece: Piece, bends: Bends, foam: FoamDecisions, depths: FoamDepths) =>
  Object.fromEntries(
    piece.folds.map((fold) => {
      const bend = bends.ofFold.get(fold.id) ?? null;
      return [fold.id, bend === null || bend === 0 ? 0 : bendLengthChange(bend, foam, depths)];
    }),
  );

/** Seams of every edge that has some; several where it has short mates. */
function matesOf(seams: Seams): Map<string, readonly string[]> {
  const found = new Map<string, string[]>();
  for (const seam of seams.seams)
    for (const { edge } of [seam.a, seam.b]) found.set(edge, [...(found.get(edge) ?? []), seam.id]);
  return found;
}

const preparationOf = (seam: string, foam: FoamDecisions, squared: ReadonlySet<string>) =>
  squared.has(seam) ? 'square' : (foam.preparationOf[seam] ?? foam.preparation);

/** By edge id; for a panel from the shell by seam id as well, since its stretches know their seams. */
function planSeams(
  piece: Piece,
  mates: ReadonlyMap<string, readonly string[]>,
  from: NeutralPiece | null,
  bends: Bends,
  preparation: (seam: string) => PlannedSeam['preparation'],
): Record<string, PlannedSeam> {
  const planned: Record<string, PlannedSeam> = {};
  const glued = new Set(from?.loops.flat().flatMap(({ side }) => (side.kind === 'seam' ? [side.id] : [])));
  for (const edge of edgesOf(piece)) {
    for (const seam of mates.get(edge.id) ?? []) {
      const plan = {
        seam,
        bend: bends.ofSeam.get(seam) ?? null,
        typed: bends.from.get(seam) === 'typed',
        preparation: preparation(seam),
      };
      if (glued.has(seam)) planned[seam] = plan;
      else planned[edge.id] = plan;
    }
  }
  return planned;
}

const measuresOf = (shapes: readonly PieceShape[]): Readonly<Record<string, SideMeasure>> =>
  Object.assign({}, ...shapes.map((shape) => shape.measures));

const noMeasure: SideMeasure = { length: 0, neutral: 0, bent: 0 };

function seamRows(
  seams: Seams,
  foam: FoamDecisions,
  bends: Bends,
  squared: ReadonlySet<string>,
  measures: Readonly<Record<string, SideMeasure>>,
  onShell: ReadonlySet<string>,
): FoamSeamRow[] {
  const runOf = new Map(seams.runs.flatMap((run) => run.seams.map((seam) => [seam, run.number] as const)));
  return seams.seams.map((seam) => {
    const bend = bends.ofSeam.get(seam.id) ?? null;
    const preparation = preparationOf(seam.id, foam, squared);
    const cut = seamCut(bend ?? 0, preparation, foamDepths(foam));
    const a = measures[measureKey(seam.a.edge, seam.id)] ?? noMeasure;
    const b = measures[measureKey(seam.b.edge, seam.id)] ?? noMeasure;
    return {
      seam: seam.id,
      run: runOf.get(seam.id) ?? seam.number,
      preparation,
      bend,
      ...sourceOf(seam.id, bends),
      bevel: foam.traced === 'outside' || cut.tilt === 0 ? cut.tilt : -cut.tilt,
      way: onShell.has(seam.a.piece) && onShell.has(seam.b.piece) ? 'shell' : 'flat',
      lengthA: a.length,
      lengthB: b.length,
      neutralA: a.neutral,
      neutralB: b.neutral,
      stretchA: a.bent - a.length,
      stretchB: b.bent - b.length,
      mismatch: Math.abs(a.bent - b.bent),
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
    ...(shape.body ? { body: shape.body } : {}),
  };
}
