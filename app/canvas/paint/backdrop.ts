/** The bench's ground and its grid, on whole device pixels. */
import type { Point } from '../../../src/math';
import { type Camera, toScreen } from '../view/camera';
import { gridLevels, type RulerUnit } from '../view/ticks';
import { type BenchTheme, cssColour } from './theme';

export interface Surface {
  readonly context: CanvasRenderingContext2D;
  /** CSS pixels. */
  readonly width: number;
  readonly height: number;
  readonly ratio: number;
}

/** Grid lines of the coarsest level shown are drawn strong, the others weak and fading with the zoom. */
export function drawBackdrop(
  surface: Surface,
  camera: Camera,
  unit: RulerUnit,
  zero: Point,
  theme: BenchTheme,
): void {
  const { context: c, width, height, ratio } = surface;
  c.setTransform(1, 0, 0, 1, 0, 0);
  c.fillStyle = cssColour(theme.colours['--bench']);
  c.fillRect(0, 0, c.canvas.width, c.canvas.height);
  const origin = toScreen(camera, zero);
  const levels = gridLevels(camera.scale, unit);
  levels.forEach((level, i) => {
    const strong = i > 0 && (i === levels.length - 1 || level.strength === 1);
    c.fillStyle = cssColour(theme.colours[strong ? '--bench-grid-strong' : '--bench-grid'], level.strength);
    const step = level.step * camera.scale;
    // A line of a coarser level is left to it.
    const skip = i + 1 < levels.length ? level.every : 0;
    eachLine(origin.x, step, width, skip, (x) => c.fillRect(Math.round(x * ratio), 0, 1, height * ratio));
    eachLine(origin.y, step, height, skip, (y) => c.fillRect(0, Math.round(y * ratio), width * ratio, 1));
  });
}

function eachLine(
  origin: number,
  step: number,
  length: number,
  skip: number,
  draw: (at: number) => void,
): void {
  for (let n = Math.ceil(-origin / step); origin + n * step <= length; n++) {
    if (skip > 0 && n % skip === 0) continue;
    draw(origin + n * step);
  }
}
