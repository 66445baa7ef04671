/**
 * Strokes between the nodes of their own ends, as they were drawn, whatever else meets them on the way. A tab that
 * overlaps its neighbour is still three spans, though its lines are split where the neighbour touches them.
 */
import type { StrokeGraph } from '../plane';
import type { Ink } from './ink';

export interface Span {
  readonly from: number;
  readonly to: number;
  /** Strokes (by index) between these two nodes. */
  readonly strokes: readonly number[];
  readonly straight: boolean;
}

/** One span for each pair of nodes that strokes connect, in the order of nodes. */
export function spansOf(graph: StrokeGraph, ink: Ink): Span[] {
  const byPair = new Map<number, { from: number; to: number; strokes: number[] }>();
  for (let s = 0; 2 * s < graph.ends.length; s++) {
    const a = graph.ends[2 * s]!;
    const b = graph.ends[2 * s + 1]!;
    if (a === b) continue;
    const from = Math.min(a, b);
    const to = Math.max(a, b);
    const key = from * graph.nodes.length + to;
    const seen = byPair.get(key);
    if (seen) seen.strokes.push(s);
    else byPair.set(key, { from, to, strokes: [s] });
  }
  return [...byPair.values()]
    .sort((a, b) => a.from - b.from || a.to - b.to)
    .map((span) => ({ ...span, straight: span.strokes.some((s) => !ink.strokes[s]!.curved) }));
}
