/** The bench lends its view commands to the registry while it is on screen. */
import type { Point } from '../../src/math';
import { always, type Command, command, effect, withDocument } from './command';

export interface BenchHandlers {
  zoomIn(): void;
  zoomOut(): void;
  /** Everything in view. */
  fit(): void;
  /** These points (drawing mm) in view. */
  zoomTo(points: readonly Point[]): void;
}

let bench: BenchHandlers | null = null;

/** Called by the bench when it appears; the function it returns takes the handlers back. */
export function registerBench(handlers: BenchHandlers): () => void {
  bench = handlers;
  return () => {
    if (bench === handlers) bench = null;
  };
}

export const benchHandlers = (): BenchHandlers | null => bench;

const view = (id: string, label: string, keys: readonly string[], act: (b: BenchHandlers) => void): Command =>
  command({
    id,
    label: () => label,
    keys,
    enabled: withDocument,
    run: () => effect(() => bench && act(bench)),
  });

export const zoomIn = view('zoomIn', 'Zoom in', ['+', '='], (b) => b.zoomIn());
export const zoomOut = view('zoomOut', 'Zoom out', ['-'], (b) => b.zoomOut());
export const zoomFit = view('zoomFit', 'Show everything', ['0'], (b) => b.fit());
export const zoomTo = command<{ readonly points: readonly Point[] }>({
  id: 'zoomTo',
  label: () => 'Show this place',
  enabled: always,
  run: (_s, { points }) => effect(() => bench?.zoomTo(points)),
});
