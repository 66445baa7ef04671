/** The mark on a place that was asked for: a ring that closes in, stays a moment and fades. Pure. */
import type { Box, Point } from '../../../src/math';
import { type Camera, toScreen } from '../view/camera';

export interface AskedPlace {
  readonly ids: readonly string[];
  /** Null: nothing with these ids is in the scene. */
  readonly box: Box | null;
  /** When it was asked for, ms. */
  readonly begin: number;
}

/** How long the place is marked, ms, and the part of it in which the ring closes in. */
const lasts = 2200;
const closing = 500;

export const isMarked = (place: AskedPlace, now: number): boolean => now - place.begin < lasts;

export interface Ring {
  readonly at: Point;
  /** CSS pixels. */
  readonly radius: number;
  /** Opacity, 0..1. */
  readonly strength: number;
}

/** The ring at a moment; `calm`: it just stands there. */
export function ringOf(place: AskedPlace, camera: Camera, now: number, calm: boolean): Ring | null {
  const { box, begin } = place;
  if (!box) return null;
  const at = { x: (box.minX + box.maxX) / 2, y: (box.minY + box.maxY) / 2 };
  const corner = toScreen(camera, { x: box.maxX, y: box.maxY });
  const middle = toScreen(camera, at);
  const radius = Math.max(18, Math.hypot(corner.x - middle.x, corner.y - middle.y) + 12);
  if (calm) return { at, radius, strength: 1 };
  const away = Math.max(0, 1 - (now - begin) / closing);
  return { at, radius: radius + 60 * away ** 2, strength: Math.min(1, 3 * (1 - (now - begin) / lasts)) };
}
