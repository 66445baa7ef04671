/**
 * The one place that knows the canvas library. Holds a project with two layers: the scene, one compound path per look
 * or tone, rebuilt when the scene changes; and the overlay, rebuilt whenever it or the zoom changes. The library's own
 * view matrix does all panning and zooming; line weights follow the zoom.
 *
 * Library rules that this file keeps: one scope for the page's life; items are made with `insert: false` and added to
 * their layer by hand; colours are always `Color` objects (a colour over a string colour throws in strict mode); y is
 * turned once, here, when points are handed over; what was added is removed with the project on `dispose`. The canvas
 * opts out of the library's pixel-ratio handling, which is fixed at creation and so wrong after a move to another
 * screen: the ratio is part of our view matrix instead.
 */
import paperCore from 'paper/dist/paper-core';
import type { Point } from '../../../src/math';
import type { Arrow, Overlay, OverlayCurve } from '../overlay/overlay';
import { type BenchLookName, benchLooks, weightAt } from '../scene/looks';
import type { AreaTone, Polyline, Scene } from '../scene/scene';
import type { Camera } from '../view/camera';
import { overlayStyles } from './overlayStyles';
import { redrawShifted, type Shift, uncovered } from './shifted';
import { areaVariable, type BenchTheme, inkVariable, type Rgba } from './theme';

/** One scope for the page's life; each bench on screen has its own project in it. */
let scope: paper.PaperScope | null = null;

/** Size of an arrow head and of a dot, CSS pixels. */
const headLength = 11;
const dotRadius = 3.5;

export class PaperStage {
  private readonly project: paper.Project;
  private readonly content: paper.Layer;
  private readonly over: paper.Layer;
  private readonly areas: {
    readonly tone: AreaTone;
    readonly fromScale: number;
    readonly item: paper.Item;
  }[] = [];
  private readonly strokes: {
    readonly look: BenchLookName;
    readonly fromScale: number;
    readonly item: paper.Item;
  }[] = [];
  private theme: BenchTheme | null = null;
  private camera: Camera = { scale: 1, x: 0, y: 0 };
  private ratio = 1;
  private overlay: Overlay | null = null;
  private overlayStale = true;
  private weightsFor = 0;

  constructor(canvas: HTMLCanvasElement) {
    canvas.setAttribute('hidpi', 'off');
    scope ??= new paperCore.PaperScope();
    scope.activate();
    scope.settings.insertItems = false;
    scope.setup(canvas);
    this.project = scope.project;
    this.project.view.autoUpdate = false;
    this.project.clear();
    this.content = new paperCore.Layer({ insert: false });
    this.over = new paperCore.Layer({ insert: false });
    this.project.addLayer(this.content);
    this.project.addLayer(this.over);
  }

  resize(width: number, height: number, ratio: number): void {
    this.ratio = ratio;
    this.project.view.viewSize = new paperCore.Size(
      Math.max(1, Math.round(width * ratio)),
      Math.max(1, Math.round(height * ratio)),
    );
  }

  setTheme(theme: BenchTheme): void {
    this.theme = theme;
    for (const { tone, item } of this.areas) item.fillColor = this.fill(tone);
    for (const { look, item } of this.strokes) item.strokeColor = this.stroke(look);
    this.overlayStale = true;
  }

  setScene(scene: Scene): void {
    this.content.removeChildren();
    this.areas.length = 0;
    this.strokes.length = 0;
    for (const set of scene.areas) {
      if (set.rings.length === 0) continue;
      const item = compound(set.rings.map((points) => ({ points, closed: true })));
      item.fillRule = 'nonzero';
      item.fillColor = this.fill(set.tone);
      this.areas.push({ tone: set.tone, fromScale: set.fromScale ?? 0, item });
      this.content.addChild(item);
    }
    for (const set of scene.strokes) {
      if (set.lines.length === 0) continue;
      const item = compound(set.lines);
      item.strokeColor = this.stroke(set.look);
      item.strokeJoin = 'round';
      item.strokeCap = 'butt';
      this.strokes.push({ look: set.look, fromScale: set.fromScale, item });
      this.content.addChild(item);
    }
    this.weightsFor = 0;
  }

  setOverlay(overlay: Overlay): void {
    this.overlay = overlay;
    this.overlayStale = true;
  }

  setCamera(camera: Camera): void {
    if (camera.scale !== this.camera.scale) this.overlayStale = true;
    this.camera = camera;
  }

  /**
   * Draws; nothing else than the view may have changed when there is a `shift`, by which the picture then moves. Leaves
   * the context's state as it was.
   */
  draw(shift: Shift | null): void {
    const { scale, x, y } = this.camera;
    const k = this.ratio;
    this.project.view.matrix = new paperCore.Matrix(scale * k, 0, 0, scale * k, x * k, y * k);
    this.applyWeights();
    if (this.overlayStale) this.buildOverlay();
    const context = shift && this.project.view.element.getContext('2d');
    if (!context) {
      this.project.view.update();
      return;
    }
    const { width, height } = context.canvas;
    const boxes = uncovered(width, height, shift);
    redrawShifted(context, shift, boxes, () => this.project.view.update());
  }

  /** Takes the project and all its items away. The canvas may be used again. */
  dispose(): void {
    this.project.remove();
  }

  private fill(tone: AreaTone): paper.Color | null {
    return this.theme && colourOf(this.theme.colours[areaVariable[tone]]);
  }

  private stroke(look: BenchLookName): paper.Color | null {
    const { ink, opacity } = benchLooks[look];
    return this.theme && colourOf(this.theme.colours[inkVariable[ink]], opacity);
  }

  private applyWeights(): void {
    const { scale } = this.camera;
    if (scale === this.weightsFor) return;
    this.weightsFor = scale;
    for (const { look, fromScale, item } of this.strokes) {
      item.visible = scale >= fromScale;
      const { width, dash } = weightAt(benchLooks[look], scale);
      item.strokeWidth = width;
      item.dashArray = [...dash];
    }
    for (const { fromScale, item } of this.areas) item.visible = scale >= fromScale;
  }

  private buildOverlay(): void {
    this.overlayStale = false;
    this.over.removeChildren();
    const { overlay, theme } = this;
    if (!overlay || !theme) return;
    const pixel = 1 / this.camera.scale;
    const add = (item: paper.Item) => this.over.addChild(item);
    for (const { look, ring } of overlay.areas) {
      const style = overlayStyles[look];
      if (!style.fill) continue;
      const item = compound([{ points: ring, closed: true }]);
      item.fillColor = colourOf(theme.colours[style.fill.colour], style.fill.opacity);
      add(item);
    }
    for (const { look, lines } of overlay.strokes) {
      for (const pass of overlayStyles[look].strokes) {
        const item = compound(lines);
        item.strokeColor = colourOf(theme.colours[pass.colour], pass.opacity);
        item.strokeWidth = pass.width * pixel;
        item.dashArray = pass.dash.map((d) => d * pixel);
        item.strokeCap = 'round';
        item.strokeJoin = 'round';
        add(item);
      }
    }
    for (const curve of overlay.threads) {
      for (const pass of overlayStyles.thread.strokes) {
        const item = curvePath(curve);
        item.strokeColor = colourOf(theme.colours[pass.colour], pass.opacity);
        item.strokeWidth = pass.width * pixel;
        item.dashArray = pass.dash.map((d) => d * pixel);
        add(item);
      }
    }
    const accent = theme.colours['--accent'];
    const ground = theme.colours['--bench'];
    for (const arrow of overlay.arrows) {
      const item = headPath(arrow, headLength * pixel);
      item.fillColor = colourOf(accent);
      item.strokeColor = colourOf(ground);
      item.strokeWidth = 1.5 * pixel;
      item.strokeJoin = 'round';
      add(item);
    }
    for (const at of overlay.dots) {
      const item = new paperCore.Path.Circle({ center: flip(at), radius: dotRadius * pixel, insert: false });
      item.fillColor = colourOf(accent);
      item.strokeColor = colourOf(ground);
      item.strokeWidth = 1.5 * pixel;
      add(item);
    }
  }
}

/** Scene to canvas: y down. */
const flip = (p: Point): paper.Point => new paperCore.Point(p.x, -p.y);

const colourOf = ([r, g, b, a]: Rgba, opacity = 1): paper.Color => new paperCore.Color(r, g, b, a * opacity);

function compound(lines: readonly Polyline[]): paper.CompoundPath {
  return new paperCore.CompoundPath({
    children: lines.map(
      (line) => new paperCore.Path({ segments: line.points.map(flip), closed: line.closed, insert: false }),
    ),
    insert: false,
  });
}

function curvePath({ from, c1, c2, to }: OverlayCurve): paper.Path {
  const start = new paperCore.Segment(flip(from), undefined, flip(c1).subtract(flip(from)));
  const end = new paperCore.Segment(flip(to), flip(c2).subtract(flip(to)), undefined);
  return new paperCore.Path({ segments: [start, end], insert: false });
}

function headPath({ at, along }: Arrow, length: number): paper.Path {
  const half = length * 0.42;
  const side = { x: -along.y, y: along.x };
  const corner = (l: number, s: number) =>
    flip({ x: at.x + along.x * l + side.x * s, y: at.y + along.y * l + side.y * s });
  return new paperCore.Path({
    segments: [corner(length * 0.6, 0), corner(-length * 0.4, half), corner(-length * 0.4, -half)],
    closed: true,
    insert: false,
  });
}
