export { sharePlace, stretchOn } from './byHand';
export { compareText, type EdgePlace, type EdgeTable, tabulateEdges } from './edgeTable';
export type { Doubt, EvidenceSource, Findings, Proposal, Settled } from './evidence';
export { findSeams } from './findSeams';
export { areUnequal } from './lengths';
export { matchSeams } from './matchSeams';
export { seamIdOf } from './seamId';
export { type FoldedEdges, type FoldProbe, verifySeams } from './verifySeams';
