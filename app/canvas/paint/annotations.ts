/**
 * Over the drawing: words, marks of fixed size, rulers and the scale bar. Drawn plainly: nothing here scales with the
 * view, everything follows it.
 */
import type { Point } from '../../../src/math';
import type { Spot } from '../scene/scene';
import { type Camera, toScreen } from '../view/camera';
import { type RulerUnit, rulerTicks, scaleBarLength } from '../view/ticks';
import type { Surface } from './backdrop';
import type { PlannedLabel } from './labelPlan';
import { type PixelBox, reaches, redrawShifted, type Shift, uncovered } from './shifted';
import { type BenchTheme, cssColour, labelVariable } from './theme';

/** Thickness of the rulers, CSS pixels. */
export const rulerSize = 22;

/** Pixels per mm from which question marks are drawn. */
const questionsFrom = 1;

const tickLength = { large: 9, middle: 6, small: 4 } as const;

export interface AnnotationInputs {
  readonly camera: Camera;
  readonly theme: BenchTheme;
  readonly unit: RulerUnit;
  readonly zero: Point;
  readonly labels: readonly PlannedLabel[];
  readonly spots: readonly Spot[];
  /** Where an asked-for place is, and how far its ring has closed in, 0..1; null: none. */
  readonly ring: { readonly at: Point; readonly radius: number; readonly strength: number } | null;
  /** Writes a length with its unit. */
  readonly length: (mm: number) => string;
  /** CSS pixels at the lower edge that something else covers: the scale bar stands above them. */
  readonly coveredBelow: number;
}

/** `shift`: the picture on the surface is that of the same inputs before the bench moved by so much. */
export function drawAnnotations(surface: Surface, inputs: AnnotationInputs, shift: Shift | null): void {
  const { context: c, width, height, ratio } = surface;
  c.setTransform(ratio, 0, 0, ratio, 0, 0);
  if (shift) {
    const fixed = fixedBoxes(surface, inputs);
    const boxes = uncovered(c.canvas.width, c.canvas.height, shift, fixed);
    redrawShifted(c, shift, boxes, () => {
      c.setTransform(ratio, 0, 0, ratio, 0, 0);
      drawWords(surface, inputs, (x, y, w, h) => reaches(boxes, ratio, x, y, w, h));
    });
  } else {
    c.clearRect(0, 0, width, height);
    drawWords(surface, inputs, (x, y, w, h) => x > -w && y > -h && x < width + w && y < height + h);
    if (inputs.ring) drawRing(surface, inputs.ring, inputs);
  }
  drawRulers(surface, inputs);
  drawScaleBar(surface, inputs);
}

/** Tells whether something of so much half width and half height about a place is to be drawn. */
type Needed = (x: number, y: number, halfWidth: number, halfHeight: number) => boolean;

/** Half the size of a spot and its line, with room to spare. */
const spotReach = 12;
/** How far the seam of ground round letters, or a line round their box, reaches beyond them. */
const letterRim = 4;

function drawWords(surface: Surface, inputs: AnnotationInputs, needed: Needed): void {
  for (const spot of inputs.spots) {
    const { x, y } = toScreen(inputs.camera, spot.at);
    if (needed(x, y, spotReach, spotReach)) drawSpot(surface, spot, inputs);
  }
  drawLabels(surface, inputs, needed);
}

/** Rulers and scale bar, device pixels: they stay where they are when the bench is moved. */
function fixedBoxes({ width, height, ratio, context }: Surface, inputs: AnnotationInputs): PixelBox[] {
  const rim = rulerSize + 1;
  const bar = scaleBarBox(context, height, inputs);
  const boxes = [
    { left: 0, top: 0, right: width, bottom: rim },
    { left: 0, top: 0, right: rim, bottom: height },
    {
      left: bar.left - 1,
      top: bar.top - 1,
      right: bar.left + bar.width + 1,
      bottom: bar.top + bar.height + 1,
    },
  ];
  return boxes.map((b) => ({
    left: b.left * ratio,
    top: b.top * ratio,
    right: b.right * ratio,
    bottom: b.bottom * ratio,
  }));
}

const fontOf = (theme: BenchTheme, size: number, weight = 400) => `${weight} ${size}px ${theme.font}`;

/** Measures words as {@link drawAnnotations} writes them; keeps what it has measured. */
export function wordMeasure(context: CanvasRenderingContext2D, theme: BenchTheme) {
  const known = new Map<string, number>();
  return (text: string, type: number): number => {
    const key = `${type} ${text}`;
    let width = known.get(key);
    if (width === undefined) {
      context.font = fontOf(theme, type, 700);
      width = context.measureText(text).width;
      known.set(key, width);
    }
    return width;
  };
}

function drawLabels(
  { context: c }: Surface,
  { camera, theme, labels }: AnnotationInputs,
  needed: Needed,
): void {
  c.textAlign = 'center';
  c.textBaseline = 'middle';
  c.lineJoin = 'round';
  for (const { label, x, y, width: w, height: h, type } of labels) {
    const px = camera.x + x;
    const py = camera.y + y;
    if (!needed(px, py, w / 2 + letterRim, h / 2 + letterRim)) continue;
    const colour = cssColour(theme.colours[labelVariable[label.tone]]);
    c.font = fontOf(theme, type, label.size === 'small' && !label.boxed ? 400 : 700);
    if (label.boxed) {
      c.fillStyle = cssColour(theme.colours[label.tone === 'look' ? '--look-soft' : '--card']);
      c.strokeStyle = colour;
      c.lineWidth = 1;
      c.beginPath();
      c.roundRect(px - w / 2, py - h / 2, w, h, 4);
      c.fill();
      c.stroke();
    } else {
      // A seam of ground round the letters keeps them legible over lines.
      c.strokeStyle = cssColour(theme.colours['--bench'], 0.85);
      c.lineWidth = 3;
      c.strokeText(label.text, px, py + type * 0.04);
    }
    c.fillStyle = colour;
    c.fillText(label.text, px, py + type * 0.04);
  }
}

function drawSpot(surface: Surface, spot: Spot, { camera, theme }: AnnotationInputs): void {
  const { context: c } = surface;
  const { x, y } = toScreen(camera, spot.at);
  c.strokeStyle = cssColour(theme.colours['--look-mark']);
  c.fillStyle = cssColour(theme.colours['--look-soft']);
  c.lineWidth = 2.5;
  c.lineCap = 'round';
  if (spot.kind === 'cross') {
    const r = 6;
    c.beginPath();
    c.moveTo(x - r, y - r);
    c.lineTo(x + r, y + r);
    c.moveTo(x + r, y - r);
    c.lineTo(x - r, y + r);
    c.stroke();
    return;
  }
  // Question marks of short edges would cover them: they show from this zoom.
  if (camera.scale < questionsFrom) return;
  c.lineWidth = 1.5;
  c.beginPath();
  c.arc(x, y, 8, 0, 2 * Math.PI);
  c.fill();
  c.stroke();
  c.font = fontOf(theme, 12, 700);
  c.textAlign = 'center';
  c.textBaseline = 'middle';
  c.fillStyle = cssColour(theme.colours['--look']);
  c.fillText('?', x, y + 0.5);
}

function drawRing(
  surface: Surface,
  ring: NonNullable<AnnotationInputs['ring']>,
  { camera, theme }: AnnotationInputs,
): void {
  const { context: c } = surface;
  const { x, y } = toScreen(camera, ring.at);
  c.lineWidth = 3;
  c.setLineDash([]);
  c.strokeStyle = cssColour(theme.colours['--look-mark'], ring.strength);
  c.beginPath();
  c.arc(x, y, ring.radius, 0, 2 * Math.PI);
  c.stroke();
}

function drawRulers(surface: Surface, { camera, theme, unit, zero }: AnnotationInputs): void {
  const { context: c, width, height } = surface;
  const origin = toScreen(camera, zero);
  const { scale } = camera;
  c.fillStyle = cssColour(theme.colours['--card']);
  c.fillRect(0, 0, width, rulerSize);
  c.fillRect(0, 0, rulerSize, height);
  c.fillStyle = cssColour(theme.colours['--hairline']);
  c.fillRect(0, rulerSize, width, 1);
  c.fillRect(rulerSize, 0, 1, height);

  c.save();
  c.fillStyle = cssColour(theme.colours['--ink-soft']);
  c.font = fontOf(theme, 11);
  c.textBaseline = 'alphabetic';
  c.textAlign = 'left';
  c.beginPath();
  c.rect(rulerSize + 1, 0, width, rulerSize);
  c.clip();
  for (const tick of rulerTicks(
    (rulerSize - 60 - origin.x) / scale,
    (width - origin.x) / scale,
    scale,
    unit,
  )) {
    const x = Math.round(origin.x + tick.at * scale);
    c.fillRect(x, rulerSize - tickLength[tick.size], 1, tickLength[tick.size]);
    if (tick.text) c.fillText(tick.text, x + 3, 10);
  }
  c.restore();

  c.save();
  c.fillStyle = cssColour(theme.colours['--ink-soft']);
  c.font = fontOf(theme, 11);
  c.textBaseline = 'alphabetic';
  c.textAlign = 'right';
  c.beginPath();
  c.rect(0, rulerSize + 1, rulerSize, height);
  c.clip();
  for (const tick of rulerTicks(
    (rulerSize - origin.y) / scale,
    (height + 60 - origin.y) / scale,
    scale,
    unit,
  )) {
    const y = Math.round(origin.y + tick.at * scale);
    c.fillRect(rulerSize - tickLength[tick.size], y, tickLength[tick.size], 1);
    if (!tick.text) continue;
    c.save();
    c.translate(10, y + 3);
    c.rotate(-Math.PI / 2);
    c.fillText(tick.text, 0, 0);
    c.restore();
  }
  c.restore();

  c.fillStyle = cssColour(theme.colours['--card']);
  c.fillRect(0, 0, rulerSize, rulerSize);
  c.fillStyle = cssColour(theme.colours['--ink-soft']);
  c.font = fontOf(theme, 10);
  c.textAlign = 'center';
  c.textBaseline = 'middle';
  c.fillText(unit, rulerSize / 2, rulerSize / 2);
}

/** The scale bar's ground, CSS pixels, and what stands on it. */
function scaleBarBox(c: CanvasRenderingContext2D, height: number, inputs: AnnotationInputs) {
  const mm = scaleBarLength(inputs.camera.scale, inputs.unit);
  const bar = mm * inputs.camera.scale;
  const text = inputs.length(mm);
  c.font = fontOf(inputs.theme, 12);
  const x = rulerSize + 14;
  const y = height - inputs.coveredBelow - 16;
  return {
    left: x - 8,
    top: y - 12,
    width: bar + c.measureText(text).width + 24,
    height: 24,
    bar,
    text,
    x,
    y,
  };
}

/** A bar of a round length, true at the zoom shown. */
function drawScaleBar({ context: c, height }: Surface, inputs: AnnotationInputs): void {
  const { theme } = inputs;
  const { left, top, width, height: high, bar, text, x, y } = scaleBarBox(c, height, inputs);
  c.textAlign = 'left';
  c.textBaseline = 'middle';
  c.fillStyle = cssColour(theme.colours['--bench'], 0.85);
  c.beginPath();
  c.roundRect(left, top, width, high, 4);
  c.fill();
  c.fillStyle = cssColour(theme.colours['--ink']);
  c.fillRect(x, y - 0.75, bar, 1.5);
  c.fillRect(x - 0.75, y - 5, 1.5, 10);
  c.fillRect(x + bar - 0.75, y - 5, 1.5, 10);
  c.fillText(text, x + bar + 8, y);
}
