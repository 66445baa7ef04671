export { bendsAt } from './bendsAt';
export {
  browPlane,
  browSection,
  type ClosedSection,
  closedSection,
  extentOf,
  largestPart,
  type ProposedBrow,
  proposeBrow,
} from './brow';
export { type EdgeProbe, type EdgesInSpace, edgeProbe } from './edgeProbe';
export { ellipseGirth } from './ellipse';
export { ringCrossing } from './flatOverlap';
export { type Flattened, flattenPatches } from './flatten';
export { foldedAgain, type ReshapedFace } from './foldedAgain';
export { type FoldMemory, rememberFolds } from './foldMemory';
export { foldPattern } from './foldPattern';
export type { FoldedUp } from './foldResult';
export { type FoldInput, foldUp } from './foldUp';
export { type GluedFace, type GluedSurface, glueFaces } from './glue';
export { cutRoundHole } from './holeFaces';
export { type ShellSide, shellSides } from './lines';
export {
  angleDefects,
  type Opening,
  openingsOf,
  type Section,
  type SectionLoop,
  sectionOf,
  tautGirthOf,
  volumeOf,
} from './measures';
export {
  collapseDepths,
  collapseWarning,
  type EdgeCollapse,
  faceNormals,
  offsetPlaces,
  offsetVectors,
  type Surface,
} from './offset';
export {
  linesSeen,
  linesThrough,
  pictureOf,
  pictureView,
  type ViewAxes,
  type ViewDirection,
  viewAxes,
} from './picture';
export { sameCorner as shortestSeam } from './spans';
export { type SteppedShell, steppedPlaces, steppedShell } from './stepped';
export { buildTopology, type ShellEdge, type ShellFace, type ShellTopology } from './topology';
export { trianglesOf } from './triangles';
export { turnShell } from './turnShell';
export { exactMisfit, type Unfolded, unfoldAgain } from './unfold';
