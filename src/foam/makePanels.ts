/**
 * The pieces of a pattern as foam panels. What the folded shell holds is unfolded again from its neutral surface; every
 * other piece is made flat by itself, with the bends that are known. See README.
 */
import { GirthwiseError, type Issue } from '../base';
import type {
  BendSource,
  FoamDecisions,
  FoamResult,
  FoamSeamRow,
  MarkDecisions,
  Panel,
  Pattern,
  Piece,
  Seam,
  SeamPreparation,
  Seams,
} from '../model';
import type { Rad } from '../units';
import { type Bends, type FoldedBends, findBends } from './bends';
import { collapseIssues } from './collapse';
import { cutPiece } from './cutPiece';
import { panelFoam, seamPreparation } from './edgeRules';
import { seamsOfStroke } from './gluedRuns';
import { edgeIssues, panelIssues, seamIssues, surfaceIssues } from './issues';
import { meetCorners } from './meetCorners';
import { type NeutralPiece, neutralPiece } from './neutralPieces';
import { dartIssues, dartSides, openPiece } from './openDarts';
import { lapOf, type Mating, mateDepths, planPiece } from './planPiece';
import { type SeamCut, seamCut } from './seamCut';
import {
  measureKey,
  type PiecePlan,
  type PieceShape,
  type ShapePiece,
  type SideMeasure,
  scalePiece,
  shapePiece,
} from './shapePiece';
import { shapeFromShell } from './shellPiece';
import { type FoamNet, type FoamSurface, facesOfPiece, readNet } from './surface';
import { blendBelow, fallbackRounds } from './tolerance';

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
  const mates = matesOf(seams);
  const squared = new Set<string>();
  const net = surface ? readNet(surface, seams) : null;
  const neutral = surface && net ? neutralPieces(pattern, seams, scale, surface, net, foam) : [];
  const sides = dartSides(seams, scale);
  const makers = pattern.pieces.map((drawn, k) => {
    const own = neutral[k] ?? null;
    const opened = own ? { piece: drawn, found: own.darts } : openPiece(drawn, sides);
    return { ...opened, neutral: own, size: own ? 1 : scale };
  });
  const preparation = (seam: string): SeamPreparation =>
    squared.has(seam) ? 'square' : seamPreparation(seam, bends.ofSeam.get(seam) ?? null, foam);
  const planOf = (piece: Piece, from: NeutralPiece | null): PiecePlan =>
    planPiece(piece, from, { scale, foam, bends, mates, preparation });
  const cutAll = () =>
    makers.flatMap(({ piece, neutral: from }) =>
      net && from ? [cutPiece(from, net, planOf(piece, from))] : [],
    );
  /** The corners of the panels from the shell are chosen together. */
  const shapeAll = (): PieceShape[] => {
    const cuts = cutAll();
    const met = new Map(net ? meetCorners(cuts, net).map((cut) => [cut.neutral.id, cut]) : []);
    return makers.map(({ piece, neutral: from }) => {
      const cut = met.get(piece.id);
      return net && cut ? shapeFromShell(cut, net) : shape(piece, planOf(piece, from));
    });
  };
  let shapes = shapeAll();
  for (let round = 0; round < fallbackRounds; round++) {
    const colliding = new Set(shapes.flatMap((s) => s.troubles.flatMap((trouble) => trouble.squareHelps)));
    if (colliding.size === 0) break;
    // A cut that changes from bevelled to square in one stroke would gape where it does.
    const strokes = seamsOfStroke(cutAll(), blendBelow);
    for (const seam of colliding)
      for (const one of strokes.get(seam) ?? [seam]) if (preparation(one) === 'bevel') squared.add(one);
    shapes = shapeAll();
  }
  const onShell = new Set(makers.flatMap(({ piece, neutral: from }) => (from ? [piece.id] : [])));
  const rows = seamRows(seams, foam, bends, preparation, measuresOf(shapes), onShell);
  return {
    panels: pattern.pieces.map((piece, k) => panelOf(piece, shapes[k]!, foam, marks, bends)),
    rows,
    unsetBends: bends.unset,
    issues: [
      ...bends.issues,
      ...(surface ? surfaceIssues(pattern, makers, marks) : []),
      ...collapseIssues(net, makers, scale, foam, marks),
      ...edgeIssues(foam, bends),
      ...seamIssues(seams, rows, squared),
      ...makers.flatMap(({ piece, found, size }) => dartIssues(nameOf(piece, marks), piece, found, size)),
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
  for (const [panel, thickness] of Object.entries(foam.thicknessOf))
    if (!(thickness >= 0) || !Number.isFinite(thickness))
      throw new GirthwiseError('foam-figure', `Foam of panel ${panel} must be 0 or more, not ${thickness}.`);
}

/** Every piece that the surface holds, unfolded from the neutral depth; null for the others. */
function neutralPieces(
  pattern: Pattern,
  seams: Seams,
  scale: number,
  surface: FoamSurface,
  net: FoamNet,
  foam: FoamDecisions,
): (NeutralPiece | null)[] {
  return pattern.pieces.map((piece) => {
    const faces = facesOfPiece(net, piece);
    if (!faces) return null;
    const { neutral } = panelFoam(piece.id, foam);
    return neutralPiece({ net, drawn: surface.pattern, seams }, faces, scalePiece(piece, scale), neutral);
  });
}

/** Seams of every edge that has some, with the side that it is; several where it has short mates. */
function matesOf(seams: Seams): Map<string, readonly Mating[]> {
  const found = new Map<string, Mating[]>();
  for (const seam of seams.seams)
    for (const side of ['a', 'b'] as const) {
      const { edge } = seam[side];
      found.set(edge, [...(found.get(edge) ?? []), { seam, side }]);
    }
  return found;
}

const measuresOf = (shapes: readonly PieceShape[]): Readonly<Record<string, SideMeasure>> =>
  Object.assign({}, ...shapes.map((shape) => shape.measures));

const noMeasure: SideMeasure = { length: 0, neutral: 0, bent: 0 };

function seamRows(
  seams: Seams,
  foam: FoamDecisions,
  bends: Bends,
  preparation: (seam: string) => SeamPreparation,
  measures: Readonly<Record<string, SideMeasure>>,
  onShell: ReadonlySet<string>,
): FoamSeamRow[] {
  const runOf = new Map(seams.runs.flatMap((run) => run.seams.map((seam) => [seam, run.number] as const)));
  return seams.seams.map((seam) => {
    const bend = bends.ofSeam.get(seam.id) ?? null;
    const cut = preparation(seam.id);
    const [sideA, sideB] = (['a', 'b'] as const).map((side) => rowCut(seam, side, bend ?? 0, cut, foam));
    const tilt = sideA!.tilt;
    const a = measures[measureKey(seam.a.edge, seam.id)] ?? noMeasure;
    const b = measures[measureKey(seam.b.edge, seam.id)] ?? noMeasure;
    return {
      seam: seam.id,
      run: runOf.get(seam.id) ?? seam.number,
      preparation: cut,
      bend,
      ...sourceOf(seam.id, bends),
      bevel: foam.traced === 'outside' || tilt === 0 ? tilt : -tilt,
      way: onShell.has(seam.a.piece) && onShell.has(seam.b.piece) ? 'shell' : 'flat',
      lengthA: a.length,
      lengthB: b.length,
      neutralA: a.neutral,
      neutralB: b.neutral,
      stretchA: a.bent - a.length,
      stretchB: b.bent - b.length,
      mismatch: Math.abs(a.bent - b.bent),
      openWedge: (sideA!.openWedge + sideB!.openWedge) / 2,
      touches: cut === 'bevel' || !bend ? 'both' : bend > 0 ? 'inside' : 'outside',
      ...(cut === 'lapped' ? { over: foam.lapOver[seam.id] ?? 'a' } : {}),
    };
  });
}

function rowCut(
  seam: Seam,
  side: 'a' | 'b',
  bend: Rad,
  preparation: SeamPreparation,
  foam: FoamDecisions,
): SeamCut {
  const { depths, neutral } = panelFoam(seam[side].piece, foam);
  const lap = preparation === 'lapped' ? { lap: lapOf(seam, side, false, foam) } : {};
  const mate = mateDepths(seam, side, false, foam);
  return seamCut(bend, preparation, depths, { neutral, squeeze: foam.squeeze, mate, ...lap });
}

/** The field that tells where a bend is from; none where no bend is set. */
function sourceOf(id: string | null, bends: Bends): { bendFrom?: BendSource } {
  const from = id === null ? undefined : bends.from.get(id);
  return from ? { bendFrom: from } : {};
}

function materialOf(panel: string, foam: FoamDecisions): { material?: string } {
  const material = foam.materialOf[panel] ?? foam.material;
  return material === '' ? {} : { material };
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
    thickness: panelFoam(piece.id, foam).thickness,
    ...materialOf(piece.id, foam),
    loops: shape.loops.map((loop) => loop.map((edge) => ({ ...edge, ...sourceOf(edge.seam, bends) }))),
    folds: shape.folds.map((fold) => ({ ...fold, ...sourceOf(fold.id, bends) })),
    outlines: shape.outlines,
    ...(shape.body ? { body: shape.body } : {}),
  };
}
