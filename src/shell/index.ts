export { type EdgeProbe, type EdgesInSpace, edgeProbe } from './edgeProbe';
export { foldPattern } from './foldPattern';
export { type FoldedUp, type FoldInput, foldUp } from './foldUp';
export { type ShellSide, shellSides } from './lines';
export {
  angleDefects,
  type Opening,
  openingsOf,
  type Section,
  type SectionLoop,
  sectionOf,
  volumeOf,
} from './measures';
export { pictureOf, pictureView, type ViewAxes, type ViewDirection, viewAxes } from './picture';
export { buildTopology, type ShellEdge, type ShellFace, type ShellTopology } from './topology';
export { turnShell } from './turnShell';
