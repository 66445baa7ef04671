/**
 * Strokes between the nodes of their own ends, as they were drawn, whatever else meets them on the way. A tab that
 * overlaps its neighbour is still three spans, though its lines are split where the neighbour touches them.
 */
import type { StrokeGraph } from '../plane';
import { turnAt } from './blocks';
import type { Ink } from './ink';
import { degree } from './tolerance';

export interface Span {
  readonly from: number;
  readonly to: number;
  /** Strokes (by index) between these two nodes. */
  readonly strokes: readonly number[];
  readonly straight: boolean;
}

/** One span for each pair of nodes that strokes connect, in the order of nodes. */
export function spansOf(graph: StrokeGraph, ink: Ink): Span[] {
  const single: Bundle[] = [];
  for (let s = 0; 2 * s < graph.ends.length; s++) {
    const a = graph.ends[2 * s]!;
    const b = graph.ends[2 * s + 1]!;
    if (a !== b) single.push({ from: Math.min(a, b), to: Math.max(a, b), strokes: [s] });
  }
  return onePerPair(single, ink);
}

interface Bundle {
  readonly from: number;
  readonly to: number;
  readonly strokes: number[];
}

/** Bundles between the same two nodes become one, their strokes in the order of the list, which is used up. */
function onePerPair(list: Bundle[], ink: Ink): Span[] {
  list.sort((a, b) => a.from - b.from || a.to - b.to);
  const spans: Span[] = [];
  for (let i = 0; i < list.length; ) {
    const { from, to, strokes } = list[i]!;
    for (i++; i < list.length && list[i]!.from === from && list[i]!.to === to; i++)
      strokes.push(...list[i]!.strokes);
    spans.push({ from, to, strokes, straight: strokes.some((s) => !ink.strokes[s]!.curved) });
  }
  return spans;
}

/** Turn below which a node inside a line drawn in parts is no corner; noise is added to it. */
const straightTurn = 1.5 * degree;

/** Spans joined over nodes where nothing else ends and the line runs straight on: lines drawn in parts made whole. */
export function wholeSpans(graph: StrokeGraph, ink: Ink): Span[] {
  const spans = spansOf(graph, ink);
  const at: number[][] = graph.nodes.map(() => []);
  spans.forEach((s, i) => {
    at[s.from]!.push(i);
    at[s.to]!.push(i);
  });
  const other = (span: Span, node: number) => (span.from === node ? span.to : span.from);
  const noise = graph.report.tolerance;
  const passes = (node: number): boolean => {
    const here = at[node]!;
    if (here.length !== 2) return false;
    const a = spans[here[0]!]!;
    const b = spans[here[1]!]!;
    if (!a.straight || !b.straight) return false;
    const p = graph.nodes[other(a, node)]!;
    const q = graph.nodes[node]!;
    const r = graph.nodes[other(b, node)]!;
    const shorter = Math.min(Math.hypot(p.x - q.x, p.y - q.y), Math.hypot(r.x - q.x, r.y - q.y));
    return Math.abs(turnAt(p, q, r)) < straightTurn + noise / shorter;
  };
  const used = new Uint8Array(spans.length);
  const whole: Bundle[] = [];
  spans.forEach((start, i) => {
    if (used[i]) return;
    used[i] = 1;
    const strokes = [...start.strokes];
    const follow = (from: number, via: number): number => {
      let node = from;
      let last = via;
      while (passes(node)) {
        const next = at[node]!.find((k) => k !== last)!;
        if (used[next]) break;
        used[next] = 1;
        strokes.push(...spans[next]!.strokes);
        last = next;
        node = other(spans[next]!, node);
      }
      return node;
    };
    const to = follow(start.to, i);
    const from = follow(start.from, i);
    if (from !== to) whole.push({ from: Math.min(from, to), to: Math.max(from, to), strokes });
  });
  return onePerPair(whole, ink);
}
