export { type ClosedShape, closedShape } from './closedShape';
export { joinDrawings } from './joinDrawings';
export { type DrawingLimits, defaultLimits } from './limits';
export { flattenLine, lineLength } from './lineLength';
export { type DrawingOptions, readDrawing } from './readDrawing';
