/** Everything that the shape of one piece depends on, gathered from decisions, bends and mates. */
import type { FoamDecisions, FoamDepths, PanelFold, Piece, Seam, SeamPreparation } from '../model';
import type { Mm } from '../units';
import type { Bends } from './bends';
import { foldPreparation, grooveOf, panelFoam, scoredLength } from './edgeRules';
import type { NeutralPiece } from './neutralPieces';
import type { LapPart } from './seamCut';
import type { PiecePlan, PlannedSeam } from './shapePiece';
import { bendLengthChange } from './softBend';

/** A side of a seam that an edge is. */
export interface Mating {
  readonly seam: Seam;
  readonly side: 'a' | 'b';
}

export const edgesOf = (piece: Piece) => [piece.outline, ...piece.holes].flat();

interface PlanInput {
  readonly scale: number;
  readonly foam: FoamDecisions;
  readonly bends: Bends;
  readonly mates: ReadonlyMap<string, readonly Mating[]>;
  readonly preparation: (seam: string) => SeamPreparation;
}

/** @param from the piece unfolded from the shell's neutral surface; null: the direct way, from the paper's surface */
export function planPiece(piece: Piece, from: NeutralPiece | null, input: PlanInput): PiecePlan {
  const { scale, foam, bends } = input;
  const own = panelFoam(piece.id, foam);
  const depths: FoamDepths = from
    ? { outside: own.depths.outside - own.neutral, inside: own.depths.inside + own.neutral }
    : own.depths;
  const source = { thickness: own.thickness, neutralRatio: foam.neutralRatio, bendRadius: foam.bendRadius };
  const folds: Record<string, number | null> = {};
  const grooves: Record<string, NonNullable<PanelFold['groove']>> = {};
  const foldLengths: Record<string, Mm> = {};
  for (const fold of piece.folds) {
    const bend = bends.ofFold.get(fold.id) ?? null;
    folds[fold.id] = bend;
    if (bend === null || bend === 0) continue;
    if (foldPreparation(fold.id, bend, foam) === 'scored') {
      grooves[fold.id] = grooveOf(bend, own.thickness, foam);
      foldLengths[fold.id] = scoredLength(bend, own.thickness, foam, depths);
    } else if (!from) foldLengths[fold.id] = bendLengthChange(bend, source, depths);
  }
  return {
    ...source,
    scale,
    depths,
    neutral: from ? 0 : own.neutral,
    squeeze: foam.squeeze,
    kerf: foam.kerf,
    traced: foam.traced,
    mitreLimit: foam.mitreLimit,
    seams: planSeams(piece, from, input),
    folds,
    grooves,
    foldLengths,
  };
}

/** By edge id; for a panel from the shell by seam id as well, since its stretches know their seams. */
function planSeams(
  piece: Piece,
  from: NeutralPiece | null,
  { foam, bends, mates, preparation }: PlanInput,
): Record<string, PlannedSeam> {
  const planned: Record<string, PlannedSeam> = {};
  const glued = new Set(from?.loops.flat().flatMap(({ side }) => (side.kind === 'seam' ? [side.id] : [])));
  for (const edge of edgesOf(piece)) {
    for (const { seam, side } of mates.get(edge.id) ?? []) {
      const cut = preparation(seam.id);
      const plan: PlannedSeam = {
        seam: seam.id,
        bend: bends.ofSeam.get(seam.id) ?? null,
        typed: bends.from.get(seam.id) === 'typed',
        preparation: cut,
        mate: mateDepths(seam, side, from !== null, foam),
        ...(cut === 'lapped' ? { lap: lapOf(seam, side, from !== null, foam) } : {}),
      };
      // Both edges of a dart are on one panel: then the seam alone does not tell which part an edge is.
      planned[glued.has(seam.id) ? seam.id : edge.id] = plan;
      if (cut === 'lapped') planned[`${seam.id} ${edge.id}`] = plan;
    }
  }
  return planned;
}

/** Which part of its lapped seam a side is, and where the mate's skins lie. */
export function lapOf(seam: Seam, side: 'a' | 'b', fromNeutral: boolean, foam: FoamDecisions): LapPart {
  return {
    part: (foam.lapOver[seam.id] ?? 'a') === side ? 'over' : 'under',
    mate: mateDepths(seam, side, fromNeutral, foam),
  };
}

/** Where the mate's skins lie about the surface that this side is made from. */
export function mateDepths(
  seam: Seam,
  side: 'a' | 'b',
  fromNeutral: boolean,
  foam: FoamDecisions,
): FoamDepths {
  const mate = panelFoam(seam[side === 'a' ? 'b' : 'a'].piece, foam).depths;
  const zero = fromNeutral ? panelFoam(seam[side].piece, foam).neutral : 0;
  return { outside: mate.outside - zero, inside: mate.inside + zero };
}
