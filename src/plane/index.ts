export { closedCurve, curveSpan, curveThrough } from './curve';
export {
  type ShiftEdge,
  type ShiftedEdge,
  type ShiftOptions,
  type ShiftResult,
  shiftEdges,
} from './edgeShift';
export { type EdgeDeviation, shiftDeviations } from './edgeShiftCheck';
export { cubicAt, cubicStretches, flattenCubic } from './flattenCubic';
export {
  type FillRule,
  gridPitch,
  intersectRings,
  type OffsetJoin,
  offsetRings,
  subtractRings,
  uniteRings,
} from './polygonLibrary';
export {
  bridges,
  type Loop,
  loopPoints,
  type Part,
  type Subdivision,
  type SubdivisionFace,
  subdivide,
  subdivisionAreaError,
  subdivisionCrossings,
  subdivisionEuler,
} from './subdivision';
export { faceFinder } from './subdivisionFind';
export { coincidence, comparePoints, footOn, type Link } from './subdivisionJoining';
export {
  type JoinReport,
  joinStrokes,
  keepLinks,
  markPlane,
  type Stroke,
  type StrokeGraph,
  splitAtCrossings,
  withoutStrokes,
} from './subdivisionStrokes';
