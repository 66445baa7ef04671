export { type AlikePanels, makeAlike } from './alike';
export { type Dart, dartsOf, loopsOfPiece, type PanelLoops, type TriedDart } from './darts';
export { facePlace, facePoint } from './facePoint';
export {
  completeHalf,
  drawnHalfId,
  halfDecisions,
  isMirrorId,
  mirrorId,
  mirrorPiece,
  withMirrorImage,
} from './half';
export { nearMirrorPairs } from './nearPairs';
export { inwardsFrom, nearestOnOutline, outlineLength, outlinePoint } from './outlinePlace';
export { drawnOnce, type MirrorPair, mirrorPairs, pairIssues, withPairs } from './pairs';
export { type JoinPlan, planJoin } from './planJoin';
export { proposePanels } from './propose';
export { recutPattern } from './recut';
export { placesWith } from './reshell';
export { type ProposedRim, proposeRim } from './rim';
export { type Upright, uprightWords } from './rimJoins';
export { type SheetRoom, sheetRoom } from './sheetRoom';
export { type Smoothed, smoothPanels } from './smooth';
export { type TriedEdit, tryEdit } from './tryEdit';
