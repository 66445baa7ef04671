/** Which tabs were found, which of them come off, and what that means for nodes and links of the joined drawing. */
import type { Point } from '../math';
import { stableId } from '../model';
import type { StrokeGraph } from '../plane';
import type { Mm } from '../units';
import type { Ink } from './ink';
import type { LookGroup } from './styleGroups';
import { flapEvidence } from './tabEvidence';
import { type Flap, findFlaps, judgeFlaps } from './tabs';
import { degree } from './tolerance';

export interface PlannedTab {
  readonly id: string;
  readonly flap: Flap;
  readonly kept: boolean;
}

export interface TabPlan {
  readonly tabs: readonly PlannedTab[];
  readonly doubtful: readonly Flap[];
  readonly reason: string;
  /** Links (by nodes) of stripped flaps: they take no further part. */
  readonly isSide: (from: number, to: number) => boolean;
  /** Links that a tab, stripped or kept, is folded along. */
  readonly isBase: (from: number, to: number) => boolean;
  readonly isKeptBase: (from: number, to: number) => boolean;
  /** Nodes where a stripped tab that is shorter than its edge stood on it: no corners. */
  readonly isFoot: (node: number) => boolean;
}

export const noTabs: TabPlan = {
  tabs: [],
  doubtful: [],
  reason: '',
  isSide: () => false,
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
  const flaps = findFlaps(graph, ink, groupOf);
  if (flaps.length === 0) return noTabs;
  const noise = graph.report.tolerance;
  const found = judgeFlaps(flaps, noise, flapEvidence(flaps, graph, ink, groupOf));
  const taken = new Set<string>();
  const tabs = [...found.tabs]
    .sort((a, b) => a.polygon[0]!.x - b.polygon[0]!.x || a.polygon[0]!.y - b.polygon[0]!.y || a.base - b.base)
    .map((flap): PlannedTab => {
      const id = stableId('t', ink.home(middle(flap.polygon)), reach, taken);
      return { id, flap, kept: kept.has(id) };
    });
  const key = (from: number, to: number) => Math.min(from, to) * graph.nodes.length + Math.max(from, to);
  const linkKey = (i: number) => key(graph.links[i]!.from, graph.links[i]!.to);
  // Nodes that later splitting adds have higher numbers; their keys may repeat those of others.
  const known = (from: number, to: number) => from < graph.nodes.length && to < graph.nodes.length;
  const sides = new Set(tabs.filter((t) => !t.kept).flatMap((t) => t.flap.sides.map(linkKey)));
  const bases = new Set(tabs.map((t) => linkKey(t.flap.base)));
  const keptBases = new Set(tabs.filter((t) => t.kept).map((t) => linkKey(t.flap.base)));
  const feet = insetFeet(graph, tabs, sides, linkKey);
  return {
    tabs,
    doubtful: found.doubtful,
    reason: found.reason,
    isSide: (from, to) => known(from, to) && sides.has(key(from, to)),
    isBase: (from, to) => known(from, to) && bases.has(key(from, to)),
    isKeptBase: (from, to) => known(from, to) && keptBases.has(key(from, to)),
    isFoot: (node) => feet.has(node),
  };
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
  linkKey: (i: number) => number,
): Set<number> {
  const feet = new Set<number>();
  const at: number[][] = graph.nodes.map(() => []);
  graph.links.forEach((l, i) => {
    at[l.from]!.push(i);
    at[l.to]!.push(i);
  });
  const stub = (node: number, base: number, along: Point): Mm | null => {
    const others = at[node]!.filter((i) => i !== base && !sides.has(linkKey(i)));
    if (others.length !== 1) return null;
    const l = graph.links[others[0]!]!;
    const far = graph.nodes[l.from === node ? l.to : l.from]!;
    const p = graph.nodes[node]!;
    const dx = far.x - p.x;
    const dy = far.y - p.y;
    const turn = Math.atan2(along.x * dy - along.y * dx, along.x * dx + along.y * dy);
    return Math.abs(turn) < degree + graph.report.tolerance / Math.hypot(dx, dy) ? Math.hypot(dx, dy) : null;
  };
  for (const t of tabs) {
    if (t.kept) continue;
    const [a, b] = [t.flap.nodes[0]!, t.flap.nodes[1]!];
    const p = graph.nodes[a]!;
    const q = graph.nodes[b]!;
    const along = { x: q.x - p.x, y: q.y - p.y };
    const before = stub(a, t.flap.base, { x: -along.x, y: -along.y });
    const after = stub(b, t.flap.base, along);
    if (before === null || after === null) continue;
    const longer = Math.max(before, after);
    if (longer > 0.4 * t.flap.length || Math.abs(before - after) > 0.1 * longer + 2 * graph.report.tolerance)
      continue;
    feet.add(a);
    feet.add(b);
  }
  return feet;
}
