/**
 * Numbers printed at edges, bound to the edges they belong to.
 *
 * Every short code is compared with the edges near it: its distance from the edge, its place along the edge, and its
 * direction. How numbers stand in this file (inside or outside, how far off, along the edge or level) is measured on
 * the clear cases first; then all are bound in one cheapest pairing. A number printed on a tab belongs to its base.
 */
import Flatbush from 'flatbush';
import { boxOf, distance, type Point, pointAlong, polylineLength } from '../math';
import type { DrawingText, EdgeLabel } from '../model';
import type { Mm } from '../units';
import { cheapestPairing, type PairOption } from './assignment';
import { isEdgeCode } from './captions';

/** An edge that can carry a number. */
export interface NumberedEdge {
  readonly id: string;
  readonly points: readonly Point[];
}

/** The area of a stripped or kept tab and the edge behind it. */
export interface TabArea {
  readonly polygon: readonly Point[];
  readonly edge: string;
}

export interface Numbers {
  readonly labels: readonly EdgeLabel[];
  /** Codes that no edge answers (indices of texts); a piece may take one as its name. */
  readonly unbound: readonly number[];
}

interface Candidate {
  readonly text: number;
  readonly edge: number;
  /** Distance of the text's middle from the edge, + inside (left of the edge). */
  readonly off: Mm;
  /** Distance from the middle of the edge, as a part of its length: 0 middle, 0.5 end, more beyond. */
  readonly along: number;
  /** Turn between text and edge, modulo half turns, 0..π/2. */
  readonly turn: number;
  readonly size: Mm;
}

/** What the numbers of this file have in common. */
interface Habit {
  /** Usual distance from the edge in text sizes, + inside; null: not known yet. */
  readonly off: number | null;
  readonly parallel: boolean;
  readonly size: Mm;
}

/** Numbers further from their edge than this many text sizes are not edge numbers. */
const farthest = 3;

/** Binds codes to edges. `skip` holds texts with another meaning. */
export function bindNumbers(
  texts: readonly DrawingText[],
  edges: readonly NumberedEdge[],
  tabs: readonly TabArea[],
  skip: ReadonlySet<number>,
): Numbers {
  const codes = texts.flatMap((t, i) => (!skip.has(i) && isEdgeCode(t.text) && t.size > 0 ? [i] : []));
  if (codes.length === 0 || edges.length === 0) return { labels: [], unbound: codes };
  const size = usualSize(codes.map((i) => texts[i]!));
  const pairs: { text: number; edge: number; off: Mm; along: number }[] = [];
  const edgeIndex = new Map(edges.map((e, i) => [e.id, i]));
  const takenEdges = new Set<number>();
  const free = codes.filter((i) => {
    const edge = tabUnder(texts[i]!, tabs);
    const index = edge === null ? undefined : edgeIndex.get(edge);
    if (index === undefined || takenEdges.has(index)) return true;
    takenEdges.add(index);
    pairs.push({ text: i, edge: index, off: 0, along: 0 });
    return false;
  });
  const candidates = candidatesOf(texts, free, edges, takenEdges);
  let habit: Habit = { off: null, parallel: true, size };
  habit = learn(candidates, size);
  const found = pairUp(candidates, free, edges.length, habit);
  found.forEach((c) => {
    pairs.push(c);
  });
  const bound = new Set(pairs.map((p) => p.text));
  const labels = pairs
    .sort((a, b) => a.edge - b.edge || a.text - b.text)
    .map((p): EdgeLabel => {
      const t = texts[p.text]!;
      return {
        edge: edges[p.edge]!.id,
        text: t.text.trim(),
        at: t.centre,
        size: t.size,
        angle: t.angle,
        source: t.id,
      };
    });
  return { labels, unbound: codes.filter((i) => !bound.has(i)) };
}

/** The size that most codes have. */
function usualSize(texts: readonly DrawingText[]): Mm {
  const sizes = texts.map((t) => t.size).sort((a, b) => a - b);
  let best = sizes[0]!;
  let most = 0;
  for (let i = 0, end = 0; i < sizes.length; i++) {
    while (end < sizes.length && sizes[end]! <= sizes[i]! * 1.1) end++;
    if (end - i > most) {
      most = end - i;
      best = sizes[(i + end - 1) >> 1]!;
    }
  }
  return best;
}

function tabUnder(t: DrawingText, tabs: readonly TabArea[]): string | null {
  for (const tab of tabs) {
    const box = boxOf(tab.polygon);
    const p = t.centre;
    if (p.x < box.minX || p.x > box.maxX || p.y < box.minY || p.y > box.maxY) continue;
    if (insideRing(p, tab.polygon)) return tab.edge;
  }
  return null;
}

export function insideRing(p: Point, ring: readonly Point[]): boolean {
  let inside = false;
  ring.forEach((a, i) => {
    const b = ring[(i + 1) % ring.length]!;
    if (a.y > p.y !== b.y > p.y && p.x < a.x + ((p.y - a.y) * (b.x - a.x)) / (b.y - a.y)) inside = !inside;
  });
  return inside;
}

function candidatesOf(
  texts: readonly DrawingText[],
  codes: readonly number[],
  edges: readonly NumberedEdge[],
  taken: ReadonlySet<number>,
): Candidate[] {
  const index = new Flatbush(edges.length);
  for (const e of edges) {
    const b = boxOf(e.points);
    index.add(b.minX, b.minY, b.maxX, b.maxY);
  }
  index.finish();
  const out: Candidate[] = [];
  for (const i of codes) {
    const t = texts[i]!;
    const reach = farthest * t.size;
    const p = t.centre;
    for (const k of index.search(p.x - reach, p.y - reach, p.x + reach, p.y + reach)) {
      if (taken.has(k)) continue;
      const c = measure(t, i, edges[k]!, k);
      if (Math.abs(c.off) <= reach && c.along <= 0.75) out.push(c);
    }
  }
  return out.sort((a, b) => a.text - b.text || a.edge - b.edge);
}

/** How a text stands to an edge. */
function measure(t: DrawingText, text: number, e: NumberedEdge, edge: number): Candidate {
  const p = t.centre;
  const length = polylineLength(e.points);
  let best = Number.POSITIVE_INFINITY;
  let off = 0;
  let s = 0;
  let angle = 0;
  let walked = 0;
  for (let i = 1; i < e.points.length; i++) {
    const a = e.points[i - 1]!;
    const b = e.points[i]!;
    const d = distance(a, b);
    const t0 = ((p.x - a.x) * (b.x - a.x) + (p.y - a.y) * (b.y - a.y)) / (d * d);
    const u = Math.max(0, Math.min(1, t0));
    const away = Math.hypot(p.x - a.x - (b.x - a.x) * u, p.y - a.y - (b.y - a.y) * u);
    if (away < best) {
      best = away;
      const side = (b.x - a.x) * (p.y - a.y) - (b.y - a.y) * (p.x - a.x);
      // Across the edge's line; beyond an end the way along counts apart.
      off = e.points.length === 2 ? side / d : Math.sign(side) * away;
      s = walked + (e.points.length === 2 ? t0 : u) * d;
      angle = Math.atan2(b.y - a.y, b.x - a.x);
    }
    walked += d;
  }
  return {
    text,
    edge,
    off,
    along: Math.abs(s / length - 0.5),
    turn: turnBetween(t.angle, angle),
    size: t.size,
  };
}

/** Turn between two directions modulo half turns. */
function turnBetween(a: number, b: number): number {
  const d = Math.abs(a - b) % Math.PI;
  return Math.min(d, Math.PI - d);
}

/** Reads the habit off texts that stand at the middle of one edge and no other. */
function learn(candidates: readonly Candidate[], size: Mm): Habit {
  const clear = clearCases(candidates);
  if (clear.length < 3) return { off: null, parallel: true, size };
  const parallel = clear.filter((c) => c.turn < 0.1).length >= 0.6 * clear.length;
  const offs = clear
    .filter((c) => !parallel || c.turn < 0.1)
    .map((c) => c.off / c.size)
    .sort((a, b) => a - b);
  // Two humps (numbers on both sides) leave the side open.
  const inside = offs.filter((o) => o > 0).length;
  if (Math.max(inside, offs.length - inside) < 0.8 * offs.length) return { off: null, parallel, size };
  const side = inside * 2 > offs.length ? offs.filter((o) => o > 0) : offs.filter((o) => o <= 0);
  return { off: side[side.length >> 1]!, parallel, size };
}

/** For each text its best edge by distance and place, where no other edge comes near. */
function clearCases(candidates: readonly Candidate[]): Candidate[] {
  const score = (c: Candidate) => Math.abs(c.off) / c.size + 3 * c.along + c.turn;
  const byText = new Map<number, Candidate[]>();
  for (const c of candidates) byText.set(c.text, [...(byText.get(c.text) ?? []), c]);
  return [...byText.values()].flatMap((list) => {
    const sorted = [...list].sort((a, b) => score(a) - score(b));
    const [first, second] = sorted;
    if (!first || first.along > 0.2) return [];
    return !second || score(second) > score(first) + 0.5 ? [first] : [];
  });
}

/** Price of leaving a text unbound. */
const alone = 3.2;

function pairUp(
  candidates: readonly Candidate[],
  codes: readonly number[],
  edgeCount: number,
  habit: Habit,
): Candidate[] {
  const leftOf = new Map(codes.map((t, i) => [t, i]));
  const byPair = new Map<string, Candidate>();
  const options = candidates.map((c): PairOption => {
    const left = leftOf.get(c.text)!;
    byPair.set(`${left},${c.edge}`, c);
    return { left, right: c.edge, cost: costOf(c, habit) };
  });
  const mates = cheapestPairing(codes.length, edgeCount, options, alone);
  return codes.flatMap((_, left) => {
    const edge = mates[left]!;
    return edge < 0 ? [] : [byPair.get(`${left},${edge}`)!];
  });
}

function costOf(c: Candidate, habit: Habit): number {
  const off = c.off / c.size;
  const away = habit.off === null ? Math.max(0, Math.abs(off) - 0.4) : 1.2 * Math.abs(off - habit.off);
  const along = 3 * Math.max(0, c.along - 0.02) + (c.along > 0.5 ? 2 : 0);
  const turn = habit.parallel ? 1.6 * Math.min(c.turn, 1) : 0;
  const odd = Math.abs(Math.log(c.size / habit.size));
  return away + along + turn + (odd > 0.25 ? 2.5 * odd : 0);
}

/** A point half-way along. */
export function halfWay(points: readonly Point[]): Point {
  return pointAlong(points, polylineLength(points) / 2).at;
}
