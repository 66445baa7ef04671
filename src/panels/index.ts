export { facePoint } from './facePoint';
export { proposePanels } from './propose';
export { recutPattern } from './recut';
export { placesWith } from './reshell';
export { type Smoothed, smoothPanels } from './smooth';
