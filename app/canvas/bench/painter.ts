/**
 * The three canvases of the bench, one over the other: ground and grid, the drawing, words and rulers. Each is drawn
 * only when something on it has changed. (One canvas for all was tried and took longer to pan, without a graphics
 * processor, than three.)
 */
import type { Point } from '../../../src/math';
import type { Overlay } from '../overlay/overlay';
import { drawAnnotations, wordMeasure } from '../paint/annotations';
import { drawBackdrop, type Surface } from '../paint/backdrop';
import { type PlannedLabel, planLabels } from '../paint/labelPlan';
import { PaperStage } from '../paint/paperStage';
import { type Shift, shiftBetween } from '../paint/shifted';
import type { BenchTheme } from '../paint/theme';
import type { Label, Scene } from '../scene/scene';
import type { Camera } from '../view/camera';
import type { RulerUnit } from '../view/ticks';

export interface Canvases {
  readonly ground: HTMLCanvasElement;
  readonly drawing: HTMLCanvasElement;
  readonly words: HTMLCanvasElement;
}

export interface Shown {
  readonly camera: Camera;
  readonly scene: Scene;
  readonly overlay: Overlay;
  readonly unit: RulerUnit;
  readonly ring: { readonly at: Point; readonly radius: number; readonly strength: number } | null;
  readonly length: (mm: number) => string;
  /** CSS pixels at the lower edge that something else covers. */
  readonly coveredBelow: number;
}

export class Painter {
  private readonly stage: PaperStage;
  private readonly ground: CanvasRenderingContext2D;
  private readonly words: CanvasRenderingContext2D;
  private size = { width: 1, height: 1, ratio: 1 };
  private theme: BenchTheme | null = null;
  private measure: ((text: string, type: number) => number) | null = null;
  private shown: Shown | null = null;
  private planned: readonly PlannedLabel[] = [];
  private plannedFor: { readonly scene: Scene; readonly scale: number } | null = null;

  constructor(private readonly canvases: Canvases) {
    // Opaque: the browser need not blend it with the page.
    this.ground = contextOf(canvases.ground, { alpha: false });
    this.stage = new PaperStage(canvases.drawing);
    this.words = contextOf(canvases.words);
  }

  resize(width: number, height: number, ratio: number): void {
    this.size = { width, height, ratio };
    for (const canvas of [this.canvases.ground, this.canvases.words]) {
      canvas.width = Math.max(1, Math.round(width * ratio));
      canvas.height = Math.max(1, Math.round(height * ratio));
    }
    this.stage.resize(width, height, ratio);
    this.shown = null;
  }

  setTheme(theme: BenchTheme): void {
    this.theme = theme;
    this.stage.setTheme(theme);
    this.forgetWords();
  }

  /** The typeface has arrived, or changed: words have other widths. */
  forgetWords(): void {
    if (this.theme) this.measure = wordMeasure(this.words, this.theme);
    this.plannedFor = null;
    this.shown = null;
  }

  draw(next: Shown): void {
    const { theme, measure, shown } = this;
    if (!theme || !measure) return;
    const viewMoved = shown?.camera !== next.camera || shown.unit !== next.unit || shown.scene !== next.scene;
    if (viewMoved) {
      const surface: Surface = { context: this.ground, ...this.size };
      drawBackdrop(surface, next.camera, next.unit, next.scene.zero, theme);
    }
    if (shown?.scene !== next.scene) this.stage.setScene(next.scene);
    if (shown?.overlay !== next.overlay) this.stage.setOverlay(next.overlay);
    this.stage.setCamera(next.camera);
    const shift = shown && this.shiftFrom(shown, next);
    if (shift?.x !== 0 || shift.y !== 0) this.stage.draw(shift);
    const worded =
      viewMoved ||
      shown?.coveredBelow !== next.coveredBelow ||
      shown.ring ||
      next.ring ||
      !sameLabels(shown?.overlay.labels, next.overlay.labels);
    if (worded) this.drawWords(next, theme, measure, shift);
    this.shown = next;
  }

  /** How far the picture has moved when that is all that has changed. */
  private shiftFrom(shown: Shown, next: Shown): Shift | null {
    const same =
      shown.scene === next.scene &&
      shown.overlay === next.overlay &&
      shown.unit === next.unit &&
      shown.coveredBelow === next.coveredBelow &&
      !shown.ring &&
      !next.ring;
    return same ? shiftBetween(shown.camera, next.camera, this.size.ratio) : null;
  }

  private drawWords(
    next: Shown,
    theme: BenchTheme,
    measure: (text: string, type: number) => number,
    shift: Shift | null,
  ): void {
    drawAnnotations(
      { context: this.words, ...this.size },
      {
        camera: next.camera,
        theme,
        unit: next.unit,
        zero: next.scene.zero,
        labels: [
          ...this.sceneLabels(next, measure),
          ...planLabels(next.overlay.labels, next.camera.scale, measure),
        ],
        spots: next.scene.spots,
        ring: next.ring,
        length: next.length,
        coveredBelow: next.coveredBelow,
      },
      shift,
    );
  }

  dispose(): void {
    this.stage.dispose();
  }

  private sceneLabels(next: Shown, measure: (text: string, type: number) => number): readonly PlannedLabel[] {
    const { scale } = next.camera;
    if (this.plannedFor?.scene !== next.scene || this.plannedFor.scale !== scale) {
      this.planned = planLabels(next.scene.labels, scale, measure);
      this.plannedFor = { scene: next.scene, scale };
    }
    return this.planned;
  }
}

/** Labels of two overlays say the same at the same places. */
const sameLabels = (a: readonly Label[] | undefined, b: readonly Label[]): boolean =>
  a === b ||
  (a?.length === b.length &&
    b.every(
      (label, i) => label.text === a[i]!.text && label.at.x === a[i]!.at.x && label.at.y === a[i]!.at.y,
    ));

function contextOf(
  canvas: HTMLCanvasElement,
  settings?: CanvasRenderingContext2DSettings,
): CanvasRenderingContext2D {
  const context = canvas.getContext('2d', settings);
  if (!context) throw new Error('This browser gives no 2D drawing context.');
  return context;
}
