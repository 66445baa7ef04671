export { facePoint } from './facePoint';
export { inwardsFrom, nearestOnOutline, outlineLength, outlinePoint } from './outlinePlace';
export { drawnOnce, type MirrorPair, mirrorPairs, pairIssues, withPairs } from './pairs';
export { proposePanels } from './propose';
export { recutPattern } from './recut';
export { placesWith } from './reshell';
export { type Smoothed, smoothPanels } from './smooth';
export { type TriedEdit, tryEdit } from './tryEdit';
