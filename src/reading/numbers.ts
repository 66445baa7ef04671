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
  /** Its text occurs elsewhere too. */
  readonly paired: boolean;
  /** The text stands on the tab of this edge. */
  readonly onTab: boolean;
}

/** What the numbers of this file have in common. */
interface Habit {
  /** Usual distance from the edge in text sizes, + inside; null: not known yet. */
  readonly off: number | null;
  readonly parallel: boolean;
  readonly size: Mm;
  /** Numbers occur twice in this file. */
  readonly pairs: boolean;
}

/** Price of binding a code that occurs once where others occur twice: it may be a name. */
const lonely = 1.2;

/** Numbers further from their edge than this many text sizes are not edge numbers. */
const farthest = 3;

/**
 * Binds codes to edges. `skip` holds texts with another meaning; `pieceAt` tells the piece under a point, −1 for none.
 */
export function bindNumbers(
  texts: readonly DrawingText[],
  edges: readonly NumberedEdge[],
  tabs: readonly TabArea[],
  skip: ReadonlySet<number>,
  pieceAt: (p: Point) => number,
): Numbers {
  const all = texts.flatMap((t, i) => (!skip.has(i) && isEdgeCode(t.text) && t.size > 0 ? [i] : []));
  const { codes, paired } = edgeCodes(texts, all, pieceAt);
  if (codes.length === 0 || edges.length === 0) return { labels: [], unbound: codes };
  const candidates = candidatesOf(texts, codes, edges, tabs, paired);
  const telling = candidates.filter((c) => c.paired && !c.onTab);
  const size = usualSize((paired.size > 0 ? [...paired] : codes).map((i) => texts[i]!));
  const habit = learn(telling.length > 0 ? telling : candidates, size);
  const pairs = pairUp(candidates, codes, edges.length, habit);
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

/** Texts of one kind differ in size by less than this part. */
const sameSize = 0.15;

/**
 * The codes that may stand at edges. A number is printed on both sides of its seam, so it occurs twice; a code that
 * occurs once is a number only when it looks like those that occur twice. Where no code occurs twice, they are names
 * when no piece carries more than one.
 */
function edgeCodes(texts: readonly DrawingText[], all: readonly number[], pieceAt: (p: Point) => number) {
  const times = new Map<string, number>();
  for (const i of all) times.set(texts[i]!.text.trim(), (times.get(texts[i]!.text.trim()) ?? 0) + 1);
  const paired = new Set(all.filter((i) => times.get(texts[i]!.text.trim())! > 1));
  if (paired.size === 0) {
    const perPiece = new Map<number, number>();
    for (const i of all) {
      const piece = pieceAt(texts[i]!.centre);
      if (piece >= 0) perPiece.set(piece, (perPiece.get(piece) ?? 0) + 1);
    }
    return { codes: Math.max(0, ...perPiece.values()) > 1 ? all : [], paired };
  }
  const looks = new Map<string, Set<Mm>>();
  for (const i of paired) {
    const sizes = looks.get(lookOf(texts[i]!));
    if (sizes) sizes.add(texts[i]!.size);
    else looks.set(lookOf(texts[i]!), new Set([texts[i]!.size]));
  }
  const codes = all.filter((i) => {
    if (paired.has(i)) return true;
    const t = texts[i]!;
    return [...(looks.get(lookOf(t)) ?? [])].some((size) => Math.abs(size - t.size) <= sameSize * size);
  });
  return { codes, paired };
}

const lookOf = (t: DrawingText): string => `${t.className}|${t.fill}`;

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

/** Finds the edge behind the tab that a text is printed on. */
function tabFinder(tabs: readonly TabArea[]): (t: DrawingText) => string | null {
  if (tabs.length === 0) return () => null;
  const index = new Flatbush(tabs.length);
  for (const tab of tabs) {
    const b = boxOf(tab.polygon);
    index.add(b.minX, b.minY, b.maxX, b.maxY);
  }
  index.finish();
  return (t) => {
    const p = t.centre;
    const hits = index.search(p.x, p.y, p.x, p.y).sort((a, b) => a - b);
    const hit = hits.find((i) => insideRing(p, tabs[i]!.polygon));
    return hit === undefined ? null : tabs[hit]!.edge;
  };
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
  tabs: readonly TabArea[],
  paired: ReadonlySet<number>,
): Candidate[] {
  const index = new Flatbush(edges.length);
  for (const e of edges) {
    const b = boxOf(e.points);
    index.add(b.minX, b.minY, b.maxX, b.maxY);
  }
  index.finish();
  const edgeIndex = new Map(edges.map((e, i) => [e.id, i]));
  const tabUnder = tabFinder(tabs);
  const out: Candidate[] = [];
  for (const i of codes) {
    const t = texts[i]!;
    const reach = farthest * t.size;
    const p = t.centre;
    const behind = tabUnder(t);
    const tabEdge = behind === null ? -1 : (edgeIndex.get(behind) ?? -1);
    if (tabEdge >= 0) out.push({ ...measure(t, i, edges[tabEdge]!, tabEdge, paired.has(i)), onTab: true });
    for (const k of index.search(p.x - reach, p.y - reach, p.x + reach, p.y + reach)) {
      if (k === tabEdge) continue;
      const c = measure(t, i, edges[k]!, k, paired.has(i));
      if (Math.abs(c.off) <= reach && c.along <= 0.75) out.push(c);
    }
  }
  return out.sort((a, b) => a.text - b.text || a.edge - b.edge);
}

/** How a text stands to an edge. */
function measure(t: DrawingText, text: number, e: NumberedEdge, edge: number, paired: boolean): Candidate {
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
    paired,
    onTab: false,
  };
}

/** Turn between two directions modulo half turns. */
function turnBetween(a: number, b: number): number {
  const d = Math.abs(a - b) % Math.PI;
  return Math.min(d, Math.PI - d);
}

/** Reads the habit off texts that stand at the middle of one edge and no other. */
function learn(candidates: readonly Candidate[], size: Mm): Habit {
  const pairs = candidates.some((c) => c.paired);
  const near = clearCases(candidates, false);
  if (near.length < 3) return { off: null, parallel: true, size, pairs };
  const parallel = near.filter((c) => c.turn < 0.1).length >= 0.6 * near.length;
  const clear = parallel ? clearCases(candidates, true) : near;
  const offs = clear
    .filter((c) => !parallel || c.turn < 0.1)
    .map((c) => c.off / c.size)
    .sort((a, b) => a - b);
  // Two humps (numbers on both sides) leave the side open.
  const inside = offs.filter((o) => o > 0).length;
  if (Math.max(inside, offs.length - inside) < 0.8 * offs.length) return { off: null, parallel, size, pairs };
  const side = inside * 2 > offs.length ? offs.filter((o) => o > 0) : offs.filter((o) => o <= 0);
  return { off: side[side.length >> 1]!, parallel, size, pairs };
}

/** For each text its best edge by distance and place, where no other edge comes near. */
function clearCases(candidates: readonly Candidate[], parallel: boolean): Candidate[] {
  const score = (c: Candidate) => Math.abs(c.off) / c.size + 3 * c.along + (parallel ? c.turn : 0);
  const out: Candidate[] = [];
  // Candidates of one text stand together; its best and the score of its second best are enough.
  for (let i = 0; i < candidates.length; ) {
    const { text } = candidates[i]!;
    let first = candidates[i]!;
    let least = score(first);
    let second = Number.POSITIVE_INFINITY;
    for (i++; i < candidates.length && candidates[i]!.text === text; i++) {
      const own = score(candidates[i]!);
      if (own < least) {
        second = least;
        first = candidates[i]!;
        least = own;
      } else if (own < second) second = own;
    }
    if (first.along <= 0.2 && second > least + 0.5) out.push(first);
  }
  return out;
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
  const firstOf = new Map<number, number>();
  const options = candidates.map((c, i): PairOption => {
    if (!firstOf.has(c.text)) firstOf.set(c.text, i);
    return { left: leftOf.get(c.text)!, right: c.edge, cost: costOf(c, habit) };
  });
  const mates = cheapestPairing(codes.length, edgeCount, options, alone);
  return codes.flatMap((text, left) => {
    const edge = mates[left]!;
    if (edge < 0) return [];
    let i = firstOf.get(text)!;
    while (candidates[i]!.edge !== edge) i++;
    return [candidates[i]!];
  });
}

/** A number on a tab belongs to its edge, unless it stands exactly as another edge's number would. */
const onTabCost = 0.5;

function costOf(c: Candidate, habit: Habit): number {
  const off = c.off / c.size;
  const away = habit.off === null ? Math.max(0, Math.abs(off) - 0.4) : 1.2 * Math.abs(off - habit.off);
  const along = 3 * Math.max(0, c.along - 0.02) + (c.along > 0.5 ? 2 : 0);
  const turn = habit.parallel ? 1.6 * Math.min(c.turn, 1) : 0;
  const odd = Math.abs(Math.log(c.size / habit.size));
  if (c.onTab) return Math.min(onTabCost, away + along + turn);
  return away + along + turn + (odd > 0.25 ? 2.5 * odd : 0) + (c.paired || !habit.pairs ? 0 : lonely);
}

/** A point half-way along. */
export function halfWay(points: readonly Point[]): Point {
  return pointAlong(points, polylineLength(points) / 2).at;
}
