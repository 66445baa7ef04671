export { startTool, stepTool } from './machine';
export { clickSlack } from './press';
export { type Preview, previewOf } from './preview';
export type {
  BenchEvent,
  BenchFacts,
  Gesture,
  Girth,
  Hit,
  HitKind,
  PointerKind,
  ScreenPoint,
  TapePart,
  ToolEffect,
  ToolState,
  ToolTurn,
  WalkStep,
} from './types';
