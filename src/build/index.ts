export { type BuildInput, byHand, planBuild } from './planBuild';
export { type StepDrawer, type StepPicture, stepDrawer } from './stepPicture';
export { pictureLine, pictureName, reachLine, runLine, stepCautions, stepTitle } from './words';
