/** The three canvases of the bench, one over the other: ground and grid, the drawing, words and rulers. */
import type { Point } from '../../../src/math';
import type { Overlay } from '../overlay/overlay';
import { drawAnnotations, wordMeasure } from '../paint/annotations';
import { drawBackdrop, type Surface } from '../paint/backdrop';
import { type PlannedLabel, planLabels } from '../paint/labelPlan';
import { PaperStage } from '../paint/paperStage';
import type { BenchTheme } from '../paint/theme';
import type { Scene } from '../scene/scene';
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
    this.ground = contextOf(canvases.ground);
    this.words = contextOf(canvases.words);
    this.stage = new PaperStage(canvases.drawing);
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
    if (viewMoved) drawBackdrop(this.surface(this.ground), next.camera, next.unit, next.scene.zero, theme);
    if (shown?.scene !== next.scene) this.stage.setScene(next.scene);
    if (shown?.overlay !== next.overlay) this.stage.setOverlay(next.overlay);
    this.stage.setCamera(next.camera);
    this.stage.draw();
    drawAnnotations(this.surface(this.words), {
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
    });
    this.shown = next;
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

  private surface(context: CanvasRenderingContext2D): Surface {
    return { context, ...this.size };
  }
}

function contextOf(canvas: HTMLCanvasElement): CanvasRenderingContext2D {
  const context = canvas.getContext('2d');
  if (!context) throw new Error('This browser gives no 2D drawing context.');
  return context;
}
