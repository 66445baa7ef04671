/** What a turn of the wheel, or two fingers on a touch pad, asks for. Pure. */

export interface WheelTurn {
  readonly deltaX: number;
  readonly deltaY: number;
  /** 0 pixels, 1 lines, 2 pages. */
  readonly deltaMode: number;
  readonly ctrlKey: boolean;
  readonly shiftKey: boolean;
}

export type WheelAnswer =
  | { readonly kind: 'zoom'; readonly factor: number }
  | { readonly kind: 'pan'; readonly dx: number; readonly dy: number };

/** Pixels of a line and of a page, for browsers that count in these. */
const pixelsOf = [1, 16, 400] as const;
/** Zoom by a factor of two per this many pixels of turn; a notch of a common wheel (100–120) is then about ×1.27. */
const pixelsPerDouble = 320;
/** A pinch on a touch pad comes as small turns with ctrl; it follows the fingers. */
const pinchPerDouble = 70;
/** A notch of a wheel is at least this many pixels; touch pads send finer steps. */
const wheelNotch = 50;

/**
 * Wheel: zoom. Two-finger scroll: pan, told from a wheel by fine or sideways steps. Ctrl (which browsers also set for a
 * pinch on a touch pad): zoom. Shift: pan sideways.
 */
export function wheelAnswer(turn: WheelTurn): WheelAnswer {
  const k = pixelsOf[turn.deltaMode as 0 | 1 | 2] ?? 1;
  const dx = turn.deltaX * k;
  const dy = turn.deltaY * k;
  const coarse = turn.deltaMode !== 0 || (dx === 0 && Math.abs(dy) >= wheelNotch);
  if (turn.ctrlKey) return { kind: 'zoom', factor: 2 ** (-dy / (coarse ? pixelsPerDouble : pinchPerDouble)) };
  if (turn.shiftKey && dx === 0) return { kind: 'pan', dx: -dy, dy: 0 };
  if (coarse) return { kind: 'zoom', factor: 2 ** (-dy / pixelsPerDouble) };
  // 0 − x, so that a rest of 0 stays 0 and not −0.
  return { kind: 'pan', dx: 0 - dx, dy: 0 - dy };
}
