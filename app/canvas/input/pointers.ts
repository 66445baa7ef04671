/**
 * Pointer events of the page, turned into events of the tools. One pointer works the tool; two fingers move and zoom
 * the bench, and take the gesture away from the tool until all fingers are up.
 */
import type { Point } from '../../../src/math';
import type { BenchEvent, PointerKind, ScreenPoint } from '../../tools';

export interface PointerHandlers {
  send(event: BenchEvent): void;
  /** Two fingers went from one pair of places to another. */
  pinch(before: readonly [ScreenPoint, ScreenPoint], after: readonly [ScreenPoint, ScreenPoint]): void;
  toScene(at: ScreenPoint): Point;
  /** The space bar is held. */
  panHeld(): boolean;
  /** Where the mouse is, for the rulers; null: away. */
  follow(at: ScreenPoint | null): void;
}

export class PointerInput {
  private readonly fingers = new Map<number, ScreenPoint>();
  private pinching = false;
  /** The pointer that works the tool. */
  private active: number | null = null;
  private readonly aborter = new AbortController();

  constructor(
    private readonly element: HTMLElement,
    private readonly handlers: PointerHandlers,
  ) {
    const options = { signal: this.aborter.signal };
    element.addEventListener('pointerdown', this.down, options);
    element.addEventListener('pointermove', this.move, options);
    element.addEventListener('pointerup', this.up, options);
    element.addEventListener('pointercancel', this.lost, options);
    element.addEventListener('lostpointercapture', this.lost, options);
    element.addEventListener('pointerleave', this.leave, options);
    element.addEventListener('dblclick', this.doubleClick, options);
    // The middle button would start the browser's own scrolling.
    element.addEventListener('mousedown', (e) => e.button === 1 && e.preventDefault(), options);
  }

  dispose(): void {
    this.aborter.abort();
  }

  private place(event: MouseEvent): ScreenPoint {
    const box = this.element.getBoundingClientRect();
    return { x: event.clientX - box.left, y: event.clientY - box.top };
  }

  private readonly down = (event: PointerEvent) => {
    if (event.button !== 0 && event.button !== 1) return;
    this.element.dataset.by = 'pointer';
    this.element.focus({ preventScroll: true });
    const screen = this.place(event);
    const pointer = kindOf(event);
    if (pointer === 'touch') {
      this.fingers.set(event.pointerId, screen);
      if (this.fingers.size > 1) {
        if (this.active !== null) this.handlers.send({ type: 'cancel' });
        this.active = null;
        this.pinching = true;
      }
    }
    this.element.setPointerCapture(event.pointerId);
    if (this.pinching || this.active !== null) return;
    this.active = event.pointerId;
    this.handlers.send({
      type: 'down',
      screen,
      at: this.handlers.toScene(screen),
      pointer,
      button: event.button === 1 || this.handlers.panHeld() ? 'pan' : 'primary',
      shift: event.shiftKey,
    });
  };

  private readonly move = (event: PointerEvent) => {
    const screen = this.place(event);
    if (event.pointerType !== 'touch') this.handlers.follow(screen);
    const before = this.fingers.get(event.pointerId);
    if (this.pinching) {
      if (!before) return;
      const other = [...this.fingers].find(([id]) => id !== event.pointerId)?.[1];
      this.fingers.set(event.pointerId, screen);
      if (other) this.handlers.pinch([before, other], [screen, other]);
      return;
    }
    if (before) this.fingers.set(event.pointerId, screen);
    if (this.active !== null && this.active !== event.pointerId) return;
    this.send('move', event, screen);
  };

  private readonly up = (event: PointerEvent) => {
    this.lift(event.pointerId);
    if (this.active !== event.pointerId) return;
    this.active = null;
    this.send('up', event, this.place(event));
  };

  private readonly lost = (event: PointerEvent) => {
    this.lift(event.pointerId);
    if (this.active !== event.pointerId) return;
    this.active = null;
    this.handlers.send({ type: 'cancel' });
  };

  private readonly leave = (event: PointerEvent) => {
    if (event.pointerType === 'touch') return;
    this.handlers.follow(null);
    if (this.active === null) this.handlers.send({ type: 'leave' });
  };

  private readonly doubleClick = (event: MouseEvent) => {
    const screen = this.place(event);
    this.handlers.send({
      type: 'doubleClick',
      at: this.handlers.toScene(screen),
      pointer: 'mouse',
      shift: event.shiftKey,
    });
  };

  private lift(pointer: number): void {
    this.fingers.delete(pointer);
    if (this.fingers.size === 0) this.pinching = false;
  }

  private send(type: 'move' | 'up', event: PointerEvent, screen: ScreenPoint): void {
    this.handlers.send({
      type,
      screen,
      at: this.handlers.toScene(screen),
      pointer: kindOf(event),
      shift: event.shiftKey,
    });
  }
}

const kindOf = (event: PointerEvent): PointerKind =>
  event.pointerType === 'touch' ? 'touch' : event.pointerType === 'pen' ? 'pen' : 'mouse';
