export { type TileCoverage, tileCoverage } from './coverage';
export { keepHalf } from './half';
export { layPages } from './layPages';
export type { MapContext } from './mapContext';
export { clearOf } from './pageFormat';
