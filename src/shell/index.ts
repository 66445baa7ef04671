export { foldPattern } from './foldPattern';
export { type FoldedUp, type FoldInput, foldUp } from './foldUp';
export { buildTopology, type ShellEdge, type ShellFace, type ShellTopology } from './topology';
