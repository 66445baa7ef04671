export { type TileCoverage, tileCoverage } from './coverage';
export { layPages } from './layPages';
export type { MapContext } from './mapContext';
