export { headContext, percentileIn } from './context';
export { fitPattern } from './fitPattern';
export { edgeChainLength, tapeLength } from './girth';
export {
  adultGirths,
  adultSource,
  type ChildGirths,
  childGirths,
  childSource,
  type GirthTable,
} from './headFigures';
