/** Which tabs were found, which of them come off, and what that means for nodes and links of the joined drawing. */
import type { Point } from '../math';
import { stableId } from '../model';
import type { StrokeGraph } from '../plane';
import type { Mm } from '../units';
import { type Flap, findFlaps } from './flaps';
import type { Ink } from './ink';
import { wholeSpans } from './spans';
import type { LookGroup } from './styleGroups';
import { flapEvidence } from './tabEvidence';
import { judgeFlaps } from './tabs';
import { degree } from './tolerance';

export interface PlannedTab {
  readonly id: string;
  readonly flap: Flap;
  readonly kept: boolean;
}

export type IsBase = (strokes: readonly number[], from: number, to: number) => boolean;

export interface TabPlan {
  readonly tabs: readonly PlannedTab[];
  readonly doubtful: readonly Flap[];
  readonly reason: string;
  /** Strokes of stripped flaps: they take no further part. */
  readonly sides: ReadonlySet<number>;
  /** Links (by strokes and nodes) that a tab, stripped or kept, is folded along. */
  readonly isBase: IsBase;
  readonly isKeptBase: IsBase;
  /** Nodes where a stripped tab that is shorter than its edge stood on it: no corners. */
  readonly isFoot: (node: number) => boolean;
}

export const noTabs: TabPlan = {
  tabs: [],
  doubtful: [],
  reason: '',
  sides: new Set(),
  isBase: () => false,
  isKeptBase: () => false,
  isFoot: () => false,
};

/** Finds the tabs. `kept` holds ids of tabs that stay; `reach` is the longer side of the drawing. */
export function findTabs(
  graph: StrokeGraph,
  ink: Ink,
  groupOf: readonly LookGroup[],
  kept: ReadonlySet<string>,
  reach: Mm,
): TabPlan {
  const spans = wholeSpans(graph, ink);
  const flaps = findFlaps(graph, spans, ink, groupOf);
  if (flaps.length === 0) return noTabs;
  const noise = graph.report.tolerance;
  const found = judgeFlaps(flaps, noise, flapEvidence(flaps, graph, spans, ink, groupOf));
  const taken = new Set<string>();
  const tabs = [...found.tabs]
    .sort(
      (a, b) =>
        a.polygon[0]!.x - b.polygon[0]!.x || a.polygon[0]!.y - b.polygon[0]!.y || a.nodes[0]! - b.nodes[0]!,
    )
    .map((flap): PlannedTab => {
      const id = stableId('t', ink.home(middle(flap.polygon)), reach, taken);
      return { id, flap, kept: kept.has(id) };
    });
  const sides = new Set(tabs.filter((t) => !t.kept).flatMap((t) => t.flap.sides.flat()));
  return {
    tabs,
    doubtful: found.doubtful,
    reason: found.reason,
    sides,
    isBase: basesOf(tabs, graph.nodes.length),
    isKeptBase: basesOf(
      tabs.filter((t) => t.kept),
      graph.nodes.length,
    ),
    isFoot: insetFeet(graph, tabs, sides),
  };
}

function basesOf(tabs: readonly PlannedTab[], nodeCount: number): IsBase {
  if (tabs.length === 0) return () => false;
  const strokes = new Set(tabs.flatMap((t) => t.flap.baseStrokes));
  const key = (from: number, to: number) => Math.min(from, to) * nodeCount + Math.max(from, to);
  const pairs = new Set(tabs.map((t) => key(t.flap.nodes[0]!, t.flap.nodes[1]!)));
  // Nodes that later splitting adds have higher numbers; their keys may repeat those of others.
  const known = (from: number, to: number) => from < nodeCount && to < nodeCount;
  return (along, from, to) =>
    along.some((k) => strokes.has(k >> 1)) || (known(from, to) && pairs.has(key(from, to)));
}

function middle(ring: readonly Point[]): Point {
  let x = 0;
  let y = 0;
  for (const p of ring) {
    x += p.x / ring.length;
    y += p.y / ring.length;
  }
  return { x, y };
}

/**
 * A tab that is drawn shorter than its edge leaves two stubs beside its base, alike in length and in line with it.
 * The feet of such a tab are no corners of the edge.
 */
function insetFeet(
  graph: StrokeGraph,
  tabs: readonly PlannedTab[],
  sides: ReadonlySet<number>,
): (node: number) => boolean {
  const feet = new Set<number>();
  const at: number[][] = graph.nodes.map(() => []);
  graph.links.forEach((l, i) => {
    if (l.strokes.every((k) => sides.has(k >> 1))) return;
    at[l.from]!.push(i);
    at[l.to]!.push(i);
  });
  // The one other line at a foot, when it runs on in the direction `along`.
  const stub = (node: number, along: Point): Mm | null => {
    const p = graph.nodes[node]!;
    const onward = at[node]!.flatMap((i) => {
      const l = graph.links[i]!;
      const far = graph.nodes[l.from === node ? l.to : l.from]!;
      const dx = far.x - p.x;
      const dy = far.y - p.y;
      return along.x * dx + along.y * dy > 0 ? [{ dx, dy }] : [];
    });
    const only = onward[0];
    if (onward.length !== 1 || at[node]!.length !== 2 || !only) return null;
    const length = Math.hypot(only.dx, only.dy);
    const turn = Math.atan2(along.x * only.dy - along.y * only.dx, along.x * only.dx + along.y * only.dy);
    return Math.abs(turn) < degree + graph.report.tolerance / length ? length : null;
  };
  for (const t of tabs) {
    if (t.kept) continue;
    const [a, b] = [t.flap.nodes[0]!, t.flap.nodes[1]!];
    const p = graph.nodes[a]!;
    const q = graph.nodes[b]!;
    const along = { x: q.x - p.x, y: q.y - p.y };
    const before = stub(a, { x: -along.x, y: -along.y });
    const after = stub(b, along);
    if (before === null || after === null) continue;
    const longer = Math.max(before, after);
    if (longer > 0.4 * t.flap.length || Math.abs(before - after) > 0.1 * longer + 2 * graph.report.tolerance)
      continue;
    feet.add(a);
    feet.add(b);
  }
  return (node) => feet.has(node);
}
