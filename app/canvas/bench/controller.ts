/**
 * The bench at work: listens to the session and to the person, keeps the scene, the view and the tool, and asks the
 * painter for one picture per frame at most. Lives as long as the element is on the page; `dispose` takes back all that
 * was added, so that mounting twice leaves one bench.
 */
import { unreachable } from '../../../src/base';
import { boxOf, joinBoxes, type Point } from '../../../src/math';
import type { Session } from '../../document';
import { type BenchEvent, type BenchFacts, previewOf, startTool, stepTool } from '../../tools';
import { keyAnswer } from '../input/keys';
import { PointerInput } from '../input/pointers';
import { wheelAnswer } from '../input/wheel';
import { type Overlay, overlayOf } from '../overlay/overlay';
import { themeFrom } from '../paint/theme';
import { lengthWriter, sceneOf } from '../scene';
import { SceneIndex } from '../scene/pick';
import { Relations } from '../scene/relations';
import { emptyScene, type Scene } from '../scene/scene';
import { pinched, toScene } from '../view/camera';
import { CameraKeeper } from '../view/cameraKeeper';
import { type Covered, nothingCovered, openFrame } from './covered';
import { applyEffect, type BenchHooks, type EffectTarget } from './effects';
import { factsOf } from './facts';
import { type Hint, hintOf } from './hint';
import { type Canvases, Painter } from './painter';
import { type AskedPlace, isMarked, ringOf } from './placeMark';
import type { BenchPort } from './port';
import { sameKey, sceneKey } from './sceneKey';
import { watchSurroundings } from './watch';

export interface BenchElements {
  /** Takes focus, pointers and keys. */
  readonly surface: HTMLElement;
  readonly canvases: Canvases;
  /** Lines on the rulers that follow the pointer. */
  readonly markX: HTMLElement;
  readonly markY: HTMLElement;
}

/** One press of the zoom keys or buttons. */
const zoomStep = 1.4;

export class BenchController implements EffectTarget {
  private readonly painter: Painter;
  private readonly pointers: PointerInput;
  private readonly keeper = new CameraKeeper();
  private readonly undo: (() => void)[] = [];
  private tool = startTool('select');
  private scene: Scene = emptyScene('drawing');
  private relations = new Relations(null, null);
  private index = new SceneIndex([]);
  private key: readonly unknown[] = [];
  private overlay: Overlay | null = null;
  private focus: AskedPlace | null = null;
  private focusSerial: number;
  private covered: Covered = nothingCovered;
  private size = { width: 0, height: 0 };
  private spaceHeld = false;
  private frame = 0;
  private hint: Hint | null = null;

  constructor(
    private readonly elements: BenchElements,
    readonly port: BenchPort,
    readonly hooks: BenchHooks,
  ) {
    this.painter = new Painter(elements.canvases);
    this.focusSerial = port.state().focus?.serial ?? 0;
    this.tool = startTool(port.state().tool);
    this.pointers = new PointerInput(elements.surface, {
      send: (event) => this.send(event),
      pinch: (before, after) => {
        this.keeper.jump(pinched(this.keeper.camera, before, after));
        this.invalidate();
      },
      toScene: (at) => toScene(this.keeper.camera, at),
      panHeld: () => this.spaceHeld,
      follow: (at) => {
        for (const [mark, where] of [
          [elements.markX, at && `translateX(${at.x}px)`],
          [elements.markY, at && `translateY(${at.y}px)`],
        ] as const) {
          mark.hidden = where === null;
          if (where !== null) mark.style.transform = where;
        }
      },
    });
    this.listen();
    this.readTheme();
    this.measureSize();
    this.takeScene(port.state());
    this.undo.push(port.subscribe((now, before) => this.onSession(now, before)));
    this.undo.push(
      port.register({
        zoomIn: () => this.zoomStep(zoomStep),
        zoomOut: () => this.zoomStep(1 / zoomStep),
        fit: () => this.fit(),
        zoomTo: (points) => this.showPlace(points, []),
      }),
    );
    this.updateHint();
  }

  setCovered(covered: Covered): void {
    this.covered = covered;
    this.keeper.resize(openFrame(this.size, this.covered));
    this.invalidate();
  }

  panBy(dx: number, dy: number): void {
    this.keeper.panBy(dx, dy);
    this.invalidate();
  }

  /** The keyboard cursor has gone to this thing: it comes into view. */
  showCursor(id: string | null): void {
    const box = id === null ? null : this.index.boundsOf([id]);
    if (box) this.keeper.reveal(box, performance.now());
    this.changed();
  }

  /** What the buttons beside the hint do. */
  act(action: Hint['actions'][number]): void {
    this.send({ type: action === 'drop' ? 'escape' : action, shift: false });
    this.elements.surface.focus({ preventScroll: true });
  }

  dispose(): void {
    cancelAnimationFrame(this.frame);
    this.pointers.dispose();
    for (const back of this.undo.reverse()) back();
    this.undo.length = 0;
    this.painter.dispose();
    // What the pointer was over is no longer under it.
    if (this.port.state().hovered !== null) this.port.hover(null);
  }

  private listen(): void {
    const { surface } = this.elements;
    const aborter = new AbortController();
    const options = { signal: aborter.signal };
    surface.addEventListener('wheel', (e) => this.onWheel(e), { ...options, passive: false });
    surface.addEventListener('keydown', (e) => this.onKey(e), options);
    surface.addEventListener('keydown', () => delete surface.dataset.by, options);
    surface.addEventListener('blur', () => delete surface.dataset.by, options);
    window.addEventListener('keyup', (e) => e.key === ' ' && this.holdSpace(false), options);
    window.addEventListener('blur', () => this.holdSpace(false), options);
    surface.addEventListener('focus', () => this.changed(), options);
    surface.addEventListener('blur', () => this.leaveKeyboard(), options);
    this.undo.push(() => aborter.abort());
    this.undo.push(
      watchSurroundings(surface, {
        resized: () => this.measureSize(),
        themed: () => this.readTheme(),
        fontsCame: () => {
          this.painter.forgetWords();
          this.invalidate();
        },
        calm: (wanted) => {
          this.keeper.calm = wanted;
        },
      }),
    );
  }

  private readTheme(): void {
    const style = getComputedStyle(this.elements.surface);
    this.painter.setTheme(themeFrom((name) => style.getPropertyValue(name)));
    this.invalidate();
  }

  private measureSize(): void {
    const { clientWidth: width, clientHeight: height } = this.elements.surface;
    if (width === 0 || height === 0) return;
    this.size = { width, height };
    this.painter.resize(width, height, devicePixelRatio || 1);
    this.keeper.resize(openFrame(this.size, this.covered));
    // Resizing empties a canvas: without a picture in the same frame the bench would flash.
    this.render();
  }

  private onSession(now: Session, before: Session): void {
    if (now.documentId !== before.documentId) {
      this.keeper.reset();
      this.focus = null;
    }
    if (now.tool !== this.tool.tool) this.send({ type: 'tool', tool: now.tool });
    this.takeScene(now);
    const focus = now.focus;
    if (focus && focus.serial !== this.focusSerial) {
      this.focusSerial = focus.serial;
      this.showPlace(focus.points, focus.ids);
    }
    const touched =
      now.selection !== before.selection ||
      now.hovered !== before.hovered ||
      now.likely !== before.likely ||
      now.pairFrom !== before.pairFrom ||
      now.drawing !== before.drawing ||
      now.offcut !== before.offcut ||
      now.outline !== before.outline ||
      now.document !== before.document;
    if (touched) this.changed();
  }

  /** Takes the scene of the session's step, if anything that it is made of has changed. */
  private takeScene(now: Session): void {
    const key = sceneKey(now);
    if (sameKey(key, this.key)) return;
    this.key = key;
    const { scene, relations } = sceneOf(now);
    this.scene = scene;
    this.relations = relations;
    this.index = new SceneIndex(scene.pickables);
    if (this.tool.cursor !== null && this.index.withId(this.tool.cursor).length === 0)
      this.tool = { ...this.tool, cursor: null };
    this.keeper.show(scene.space, scene.bounds);
    this.changed();
  }

  private facts(): BenchFacts {
    const session = this.port.state();
    return factsOf({
      session,
      scene: this.scene,
      index: this.index,
      relations: this.relations,
      scale: this.keeper.camera.scale,
      length: lengthWriter(session.document),
    });
  }

  private send(event: BenchEvent): void {
    const { gesture, pointerAt, cursor, tool } = this.tool;
    const turn = stepTool(this.tool, event, this.facts());
    this.tool = turn.state;
    for (const effect of turn.effects) applyEffect(effect, this);
    const { pairFrom, drawing, offcut, outline } = this.port.state();
    const drawn = pairFrom !== null || drawing.panel !== null || offcut !== null || outline !== null;
    const showsPointer = drawn && pointerAt !== this.tool.pointerAt;
    if (
      gesture !== this.tool.gesture ||
      cursor !== this.tool.cursor ||
      tool !== this.tool.tool ||
      showsPointer
    ) {
      this.changed();
    }
    this.elements.surface.dataset.gesture =
      this.spaceHeld && this.tool.gesture.name === 'idle' ? 'ready' : this.tool.gesture.name;
    this.elements.surface.dataset.tool = this.tool.tool;
  }

  private onWheel(event: WheelEvent): void {
    event.preventDefault();
    const answer = wheelAnswer(event);
    if (answer.kind === 'pan') this.keeper.panBy(answer.dx, answer.dy);
    else {
      const box = this.elements.surface.getBoundingClientRect();
      this.keeper.zoomBy(answer.factor, { x: event.clientX - box.left, y: event.clientY - box.top });
    }
    this.invalidate();
  }

  private onKey(event: KeyboardEvent): void {
    const { tool } = this;
    const session = this.port.state();
    const answer = keyAnswer(event, {
      tool: tool.tool,
      pairing: session.pairFrom !== null,
      busy: tool.gesture.name !== 'idle' || tool.cursor !== null,
      selecting: session.selection.length > 0,
      moving:
        (this.scene.movable ?? false) && session.selection.some((id) => this.index.withId(id).length > 0),
    });
    if (!answer) return;
    event.preventDefault();
    switch (answer.kind) {
      case 'event':
        this.send(answer.event);
        break;
      case 'hold':
        this.holdSpace(true);
        break;
      case 'nudge': {
        const said = this.port.nudge(answer.by);
        if (said !== null) this.hooks.announce(said);
        break;
      }
      case 'pan':
        this.panBy(answer.dx, answer.dy);
        break;
      default:
        unreachable(answer);
    }
  }

  /** The focus went elsewhere: the keyboard's cursor stays where it is, but is not shown until it comes back. */
  private leaveKeyboard(): void {
    this.holdSpace(false);
    const { cursor } = this.tool;
    if (cursor !== null && this.port.state().hovered === cursor) this.port.hover(null);
    this.changed();
  }

  private holdSpace(held: boolean): void {
    if (held === this.spaceHeld) return;
    this.spaceHeld = held;
    if (this.tool.gesture.name === 'idle') this.elements.surface.dataset.gesture = held ? 'ready' : 'idle';
  }

  private zoomStep(factor: number): void {
    this.keeper.zoomStep(factor, performance.now());
    this.invalidate();
  }

  private fit(): void {
    if (this.scene.bounds) this.keeper.fit(this.scene.bounds, performance.now());
    this.invalidate();
  }

  /** Brings drawing positions, or the things with these ids, into view and marks them. */
  private showPlace(points: readonly Point[], ids: readonly string[]): void {
    const edges = ids.flatMap((id) => this.relations.edgesOf(id));
    let box = this.index.boundsOf(edges);
    const k = this.scene.drawingScale;
    if (points.length > 0 && k !== null) {
      const asked = boxOf(points.map((p) => ({ x: p.x * k, y: p.y * k })));
      box = box ? joinBoxes(box, asked) : asked;
    }
    const now = performance.now();
    this.focus = { ids, box, begin: now };
    if (box) this.keeper.showPlace(box, now);
    this.changed();
  }

  /** The overlay has to be made anew. */
  private changed(): void {
    this.overlay = null;
    this.updateHint();
    this.invalidate();
  }

  private updateHint(): void {
    const next = hintOf(this.tool.tool, this.facts());
    if (JSON.stringify(next) === JSON.stringify(this.hint)) return;
    this.hint = next;
    this.hooks.hint(next);
  }

  private invalidate(): void {
    if (this.frame === 0) this.frame = requestAnimationFrame(() => this.render());
  }

  private render(): void {
    cancelAnimationFrame(this.frame);
    this.frame = 0;
    const now = performance.now();
    const gliding = this.keeper.tick(now);
    const marking = this.focus !== null && isMarked(this.focus, now);
    if (this.focus && !marking) {
      this.focus = null;
      this.overlay = null;
    }
    const session = this.port.state();
    this.overlay ??= overlayOf({
      scene: this.scene,
      index: this.index,
      relations: this.relations,
      selection: session.selection,
      hovered: session.hovered,
      likely: session.likely,
      pairFrom: session.pairFrom,
      cursor: document.activeElement === this.elements.surface ? this.tool.cursor : null,
      girth: this.shownGirth(session),
      preview: previewOf(this.tool, this.facts()),
      pulse: this.focus?.ids ?? [],
      threads:
        session.step === 'seams' ||
        session.step === 'panels' ||
        session.step === 'foam' ||
        session.tool === 'pair',
      length: lengthWriter(session.document),
    });
    this.painter.draw({
      camera: this.keeper.camera,
      scene: this.scene,
      overlay: this.overlay,
      unit: session.document?.lengthUnit ?? 'mm',
      ring: this.focus && ringOf(this.focus, this.keeper.camera, now, this.keeper.calm),
      length: lengthWriter(session.document),
      coveredBelow: this.covered.bottom,
    });
    // For tests and tools: CSS pixels per mm, and where position (0, 0) lies on the bench.
    const { scale, x, y } = this.keeper.camera;
    this.elements.surface.dataset.view = `${scale} ${x} ${y}`;
    if (gliding || marking) this.invalidate();
  }

  private shownGirth(session: Session) {
    const shown = session.step === 'size' || session.tool === 'chain' || session.tool === 'tape';
    return shown && session.document ? session.document.decisions.fit.girth : ({ kind: 'none' } as const);
  }
}
