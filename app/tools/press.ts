import type { Gesture, PointerKind, ScreenPoint } from './types';

/**
 * How far a press may wander and still be a click, CSS pixels: a hand on a mouse trembles by 1–2, a fingertip rolls by
 * about 6. Half of these makes clicks into drags; twice makes short tapes impossible.
 */
export const clickSlack: Readonly<Record<PointerKind, number>> = { mouse: 4, pen: 6, touch: 10 };

/** Whether a press that has come to `to` is a drag by now. */
export function isDrag(press: Extract<Gesture, { name: 'pressed' }>, to: ScreenPoint): boolean {
  return Math.hypot(to.x - press.screen.x, to.y - press.screen.y) > clickSlack[press.pointer];
}
