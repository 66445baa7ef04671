/**
 * Flaps: three lines (two for very short edges) on the far side of a base line. They are looked for in the strokes as
 * they were drawn, before crossings are split, so that flaps that overlap each other or the paper are found as well.
 * Shape alone decides here; which of them are tabs is judged in `tabs`.
 */
import { distance, dot, type Point, ringArea, subtract, turnLeft, unitOf } from '../math';
import type { StrokeGraph } from '../plane';
import type { Mm, Rad } from '../units';
import type { Ink } from './ink';
import type { Span } from './spans';
import type { LookGroup } from './styleGroups';
import { parallelTurn, tabAngles, tabHeightMost } from './tolerance';

/** A flap that may be a tab. */
export interface Flap {
  /** Nodes of the base, then the outer corners from the end of the base back to its start. */
  readonly nodes: readonly number[];
  /** Counter-clockwise, beginning with the base. */
  readonly polygon: readonly Point[];
  /** Strokes (by index) that are the base and nothing more; none when the base is a part of a longer line. */
  readonly baseStrokes: readonly number[];
  /** Strokes of each of the flap's own lines. */
  readonly sides: readonly (readonly number[])[];
  readonly length: Mm;
  readonly height: Mm;
  /** Base angles at both ends. */
  readonly angles: readonly [Rad, Rad];
  readonly triangle: boolean;
  /** Top parallel to the base (triangles: true). */
  readonly level: boolean;
  /** Connected part of the drawing. */
  readonly part: number;
  /** Its lines are named as tabs. */
  readonly named: boolean;
  /** A corner of it is drawn as a corner of another flap too: at an inner corner of the outline tabs may touch. */
  readonly shared: boolean;
}

/** Lines that meet at a corner which two flaps share, at most. */
const mostShared = 4;

/** All flaps of the drawing by shape alone; `spans` are its lines made whole. */
export function findFlaps(
  graph: StrokeGraph,
  spans: readonly Span[],
  ink: Ink,
  groupOf: readonly LookGroup[],
): Flap[] {
  const at: number[][] = graph.nodes.map(() => []);
  spans.forEach((s, i) => {
    at[s.from]!.push(i);
    at[s.to]!.push(i);
  });
  // Lines at each node, those that end there and those that pass.
  const meeting = new Int32Array(graph.nodes.length);
  for (const l of graph.links) {
    meeting[l.from]!++;
    meeting[l.to]!++;
  }
  const part = partNumbers(graph);
  const other = (span: number, node: number) =>
    spans[span]!.from === node ? spans[span]!.to : spans[span]!.from;
  const flaps: Flap[] = [];
  const tryBase = (u: number, v: number, baseStrokes: readonly number[], base: number) => {
    if (meeting[u]! < 3 || meeting[v]! < 3) return;
    for (const first of at[u]!) {
      if (first === base || !spans[first]!.straight) continue;
      // A flap's first corner joins two lines and no more; most lines end where more meet.
      if (other(first, u) === v || at[other(first, u)]!.length !== 2) continue;
      const chain = [first];
      const nodes: number[] = [];
      let node = other(first, u);
      while (node !== v && nodes.length < 2 && at[node]!.length === 2) {
        nodes.push(node);
        const next = at[node]!.find((k) => k !== chain[chain.length - 1])!;
        if (!spans[next]!.straight) break;
        chain.push(next);
        node = other(next, node);
      }
      if (node !== v || nodes.length === 0) continue;
      add([u, v, ...nodes.reverse()], baseStrokes, chain, false);
    }
    const corners = cornersShared(u, v);
    for (let i = 0; i < corners.length; i += 2) {
      const p = corners[i]!;
      const q = corners[i + 1]!;
      const chain = [spanBetween(u, p), spanBetween(p, q), spanBetween(q, v)];
      if (chain.every((k) => k !== undefined && k !== base && spans[k]!.straight))
        add([u, v, q, p], baseStrokes, chain as number[], true);
    }
  };
  const add = (
    nodes: readonly number[],
    baseStrokes: readonly number[],
    chain: readonly number[],
    shared: boolean,
  ) => {
    const sides = chain.map((k) => spans[k]!.strokes);
    const flap = flapOf(graph, nodes, baseStrokes, sides, part, ink, groupOf);
    if (flap) flaps.push({ ...flap, shared });
  };
  const spanBetween = (a: number, b: number): number | undefined => {
    for (const k of at[a]!) if (other(k, a) === b) return k;
    return undefined;
  };
  /** Outer corners of which one or both belong to a neighbour's flap as well, one after the other in pairs. */
  const cornersShared = (u: number, v: number): number[] => {
    const out: number[] = [];
    for (const k of at[u]!) {
      const p = other(k, u);
      if (p === v || at[p]!.length > mostShared) continue;
      for (const m of at[p]!) {
        const q = other(m, p);
        const both = at[p]!.length + at[q]!.length;
        if (q === u || q === v || at[q]!.length > mostShared || both <= 4) continue;
        if (spanBetween(q, v) !== undefined) out.push(p, q);
      }
    }
    return out;
  };
  const spanned = new Set(spans.map((s) => s.from * graph.nodes.length + s.to));
  spans.forEach((s, i) => {
    if (s.straight) tryBase(s.from, s.to, s.strokes, i);
  });
  for (const l of graph.links) {
    if (spanned.has(l.from * graph.nodes.length + l.to)) continue;
    if (l.strokes.some((k) => !ink.strokes[k >> 1]!.curved)) tryBase(l.from, l.to, [], -1);
  }
  return flaps;
}

function flapOf(
  graph: StrokeGraph,
  nodes: readonly number[],
  baseStrokes: readonly number[],
  sides: readonly (readonly number[])[],
  part: Int32Array,
  ink: Ink,
  groupOf: readonly LookGroup[],
): Flap | null {
  const ring = nodes.map((n) => graph.nodes[n]!);
  const area = ringArea(ring);
  // Turned so that it runs counter-clockwise and still begins with the base.
  const order = area > 0 ? nodes : [nodes[1]!, nodes[0]!, ...nodes.slice(2).reverse()];
  const polygon = order.map((n) => graph.nodes[n]!);
  const [a, b] = [polygon[0]!, polygon[1]!];
  const length = distance(a, b);
  const along = unitOf(subtract(b, a));
  const up = turnLeft(along);
  const outer = polygon.slice(2).map((p) => ({ s: dot(subtract(p, a), along), h: dot(subtract(p, a), up) }));
  const near = outer[outer.length - 1]!;
  const far = outer[0]!;
  if (near.h <= 0 || far.h <= 0) return null;
  const angles: [Rad, Rad] = [Math.atan2(near.h, near.s), Math.atan2(far.h, length - far.s)];
  if (angles.some((w) => w < tabAngles.least || w > tabAngles.most)) return null;
  const height = Math.max(near.h, far.h);
  if (height > tabHeightMost * length) return null;
  const triangle = outer.length === 1;
  if (!triangle && far.s <= near.s) return null;
  const level = triangle || Math.abs(Math.atan2(near.h - far.h, far.s - near.s)) <= parallelTurn;
  const named = [...baseStrokes, ...sides.flat()].some(
    (stroke) => groupOf[ink.strokes[stroke]!.line]!.named?.sense === 'tab',
  );
  return {
    nodes: order,
    polygon,
    baseStrokes,
    sides,
    length,
    height,
    angles,
    triangle,
    level,
    part: part[nodes[0]!]!,
    named,
    shared: false,
  };
}

/** Two flaps that share their base have the same key. */
export const baseKey = (f: Flap): number => pairKey(f.nodes[0]!, f.nodes[1]!);

/** One number for two nodes; a drawing has far fewer nodes than 2^26. */
export const pairKey = (a: number, b: number): number => Math.min(a, b) * 2 ** 26 + Math.max(a, b);

/** Connected part of each node. */
function partNumbers(graph: StrokeGraph): Int32Array {
  const parent = Int32Array.from(graph.nodes.keys());
  const rootOf = (i: number): number => {
    let r = i;
    while (parent[r] !== r) r = parent[r]!;
    parent[i] = r;
    return r;
  };
  for (const l of graph.links) parent[rootOf(l.from)] = rootOf(l.to);
  return Int32Array.from(parent.keys(), (i) => rootOf(i));
}
