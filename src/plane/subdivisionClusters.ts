/** Points that lie together, found over a grid of cells. Order of the input has no influence but on ties. */
import { distance, type Point } from '../math';
import type { Mm } from '../units';

export interface Clusters {
  /** Middle of each cluster, sorted by x, then y. */
  readonly points: readonly Point[];
  /** Cluster of each input point. */
  readonly of: Int32Array;
}

const nothing: readonly number[] = [];
const cellOf = (v: number, reach: Mm): number => Math.floor(v / reach);
/** One number for a cell; two far cells may share it, so distances are always checked. */
const cellKey = (x: number, y: number): number => x * 67_108_859 + y;

/**
 * Groups points whose chain of neighbours is closer than `reach`. A chain that grows wider than twice the reach is
 * broken up again round its leftmost points, so that a row of close points never collapses into one.
 */
export function clusterPoints(points: readonly Point[], reach: Mm): Clusters {
  const order = [...points.keys()].sort((i, j) => points[i]!.x - points[j]!.x || points[i]!.y - points[j]!.y);
  const grid = new Map<number, number[]>();
  for (const i of order) {
    const key = cellKey(cellOf(points[i]!.x, reach), cellOf(points[i]!.y, reach));
    const list = grid.get(key);
    if (list) list.push(i);
    else grid.set(key, [i]);
  }
  const parent = Int32Array.from(points.keys());
  const rootOf = (i: number): number => {
    let r = i;
    while (parent[r] !== r) r = parent[r]!;
    while (parent[i] !== r) [i, parent[i]] = [parent[i]!, r];
    return r;
  };
  for (const i of order) {
    const p = points[i]!;
    const cx = cellOf(p.x, reach);
    const cy = cellOf(p.y, reach);
    for (let x = cx - 1; x <= cx + 1; x++)
      for (let y = cy - 1; y <= cy + 1; y++)
        for (const j of grid.get(cellKey(x, y)) ?? nothing)
          if (j !== i && distance(p, points[j]!) <= reach) parent[rootOf(j)] = rootOf(i);
  }
  const members = new Map<number, number[]>();
  for (const i of order) {
    const r = rootOf(i);
    const list = members.get(r);
    if (list) list.push(i);
    else members.set(r, [i]);
  }
  const groups: number[][] = [];
  for (const list of members.values()) groups.push(...breakUp(list, points, reach));
  const middles = groups.map((list) => middle(list.map((i) => points[i]!)));
  const rank = [...groups.keys()].sort(
    (a, b) => middles[a]!.x - middles[b]!.x || middles[a]!.y - middles[b]!.y,
  );
  const of = new Int32Array(points.length);
  rank.forEach((g, r) => {
    for (const i of groups[g]!) of[i] = r;
  });
  return { points: rank.map((g) => middles[g]!), of };
}

/** The list as it is when it is compact, else the points round each leftmost point in turn. */
function breakUp(list: readonly number[], points: readonly Point[], reach: Mm): number[][] {
  const m = middle(list.map((i) => points[i]!));
  if (list.every((i) => distance(points[i]!, m) <= reach)) return [[...list]];
  const out: number[][] = [];
  let left = [...list];
  while (left.length > 0) {
    const first = points[left[0]!]!;
    out.push(left.filter((i) => distance(points[i]!, first) <= reach));
    left = left.filter((i) => distance(points[i]!, first) > reach);
  }
  return out;
}

/** Exact when all points are equal: rounding must not move points that need no joining. */
function middle(list: readonly Point[]): Point {
  const first = list[0]!;
  let dx = 0;
  let dy = 0;
  for (const p of list) {
    dx += p.x - first.x;
    dy += p.y - first.y;
  }
  return { x: first.x + dx / list.length, y: first.y + dy / list.length };
}

/** Finds the node at a place, or adds one to the list. */
export class NodeFinder {
  private readonly grid = new Map<number, number[]>();
  private readonly nodes: Point[];
  private readonly reach: Mm;

  constructor(nodes: Point[], reach: Mm) {
    this.nodes = nodes;
    this.reach = reach;
    nodes.forEach((p, i) => {
      this.put(p, i);
    });
  }

  at(p: Point): number {
    const cx = cellOf(p.x, this.reach);
    const cy = cellOf(p.y, this.reach);
    let best = -1;
    let off = this.reach;
    for (let x = cx - 1; x <= cx + 1; x++)
      for (let y = cy - 1; y <= cy + 1; y++)
        for (const i of this.grid.get(cellKey(x, y)) ?? nothing) {
          const d = distance(p, this.nodes[i]!);
          if (d < off || (d === off && best < 0)) {
            best = i;
            off = d;
          }
        }
    if (best >= 0) return best;
    this.nodes.push(p);
    this.put(p, this.nodes.length - 1);
    return this.nodes.length - 1;
  }

  private put(p: Point, i: number): void {
    const key = cellKey(cellOf(p.x, this.reach), cellOf(p.y, this.reach));
    const list = this.grid.get(key);
    if (list) list.push(i);
    else this.grid.set(key, [i]);
  }
}
