/**
 * Where the bench looks: a scene position (mm, y up) is at `x + scale · sceneX`, `y − scale · sceneY` on the screen
 * (CSS pixels from the bench's top-left corner, y down). Pure; no rotation.
 */
import { type Box, type Point, point } from '../../../src/math';
import type { ScreenPoint } from '../../tools';

export interface Camera {
  /** CSS pixels per mm. */
  readonly scale: number;
  readonly x: number;
  readonly y: number;
}

/** The part of the bench that content is fitted into, CSS pixels. */
export interface Frame {
  readonly left: number;
  readonly top: number;
  readonly right: number;
  readonly bottom: number;
}

/**
 * Nearest and farthest views, pixels per mm: at 0.02 a 40 m drawing fits a small screen; at 200 the drawing's own
 * precision (0.02 mm curves) is 4 pixels, and more would only show its facets.
 */
export const scaleLimits = { min: 0.02, max: 200 } as const;

const clampScale = (scale: number) => Math.min(scaleLimits.max, Math.max(scaleLimits.min, scale));

export const toScreen = (camera: Camera, p: Point): ScreenPoint => ({
  x: camera.x + camera.scale * p.x,
  y: camera.y - camera.scale * p.y,
});

export const toScene = (camera: Camera, s: ScreenPoint): Point =>
  point((s.x - camera.x) / camera.scale, (camera.y - s.y) / camera.scale);

export const panned = (camera: Camera, dx: number, dy: number): Camera => ({
  ...camera,
  x: camera.x + dx,
  y: camera.y + dy,
});

/** Zoomed by a factor with the scene position under `at` staying where it is. */
export function zoomed(camera: Camera, factor: number, at: ScreenPoint): Camera {
  const scale = clampScale(camera.scale * factor);
  const k = scale / camera.scale;
  return { scale, x: at.x - (at.x - camera.x) * k, y: at.y - (at.y - camera.y) * k };
}

/** The view in which two scene positions lie under two fingers: moves and zooms, never turns. */
export function pinched(
  camera: Camera,
  before: readonly [ScreenPoint, ScreenPoint],
  after: readonly [ScreenPoint, ScreenPoint],
): Camera {
  const span = (p: readonly [ScreenPoint, ScreenPoint]) => Math.hypot(p[1].x - p[0].x, p[1].y - p[0].y);
  const middle = (p: readonly [ScreenPoint, ScreenPoint]) => ({
    x: (p[0].x + p[1].x) / 2,
    y: (p[0].y + p[1].y) / 2,
  });
  const from = middle(before);
  const to = middle(after);
  // Two fingers on one spot have no span to compare: the view only moves.
  const factor = span(before) > 0 && span(after) > 0 ? span(after) / span(before) : 1;
  return zoomed(panned(camera, to.x - from.x, to.y - from.y), factor, to);
}

/** The view in which a box fills the frame, centred, at most `largest` pixels per mm. */
export function fitted(box: Box, frame: Frame, largest: number = scaleLimits.max): Camera {
  const width = Math.max(1, frame.right - frame.left);
  const height = Math.max(1, frame.bottom - frame.top);
  const scale = clampScale(
    Math.min(
      largest,
      width / Math.max(box.maxX - box.minX, 1e-9),
      height / Math.max(box.maxY - box.minY, 1e-9),
    ),
  );
  return {
    scale,
    x: (frame.left + frame.right) / 2 - (scale * (box.minX + box.maxX)) / 2,
    y: (frame.top + frame.bottom) / 2 + (scale * (box.minY + box.maxY)) / 2,
  };
}

/** The smallest move that brings a box into the frame; the same camera when it is inside, centred when it is larger. */
export function revealing(camera: Camera, box: Box, frame: Frame): Camera {
  const a = toScreen(camera, point(box.minX, box.maxY));
  const b = toScreen(camera, point(box.maxX, box.minY));
  const dx = shiftInto(a.x, b.x, frame.left, frame.right);
  const dy = shiftInto(a.y, b.y, frame.top, frame.bottom);
  return dx === 0 && dy === 0 ? camera : panned(camera, dx, dy);
}

function shiftInto(low: number, high: number, from: number, to: number): number {
  if (high - low > to - from) return (from + to) / 2 - (low + high) / 2;
  if (low < from) return from - low;
  return high > to ? to - high : 0;
}

/**
 * The view a part `t` (0..1) of the way: zoom changes by equal factors, and the middle of `frame` moves so that the
 * scene neither lurches nor overshoots.
 */
export function between(from: Camera, to: Camera, t: number, frame: Frame): Camera {
  if (t >= 1) return to;
  const ratio = to.scale / from.scale;
  const scale = from.scale * ratio ** t;
  const middle = { x: (frame.left + frame.right) / 2, y: (frame.top + frame.bottom) / 2 };
  const a = toScene(from, middle);
  const b = toScene(to, middle);
  // Share of the way in the scene at which the pointwise motion is that of one zoom about a fixed point.
  const share = Math.abs(ratio - 1) < 1e-3 ? t : (1 - ratio ** -t) / (1 - ratio ** -1);
  const at = point(a.x + (b.x - a.x) * share, a.y + (b.y - a.y) * share);
  return { scale, x: middle.x - scale * at.x, y: middle.y + scale * at.y };
}
