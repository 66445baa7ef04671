export { type BandWays, type BrowWay, bandWays, type CrownWay } from './bandWay';
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
  headRatios,
} from './headFigures';
export { type HeadMeasures, headMeasures } from './headMeasures';
export { bandHeight, bandTab, tryOnBand } from './tryOnBand';
