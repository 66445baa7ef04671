/** Points that lie together, found over a grid of cells. Order of the input has no influence but on ties. */
import { distance, type Point } from '../math';
import type { Mm } from '../units';
import { mixed, placesOf, tableSize } from './subdivisionPlaces';

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
 * `places` are the points grouped by equal coordinates.
 */
export function clusterPoints(points: readonly Point[], reach: Mm, places = placesOf(points)): Clusters {
  const { first, after } = places;
  const order = Int32Array.from(first.keys()).sort((i, j) => {
    const p = points[first[i]!]!;
    const q = points[first[j]!]!;
    return p.x - q.x || p.y - q.y;
  });
  const root = neighbours(points, first, reach);
  // Places that stand alone are clusters as they are; the others are gathered, and broken up where they spread.
  const members = new Map<number, number[]>();
  const alone = new Uint8Array(first.length).fill(1);
  for (let k = 0; k < first.length; k++)
    if (root[k] !== k) {
      alone[k] = 0;
      alone[root[k]!] = 0;
    }
  const groups: { readonly at: Point; readonly place: number; readonly list: readonly number[] | null }[] =
    [];
  for (const k of order) {
    const p = points[first[k]!]!;
    if (alone[k]) {
      groups.push({ at: { x: p.x + 0, y: p.y + 0 }, place: k, list: null });
      continue;
    }
    let list = members.get(root[k]!);
    if (!list) {
      list = [];
      members.set(root[k]!, list);
    }
    for (let i = first[k]!; i >= 0; i = after[i]!) list.push(i);
  }
  for (const list of members.values())
    for (const part of breakUp(list, points, reach))
      groups.push({ at: middle(part.map((i) => points[i]!)), place: -1, list: part });
  if (members.size > 0) groups.sort((a, b) => a.at.x - b.at.x || a.at.y - b.at.y);
  const of = new Int32Array(points.length);
  for (let r = 0; r < groups.length; r++) {
    const g = groups[r]!;
    if (g.list) for (const i of g.list) of[i] = r;
    else for (let i = first[g.place]!; i >= 0; i = after[i]!) of[i] = r;
  }
  return { points: groups.map((g) => g.at), of };
}

/** For each place one place of its chain of neighbours, the same for all of them; itself when it has none. */
function neighbours(points: readonly Point[], first: Int32Array, reach: Mm): Int32Array {
  const root = Int32Array.from(first.keys());
  const rootOf = (i: number): number => {
    let r = i;
    while (root[r] !== r) r = root[r]!;
    root[i] = r;
    return r;
  };
  const head = new Int32Array(tableSize(first.length)).fill(-1);
  const mask = head.length - 1;
  const before = new Int32Array(first.length);
  for (let k = 0; k < first.length; k++) {
    const p = points[first[k]!]!;
    const cx = cellOf(p.x, reach);
    const cy = cellOf(p.y, reach);
    for (let x = cx - 1; x <= cx + 1; x++)
      for (let y = cy - 1; y <= cy + 1; y++)
        for (let j = head[mixed(x, y) & mask]!; j >= 0; j = before[j]!) {
          const q = points[first[j]!]!;
          // Most of what shares an entry of the table lies far away.
          if (Math.abs(p.x - q.x) <= reach && distance(p, q) <= reach) root[rootOf(j)] = rootOf(k);
        }
    const slot = mixed(cx, cy) & mask;
    before[k] = head[slot]!;
    head[slot] = k;
  }
  for (let k = 0; k < first.length; k++) root[k] = rootOf(k);
  return root;
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
