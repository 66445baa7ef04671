/**
 * The graph of strokes under construction: links between numbered nodes, split where nodes lie on them or where they
 * cross. Used by subdivisionStrokes alone; links come out sorted by nodes after every step, so that order never tells.
 */
import Flatbush from 'flatbush';
import { orient2d } from 'robust-predicates';
import { distance, type Point } from '../math';
import type { Mm } from '../units';
import { NodeFinder } from './subdivisionClusters';

/** A connection of two nodes, `from` < `to`, and the strokes that run along it. */
export interface Link {
  readonly from: number;
  readonly to: number;
  /** 2·s for stroke s run from its a to its b, 2·s + 1 against it; ascending. */
  readonly strokes: readonly number[];
}

/**
 * Coordinates are commonly written with three decimals of a millimetre: two copies of one point differ by up to
 * 0.0014 mm. Ten times more would merge the sides of very narrow slits, ten times less would miss rounded copies.
 */
export const coincidence: Mm = 0.0015;

/** Rounds of splitting; each round only adds nodes near existing ones, two or three are usual. */
export const mostRounds = 12;

/** Foot of p on the inside of the stretch a–b and its distance, or null when it falls outside. */
export function footOn(
  p: Point,
  a: Point,
  b: Point,
): { readonly t: number; readonly off: Mm; readonly at: Point } | null {
  const dx = b.x - a.x;
  const dy = b.y - a.y;
  const square = dx * dx + dy * dy;
  if (square === 0) return null;
  const t = ((p.x - a.x) * dx + (p.y - a.y) * dy) / square;
  if (t <= 0 || t >= 1) return null;
  const at = { x: a.x + dx * t, y: a.y + dy * t };
  return { t, off: distance(p, at), at };
}

/** Boxes of stretches, for search. */
export function boxIndex(stretches: readonly (readonly [Point, Point])[]): Flatbush {
  const index = new Flatbush(Math.max(1, stretches.length));
  if (stretches.length === 0) index.add(0, 0, 0, 0);
  for (const [a, b] of stretches)
    index.add(Math.min(a.x, b.x), Math.min(a.y, b.y), Math.max(a.x, b.x), Math.max(a.y, b.y));
  index.finish();
  return index;
}

interface WorkLink {
  from: number;
  to: number;
  strokes: number[];
}

/** The graph under construction. */
export class Joining {
  readonly nodes: Point[];
  readonly trimmed: { at: Point; length: Mm }[] = [];
  private links: WorkLink[] = [];
  private readonly tolerance: Mm;
  private ends: Int32Array;

  constructor(nodes: readonly Point[], tolerance: Mm, ends: Int32Array) {
    this.nodes = [...nodes];
    this.tolerance = tolerance;
    this.ends = ends;
  }

  add(from: number, to: number, strokes: readonly number[]): void {
    if (from === to) return;
    if (from < to) this.links.push({ from, to, strokes: [...strokes] });
    else this.links.push({ from: to, to: from, strokes: strokes.map((s) => s ^ 1) });
  }

  /** One link for each pair of nodes, in the order of nodes. */
  settle(): void {
    const byPair = new Map<number, WorkLink>();
    const width = this.nodes.length + 1;
    for (const link of this.links) {
      const key = link.from * width + link.to;
      const seen = byPair.get(key);
      if (seen) seen.strokes.push(...link.strokes);
      else byPair.set(key, link);
    }
    this.links = [...byPair.values()].sort((a, b) => a.from - b.from || a.to - b.to);
    for (const link of this.links)
      if (link.strokes.length > 1) link.strokes = [...new Set(link.strokes)].sort((a, b) => a - b);
  }

  private degrees(): Int32Array {
    const degree = new Int32Array(this.nodes.length);
    for (const l of this.links) {
      degree[l.from]!++;
      degree[l.to]!++;
    }
    return degree;
  }

  private index(): Flatbush {
    return boxIndex(this.links.map((l) => [this.nodes[l.from]!, this.nodes[l.to]!]));
  }

  /**
   * Splits links at nodes that lie on them, until none does. A free end is left alone when an end of that link lies
   * within `corner`: it was meant to meet that corner.
   */
  splitAtNodes(reach: Mm, corner: Mm = 0): void {
    for (let round = 0; round < mostRounds; round++) {
      if (this.links.length === 0) return;
      const index = this.index();
      const degree = this.degrees();
      const linkAt = this.onlyLink();
      const splits = new Map<number, { t: number; node: number }[]>();
      const moves: { node: number; to: Point }[] = [];
      for (let n = 0; n < this.nodes.length; n++) {
        if (degree[n] === 0) continue;
        const p = this.nodes[n]!;
        const hits: { link: number; t: number; at: Point }[] = [];
        const near = index.search(p.x - reach, p.y - reach, p.x + reach, p.y + reach, (i) => {
          const l = this.links[i]!;
          return l.from !== n && l.to !== n;
        });
        for (const i of near) {
          const l = this.links[i]!;
          const foot = footOn(p, this.nodes[l.from]!, this.nodes[l.to]!);
          if (!foot || foot.off > reach) continue;
          if (degree[n] === 1 && this.distanceToEnds(p, l) <= corner) continue;
          hits.push({ link: i, t: foot.t, at: foot.at });
        }
        for (const hit of hits) addTo(splits, hit.link, { t: hit.t, node: n });
        // An end that meets one straight line comes to lie on it, so that the line stays straight.
        const only = hits[0];
        if (hits.length === 1 && only && degree[n]! <= 2) {
          moves.push({ node: n, to: only.at });
          if (degree[n] === 1) this.noteOvershoot(n, only, linkAt);
        }
      }
      if (splits.size === 0) return;
      this.split(splits);
      for (const m of moves) this.nodes[m.node] = m.to;
    }
  }

  private distanceToEnds(p: Point, l: WorkLink): Mm {
    return Math.min(distance(p, this.nodes[l.from]!), distance(p, this.nodes[l.to]!));
  }

  private onlyLink(): Int32Array {
    const at = new Int32Array(this.nodes.length).fill(-1);
    this.links.forEach((l, i) => {
      at[l.from] = i;
      at[l.to] = i;
    });
    return at;
  }

  private noteOvershoot(node: number, hit: { link: number; at: Point }, linkAt: Int32Array): void {
    const own = this.links[linkAt[node]!]!;
    const far = this.nodes[own.from === node ? own.to : own.from]!;
    const p = this.nodes[node]!;
    const crossed = this.links[hit.link]!;
    const a = this.nodes[crossed.from]!;
    const b = this.nodes[crossed.to]!;
    const length = distance(p, hit.at);
    if (length <= coincidence) return;
    if (orient2d(a.x, a.y, b.x, b.y, p.x, p.y) * orient2d(a.x, a.y, b.x, b.y, far.x, far.y) < 0)
      this.trimmed.push({ at: hit.at, length });
  }

  private split(splits: ReadonlyMap<number, { t: number; node: number }[]>): void {
    const old = this.links;
    this.links = [];
    old.forEach((l, i) => {
      const cuts = splits.get(i);
      if (!cuts) {
        this.links.push(l);
        return;
      }
      cuts.sort((a, b) => a.t - b.t || a.node - b.node);
      let from = l.from;
      for (const cut of cuts) {
        if (cut.node === from) continue;
        this.add(from, cut.node, l.strokes);
        from = cut.node;
      }
      this.add(from, l.to, l.strokes);
    });
    this.settle();
  }

  /** Joins ends with nothing attached to the nearest node or line within reach. */
  joinFreeEnds(reach: Mm): { count: number; widest: Mm } {
    let count = 0;
    let widest = 0;
    if (this.links.length === 0) return { count, widest };
    const degree = this.degrees();
    const linkAt = this.onlyLink();
    const index = this.index();
    const mergedInto = new Map<number, number>();
    const splits = new Map<number, { t: number; node: number }[]>();
    const order = [...this.nodes.keys()].filter((n) => degree[n] === 1);
    order.sort((a, b) => comparePoints(this.nodes[a]!, this.nodes[b]!));
    for (const n of order) {
      if (mergedInto.has(n)) continue;
      const p = this.nodes[n]!;
      const own = this.links[linkAt[n]!]!;
      const far = own.from === n ? own.to : own.from;
      if (distance(p, this.nodes[far]!) <= reach) continue;
      let best:
        | { kind: 'node'; node: number; off: number }
        | { kind: 'line'; link: number; t: number; at: Point; off: number }
        | null = null;
      for (const i of index.search(p.x - reach, p.y - reach, p.x + reach, p.y + reach)) {
        if (i === linkAt[n]) continue;
        const l = this.links[i]!;
        for (const end of [l.from, l.to]) {
          const off = distance(p, this.nodes[end]!);
          if (
            end !== n &&
            end !== far &&
            !mergedInto.has(end) &&
            off <= reach &&
            (!best || best.kind === 'line' || off < best.off)
          )
            best = { kind: 'node', node: end, off };
        }
        const foot = footOn(p, this.nodes[l.from]!, this.nodes[l.to]!);
        if (
          foot &&
          l.from !== n &&
          l.to !== n &&
          foot.off <= reach &&
          (!best || (best.kind === 'line' && foot.off < best.off))
        )
          best = { kind: 'line', link: i, t: foot.t, at: foot.at, off: foot.off };
      }
      if (!best) continue;
      count++;
      widest = Math.max(widest, best.off);
      if (best.kind === 'node') mergedInto.set(n, best.node);
      else {
        this.noteOvershoot(n, best, linkAt);
        this.nodes[n] = best.at;
        addTo(splits, best.link, { t: best.t, node: n });
      }
    }
    if (splits.size > 0) this.split(splits);
    const old = this.links;
    this.links = [];
    const target = (n: number): number => {
      const next = mergedInto.get(n);
      return next === undefined ? n : target(next);
    };
    for (const l of old) this.add(target(l.from), target(l.to), l.strokes);
    this.settle();
    this.ends = this.ends.map(target);
    return { count, widest };
  }

  /** True when two links cross with both ends strictly on either side. */
  hasCrossing(): boolean {
    if (this.links.length < 2) return false;
    const index = this.index();
    return this.links.some((l, i) =>
      this.othersOver(index, i).some((j) => {
        const m = this.links[j]!;
        return crossing(this.nodes[l.from]!, this.nodes[l.to]!, this.nodes[m.from]!, this.nodes[m.to]!);
      }),
    );
  }

  /** Later links over the box of a link that do not share a node with it. */
  private othersOver(index: Flatbush, i: number): number[] {
    const { from, to } = this.links[i]!;
    const a = this.nodes[from]!;
    const b = this.nodes[to]!;
    return index.search(
      Math.min(a.x, b.x),
      Math.min(a.y, b.y),
      Math.max(a.x, b.x),
      Math.max(a.y, b.y),
      (j) => {
        if (j <= i) return false;
        const m = this.links[j]!;
        return m.from !== from && m.from !== to && m.to !== from && m.to !== to;
      },
    );
  }

  /** One round of splitting at proper crossings; true when something was split. */
  splitCrossings(): boolean {
    if (this.links.length < 2) return false;
    const index = this.index();
    const splits = new Map<number, { t: number; node: number }[]>();
    let finder: NodeFinder | null = null;
    this.links.forEach((l, i) => {
      const a = this.nodes[l.from]!;
      const b = this.nodes[l.to]!;
      const hits = this.othersOver(index, i).sort((p, q) => p - q);
      for (const j of hits) {
        const m = this.links[j]!;
        const c = this.nodes[m.from]!;
        const d = this.nodes[m.to]!;
        const at = crossing(a, b, c, d);
        if (!at) continue;
        finder ??= new NodeFinder(this.nodes, this.tolerance);
        const node = finder.at(at);
        if (node !== l.from && node !== l.to) addTo(splits, i, { t: along(a, b, this.nodes[node]!), node });
        if (node !== m.from && node !== m.to) addTo(splits, j, { t: along(c, d, this.nodes[node]!), node });
      }
    });
    if (splits.size === 0) return false;
    this.split(splits);
    return true;
  }

  /** Strokes that could be left out without losing a link. */
  doubled(count: number): number[] {
    const spare = new Uint8Array(count).fill(1);
    const seen = new Uint8Array(count);
    const counts = this.links.map((l) => l.strokes.length);
    const linksOf = new Map<number, number[]>();
    this.links.forEach((l, i) => {
      for (const s of l.strokes) {
        seen[s >> 1] = 1;
        addTo(linksOf, s >> 1, i);
        if (l.strokes.length === 1) spare[s >> 1] = 0;
      }
    });
    const out: number[] = [];
    for (let s = 0; s < count; s++) {
      const own = linksOf.get(s);
      if (!seen[s] || !spare[s] || !own || own.some((i) => counts[i]! < 2)) continue;
      for (const i of own) counts[i]!--;
      out.push(s);
    }
    return out;
  }

  result(): { nodes: Point[]; links: Link[]; ends: Int32Array } {
    return { nodes: this.nodes, links: this.links, ends: this.ends };
  }
}

/** Where two stretches cross properly (each end strictly on one side), or null. */
function crossing(a: Point, b: Point, c: Point, d: Point): Point | null {
  const oc = orient2d(a.x, a.y, b.x, b.y, c.x, c.y);
  const od = orient2d(a.x, a.y, b.x, b.y, d.x, d.y);
  if (oc * od >= 0) return null;
  const oa = orient2d(c.x, c.y, d.x, d.y, a.x, a.y);
  const ob = orient2d(c.x, c.y, d.x, d.y, b.x, b.y);
  if (oa * ob >= 0) return null;
  const t = oa / (oa - ob);
  return { x: a.x + (b.x - a.x) * t, y: a.y + (b.y - a.y) * t };
}

function along(a: Point, b: Point, p: Point): number {
  const dx = b.x - a.x;
  const dy = b.y - a.y;
  return ((p.x - a.x) * dx + (p.y - a.y) * dy) / (dx * dx + dy * dy);
}

export const comparePoints = (a: Point, b: Point): number => a.x - b.x || a.y - b.y;

function addTo<K, V>(map: Map<K, V[]>, key: K, value: V): void {
  const list = map.get(key);
  if (list) list.push(value);
  else map.set(key, [value]);
}
