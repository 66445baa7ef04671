export {
  bendTestMarks,
  bendTestPanels,
  bendTestSteps,
  neutralRatioFrom,
  sidesFor,
  squeezeFrom,
  testStrip,
} from './bendTest';
export { type ExtraSurface, makeExtras } from './makeExtras';
export { openingChoices } from './openings';
export { type PaddingRegion, paddingRegions } from './padding';
