export type { FoldedBends } from './bends';
export { makePanels } from './makePanels';
export { type SeamCut, seamCut } from './seamCut';
export {
  type FaceTrouble,
  type PiecePlan,
  type PieceShape,
  type PlannedSeam,
  rememberShapes,
  type ShapePiece,
  shapePiece,
} from './shapePiece';
export { type BendFoam, bendAllowance, bendLengthChange, setback } from './softBend';
