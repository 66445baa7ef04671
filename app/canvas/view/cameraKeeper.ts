/**
 * One view per space, remembered while the document is open; fits, glides and jumps. A view that the person has not
 * touched since it was fitted stays fitted when the bench is resized or the content grows. No timers: the caller asks
 * `tick` before each frame.
 */
import type { Box } from '../../../src/math';
import type { ScreenPoint } from '../../tools';
import type { Space } from '../scene/scene';
import { between, type Camera, type Frame, fitted, panned, revealing, zoomed } from './camera';

interface View {
  readonly camera: Camera;
  /** The content it was fitted to, while nothing has moved it since. */
  readonly fittedTo: Box | null;
}

/** How long a glide takes, ms: long enough to see where it goes, short enough not to wait for. */
const glideTime = 280;
/** A piece of a few mm should not fill the screen when all there is is fitted. */
const nearestFit = 12;
/** A place that was asked for is shown at most this close, pixels per mm, so that its surroundings stay in view. */
const nearestPlace = 4;

const start: Camera = { scale: 1, x: 0, y: 0 };

export class CameraKeeper {
  private readonly views = new Map<Space, View>();
  private space: Space = 'drawing';
  private frame: Frame = { left: 0, top: 0, right: 1, bottom: 1 };
  private glide: { readonly from: Camera; readonly to: Camera; readonly begin: number } | null = null;
  /** The person asked for less motion: glides are jumps. */
  calm = false;

  get camera(): Camera {
    return this.views.get(this.space)?.camera ?? start;
  }

  get inner(): Frame {
    return this.frame;
  }

  /** Forgets all views: another document. */
  reset(): void {
    this.views.clear();
    this.glide = null;
  }

  /** Shows a space with its content; the first time, and as long as it stays untouched, fitted. */
  show(space: Space, bounds: Box | null): void {
    if (space !== this.space) this.glide = null;
    this.space = space;
    if (!bounds) return;
    const view = this.views.get(space);
    if (!view || (view.fittedTo !== null && !sameBox(view.fittedTo, bounds))) this.jumpToFit(bounds);
  }

  resize(frame: Frame): void {
    const before = this.frame;
    this.frame = frame;
    this.glide = null;
    const dx = (frame.left + frame.right - before.left - before.right) / 2;
    const dy = (frame.top + frame.bottom - before.top - before.bottom) / 2;
    for (const [space, view] of this.views) {
      // Fitted views stay fitted, others keep their middle.
      this.views.set(
        space,
        view.fittedTo
          ? { camera: fitted(view.fittedTo, frame, nearestFit), fittedTo: view.fittedTo }
          : { camera: panned(view.camera, dx, dy), fittedTo: null },
      );
    }
  }

  panBy(dx: number, dy: number): void {
    this.jump(panned(this.camera, dx, dy));
  }

  zoomBy(factor: number, at: ScreenPoint): void {
    this.jump(zoomed(this.camera, factor, at));
  }

  /** Zooms about the middle of the bench, gliding from wherever a glide was going. */
  zoomStep(factor: number, now: number): void {
    const { left, right, top, bottom } = this.frame;
    const to = zoomed(this.glide?.to ?? this.camera, factor, {
      x: (left + right) / 2,
      y: (top + bottom) / 2,
    });
    this.glideTo(to, null, now);
  }

  jump(camera: Camera): void {
    this.glide = null;
    this.views.set(this.space, { camera, fittedTo: null });
  }

  fit(bounds: Box, now: number): void {
    this.glideTo(fitted(bounds, this.frame, nearestFit), bounds, now);
  }

  /** Shows a place large, with its surroundings; never farther away than the view already is close. */
  showPlace(box: Box, now: number): void {
    const { left, right, top, bottom } = this.frame;
    const inset = { x: (right - left) * 0.22, y: (bottom - top) * 0.22 };
    const inner: Frame = {
      left: left + inset.x,
      right: right - inset.x,
      top: top + inset.y,
      bottom: bottom - inset.y,
    };
    this.glideTo(
      fitted(box, inner, Math.max(nearestPlace, Math.min(this.camera.scale, nearestFit))),
      null,
      now,
    );
  }

  /** The smallest move that brings a box into view. */
  reveal(box: Box, now: number): void {
    const camera = this.glide?.to ?? this.camera;
    const to = revealing(camera, box, this.frame);
    if (to !== camera) this.glideTo(to, null, now);
  }

  /** Moves a glide on; true while it goes on. */
  tick(now: number): boolean {
    if (!this.glide) return false;
    const { from, to, begin } = this.glide;
    const t = Math.min(1, Math.max(0, (now - begin) / glideTime));
    // Starts at once and settles slowly: the eye follows the start and reads the end.
    const eased = 1 - (1 - t) ** 3;
    const view = this.views.get(this.space);
    this.views.set(this.space, {
      camera: between(from, to, eased, this.frame),
      fittedTo: view?.fittedTo ?? null,
    });
    if (t >= 1) this.glide = null;
    return this.glide !== null;
  }

  private jumpToFit(bounds: Box): void {
    this.glide = null;
    this.views.set(this.space, { camera: fitted(bounds, this.frame, nearestFit), fittedTo: bounds });
  }

  private glideTo(to: Camera, fittedTo: Box | null, now: number): void {
    if (this.calm) {
      this.glide = null;
      this.views.set(this.space, { camera: to, fittedTo });
      return;
    }
    this.glide = { from: this.camera, to, begin: now };
    this.views.set(this.space, { camera: this.camera, fittedTo });
  }
}

const sameBox = (a: Box, b: Box) =>
  a.minX === b.minX && a.minY === b.minY && a.maxX === b.maxX && a.maxY === b.maxY;
