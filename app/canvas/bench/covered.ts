/** The part of the bench that is free for content. */
import { rulerSize } from '../paint/annotations';
import type { Frame } from '../view/camera';

/** CSS pixels of the bench that something else covers; content is fitted into the rest. */
export interface Covered {
  readonly left: number;
  readonly top: number;
  readonly right: number;
  readonly bottom: number;
}

export const nothingCovered: Covered = { left: 0, top: 0, right: 0, bottom: 0 };

/** Room between content that is fitted and the edge of the free part, CSS pixels. */
const fitRoom = 24;
/** More room at the lower edge, where the scale bar stands. */
const barRoom = 14;

/** The frame that content is fitted into; at least one pixel wide and high, however much is covered. */
export function openFrame(
  size: { readonly width: number; readonly height: number },
  covered: Covered,
): Frame {
  const left = rulerSize + fitRoom + covered.left;
  const top = rulerSize + fitRoom + covered.top;
  return {
    left,
    top,
    right: Math.max(left + 1, size.width - fitRoom - covered.right),
    bottom: Math.max(top + 1, size.height - fitRoom - barRoom - covered.bottom),
  };
}
