export type { FoldedBends } from './bends';
export { makePanels } from './makePanels';
export { type PulledIn, pulledByDarts } from './pulledIn';
export { type SeamCut, seamCut } from './seamCut';
export {
  type PiecePlan,
  type PieceShape,
  type PlannedSeam,
  rememberShapes,
  type ShapePiece,
  type SideMeasure,
  shapePiece,
} from './shapePiece';
export { type BendFoam, bendAllowance, bendLengthChange, setback } from './softBend';
export type { FoamSurface } from './surface';
export type { FaceTrouble } from './troubles';
