/**
 * How the overlay looks. All weights are screen pixels. Every kind differs by weight, ring or dash as well as by
 * colour: hovered is a wide soft band, selected a heavy line in a band, the keyboard cursor a hollow ring round its
 * line, the girth a very wide band under its edges, a tape a long dash.
 */
import type { OverlayLook } from '../overlay/overlay';
import type { ThemeVariable } from './theme';

interface Pass {
  readonly colour: ThemeVariable;
  readonly width: number;
  readonly opacity: number;
  readonly dash: readonly number[];
}

export interface OverlayStyle {
  readonly fill: { readonly colour: ThemeVariable; readonly opacity: number } | null;
  /** Drawn one after another on the same lines. */
  readonly strokes: readonly Pass[];
}

const pass = (colour: ThemeVariable, width: number, opacity = 1, dash: readonly number[] = []): Pass => ({
  colour,
  width,
  opacity,
  dash,
});

export const overlayStyles: Readonly<Record<OverlayLook, OverlayStyle>> = {
  hover: { fill: null, strokes: [pass('--accent', 8, 0.28), pass('--accent', 2.2)] },
  mate: { fill: null, strokes: [pass('--accent', 8, 0.28), pass('--accent', 2.2)] },
  selected: {
    fill: { colour: '--accent', opacity: 0.14 },
    strokes: [pass('--accent', 7, 0.25), pass('--accent', 3.6)],
  },
  first: { fill: null, strokes: [pass('--accent', 10, 0.35), pass('--accent', 4)] },
  cursor: {
    fill: null,
    strokes: [pass('--ink', 13), pass('--bench', 9), pass('--ink', 2.4)],
  },
  chain: { fill: null, strokes: [pass('--accent', 11, 0.3), pass('--accent', 3)] },
  tape: { fill: null, strokes: [pass('--bench', 5, 0.85), pass('--accent', 2.6, 1, [9, 4])] },
  thread: { fill: null, strokes: [pass('--bench', 4.5, 0.85), pass('--accent', 1.6)] },
  band: { fill: { colour: '--accent', opacity: 0.1 }, strokes: [pass('--accent', 1.2, 1, [5, 3])] },
  pulse: { fill: null, strokes: [pass('--look-mark', 12, 0.45), pass('--ink', 2.4)] },
};
