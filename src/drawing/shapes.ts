/**
 * The basic shapes as outlines, each with the start point and direction that SVG 2 gives for its equivalent path
 * (sections 10.2 to 10.7), so that distances along a line mean the same here and in a browser. All in user units.
 */
import { centredArc } from './arcs';
import { OutlinePen, type Subpath } from './outline';

/** A rectangle; `rx`, `ry` undefined for `auto`. `width` and `height` above zero. */
export function rectangle(
  x: number,
  y: number,
  width: number,
  height: number,
  rx: number | undefined,
  ry: number | undefined,
  arcTolerance: number,
): readonly Subpath[] {
  const pen = new OutlinePen();
  const right = x + width;
  const bottom = y + height;
  const a = Math.min(rx ?? ry ?? 0, width / 2);
  const b = Math.min(ry ?? rx ?? 0, height / 2);
  if (!(a > 0) || !(b > 0)) {
    pen.moveTo(x, y);
    pen.lineTo(right, y);
    pen.lineTo(right, bottom);
    pen.lineTo(x, bottom);
    pen.close();
    return pen.subpaths;
  }
  const corner = (cx: number, cy: number, from: number, endX: number, endY: number): void =>
    centredArc(pen, cx, cy, a, b, 0, from, Math.PI / 2, { x: endX, y: endY }, arcTolerance);
  const side = (toX: number, toY: number): void => {
    if (pen.x !== toX || pen.y !== toY) pen.lineTo(toX, toY);
  };
  pen.moveTo(x + a, y);
  side(right - a, y);
  corner(right - a, y + b, -Math.PI / 2, right, y + b);
  side(right, bottom - b);
  corner(right - a, bottom - b, 0, right - a, bottom);
  side(x + a, bottom);
  corner(x + a, bottom - b, Math.PI / 2, x, bottom - b);
  side(x, y + b);
  corner(x + a, y + b, Math.PI, x + a, y);
  pen.close();
  return pen.subpaths;
}

/** A circle or ellipse, from its rightmost point, clockwise on a y-down screen. Radii above zero. */
export function ellipse(
  cx: number,
  cy: number,
  rx: number,
  ry: number,
  arcTolerance: number,
): readonly Subpath[] {
  const pen = new OutlinePen();
  const start = { x: cx + rx, y: cy };
  pen.moveTo(start.x, start.y);
  centredArc(pen, cx, cy, rx, ry, 0, 0, 2 * Math.PI, start, arcTolerance);
  pen.close();
  return pen.subpaths;
}

export function straightLine(x1: number, y1: number, x2: number, y2: number): readonly Subpath[] {
  const pen = new OutlinePen();
  pen.moveTo(x1, y1);
  pen.lineTo(x2, y2);
  return pen.subpaths;
}
