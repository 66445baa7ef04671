export {
  type ShiftEdge,
  type ShiftedEdge,
  type ShiftOptions,
  type ShiftResult,
  shiftEdges,
} from './edgeShift';
export { type EdgeDeviation, shiftDeviations } from './edgeShiftCheck';
export {
  type FillRule,
  gridPitch,
  intersectRings,
  type OffsetJoin,
  offsetRings,
  subtractRings,
  uniteRings,
} from './polygonLibrary';
