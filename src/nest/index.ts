export { type NestFault, nestOverlap, posed, sheetOutline } from './check';
export type { Clock, Effort } from './clock';
export type { Region } from './forms';
export { isBevelled, type NestRules, nestPanelsOf, twinId } from './fromPanels';
export { nestPanels } from './nestPanels';
export { nestStrip, type StripLayout } from './nestStrip';
export { offcutRing } from './offcutRing';
export {
  laidOf,
  placedOf,
  poseOf,
  type SheetJob,
  type SheetSurroundings,
  sheetJobOf,
  usualSheetId,
} from './sheetJob';
export { planOf, planSheets } from './sheetPlan';
export { nestTouch } from './tolerance';
export type {
  AllowedTurns,
  LockedPose,
  NestLayout,
  NestPanel,
  NestSettings,
  NestSheet,
  PlacedPanel,
  Pose,
  UsedSheet,
} from './types';
