export { startTool, stepTool } from './machine';
export { type Preview, previewOf } from './preview';
export type {
  BenchEvent,
  BenchFacts,
  Girth,
  Hit,
  HitKind,
  PointerKind,
  ScreenPoint,
  ToolEffect,
  ToolState,
  WalkStep,
} from './types';
