/**
 * Panning by whole device pixels: what is drawn already is moved, and only what that uncovers is drawn. Filling and
 * stroking hundreds of lines and words afresh is what a frame spends its time on where no graphics processor helps.
 * Rectangles and shifts are device pixels of a canvas, whole numbers, y down.
 */
import type { Camera } from '../view/camera';

export interface Shift {
  readonly x: number;
  readonly y: number;
}

export interface PixelBox {
  readonly left: number;
  readonly top: number;
  readonly right: number;
  readonly bottom: number;
}

/** Off a whole pixel by less than this is rounding of the camera's sums. */
const whole = 1e-3;

/** How far the picture moves from one view to the next; null when it changes its size or lands between pixels. */
export function shiftBetween(before: Camera, after: Camera, ratio: number): Shift | null {
  if (before.scale !== after.scale) return null;
  const x = (after.x - before.x) * ratio;
  const y = (after.y - before.y) * ratio;
  const shift = { x: Math.round(x), y: Math.round(y) };
  return Math.abs(x - shift.x) < whole && Math.abs(y - shift.y) < whole ? shift : null;
}

/**
 * What has to be drawn after a shift: the strips that it uncovers, and where the things went that do not move with the
 * picture (`fixed`, at the places that they keep). Empty boxes are left out.
 */
export function uncovered(
  width: number,
  height: number,
  shift: Shift,
  fixed: readonly PixelBox[] = [],
): PixelBox[] {
  const boxes = [
    { left: 0, top: 0, right: shift.x, bottom: height },
    { left: width + shift.x, top: 0, right: width, bottom: height },
    { left: 0, top: 0, right: width, bottom: shift.y },
    { left: 0, top: height + shift.y, right: width, bottom: height },
    ...fixed.map((b) => ({
      left: Math.floor(b.left) + shift.x,
      top: Math.floor(b.top) + shift.y,
      right: Math.ceil(b.right) + shift.x,
      bottom: Math.ceil(b.bottom) + shift.y,
    })),
  ];
  return boxes
    .map((b) => ({
      left: Math.max(0, b.left),
      top: Math.max(0, b.top),
      right: Math.min(width, b.right),
      bottom: Math.min(height, b.bottom),
    }))
    .filter((b) => b.left < b.right && b.top < b.bottom);
}

/**
 * Moves a canvas's picture, empties the given boxes and lets `draw` paint, which reaches into these boxes only.
 * Leaves the context's state as it was.
 */
export function redrawShifted(
  context: CanvasRenderingContext2D,
  shift: Shift,
  boxes: readonly PixelBox[],
  draw: () => void,
): void {
  const { canvas } = context;
  context.save();
  context.setTransform(1, 0, 0, 1, 0, 0);
  context.globalAlpha = 1;
  // Copying replaces the whole canvas, so that what is see-through stays so.
  context.globalCompositeOperation = 'copy';
  context.drawImage(canvas, shift.x, shift.y);
  context.globalCompositeOperation = 'source-over';
  context.beginPath();
  for (const b of boxes) {
    context.clearRect(b.left, b.top, b.right - b.left, b.bottom - b.top);
    context.rect(b.left, b.top, b.right - b.left, b.bottom - b.top);
  }
  context.clip();
  draw();
  context.restore();
}

/** True when a box round (x, y), CSS pixels, reaches into any of the boxes. */
export function reaches(
  boxes: readonly PixelBox[],
  ratio: number,
  x: number,
  y: number,
  halfWidth: number,
  halfHeight: number,
): boolean {
  return boxes.some(
    (b) =>
      (x - halfWidth) * ratio < b.right &&
      (x + halfWidth) * ratio > b.left &&
      (y - halfHeight) * ratio < b.bottom &&
      (y + halfHeight) * ratio > b.top,
  );
}
