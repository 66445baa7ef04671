/**
 * Loose straight strokes joined into a graph of nodes and links.
 *
 * Contract: strokes are straight stretches in any plane, mm. Ends that lie together become one node; a node that lies
 * on the inside of another stroke splits it; strokes (or parts of them) between the same two nodes become one link
 * that remembers all of them. The result depends on the set of strokes alone, not on their order or direction.
 * How close is "together" is read off the drawing: as little as joins its ends, never more than `within`.
 * Afterwards ends that are still free look for a partner up to `within`, one by one.
 */
import { GirthwiseError } from '../base';
import { distance, type Point } from '../math';
import type { Mm } from '../units';
import { clusterPoints } from './subdivisionClusters';
import { boxIndex, coincidence, footOn, Joining, type Link, mostRounds } from './subdivisionJoining';
import { type Places, placesOf } from './subdivisionPlaces';

/** A straight stretch. */
export interface Stroke {
  readonly a: Point;
  readonly b: Point;
  /** Which ends only continue a flattened curve: they say nothing about how well the drawing's ends meet. */
  readonly inner?: 'a' | 'b' | 'both';
}

/** What joining had to do, for the person to know. */
export interface JoinReport {
  /** Ends were joined when this close (the noise found in the drawing). */
  readonly tolerance: Mm;
  /** Joined ends that lay further apart than {@link coincidence}. */
  readonly joined: { readonly count: number; readonly widest: Mm };
  /** Stroke ends that ran past the stroke they meet and were cut back. */
  readonly trimmed: readonly { readonly at: Point; readonly length: Mm }[];
  /** Strokes that lie wholly on others. */
  readonly doubled: readonly number[];
  /** Strokes too short to have two ends. */
  readonly collapsed: readonly number[];
}

export interface StrokeGraph {
  readonly nodes: readonly Point[];
  readonly links: readonly Link[];
  /** Nodes of each stroke's two ends: 2·s for a, 2·s + 1 for b. */
  readonly ends: Int32Array;
  readonly report: JoinReport;
  /** Known to have no crossings but at nodes; parts of such a graph have none either. */
  readonly plane?: true;
}

/**
 * Joins strokes (see the head of this file).
 * @throws GirthwiseError when `within` is not positive or a coordinate is not a number.
 */
export function joinStrokes(strokes: readonly Stroke[], within: Mm): StrokeGraph {
  if (!(within > 0))
    throw new GirthwiseError('bad-tolerance', `Joining needs a distance above 0 mm, not ${within}`);
  for (const s of strokes)
    if (!Number.isFinite(s.a.x + s.a.y + s.b.x + s.b.y))
      throw new GirthwiseError('bad-stroke', 'A stroke has a coordinate that is not a number');
  const ends: Point[] = [];
  for (const s of strokes) ends.push(s.a, s.b);
  const places = placesOf(ends);
  const tolerance = chooseTolerance(strokes, places, within);
  const clusters = clusterPoints(ends, tolerance, places);
  const work = new Joining(clusters.points, tolerance, clusters.of);
  let joined = 0;
  let widest = 0;
  ends.forEach((p, i) => {
    const middle = clusters.points[clusters.of[i]!]!;
    if (p.x === middle.x && p.y === middle.y) return;
    // Twice the distance to the middle is the span of a pair.
    const span = 2 * distance(p, middle);
    if (span > coincidence) joined++;
    widest = Math.max(widest, span);
  });
  const collapsed: number[] = [];
  strokes.forEach((_, s) => {
    const from = clusters.of[2 * s]!;
    const to = clusters.of[2 * s + 1]!;
    if (from === to) collapsed.push(s);
    else work.add(from, to, [2 * s]);
  });
  work.settle();
  work.splitAtNodes(tolerance, within);
  const late = work.joinFreeEnds(within);
  if (late.count > 0) {
    joined += late.count;
    widest = Math.max(widest, late.widest);
    work.splitAtNodes(tolerance);
  }
  return {
    ...work.result(),
    report: {
      tolerance,
      joined: { count: joined, widest },
      trimmed: work.trimmed,
      doubled: work.doubled(strokes.length),
      collapsed,
    },
  };
}

/** Adds a node wherever two links cross, so that links meet at nodes only. Keeps the report. */
export function splitAtCrossings(graph: StrokeGraph): StrokeGraph {
  if (graph.plane) return graph;
  const work = new Joining(graph.nodes, graph.report.tolerance, graph.ends);
  for (const l of graph.links) work.add(l.from, l.to, l.strokes);
  work.settle();
  for (let round = 0; round < mostRounds; round++) {
    if (!work.splitCrossings()) break;
    work.splitAtNodes(graph.report.tolerance);
  }
  return { ...work.result(), report: graph.report };
}

/** The graph, marked when no links cross, so that its parts need not be searched for crossings again. */
export function markPlane(graph: StrokeGraph): StrokeGraph {
  const work = new Joining(graph.nodes, graph.report.tolerance, graph.ends);
  for (const l of graph.links) work.add(l.from, l.to, l.strokes);
  return work.hasCrossing() ? graph : { ...graph, plane: true };
}

/** The graph without some strokes (by index); links that only they ran along disappear. */
export function withoutStrokes(graph: StrokeGraph, gone: ReadonlySet<number>): StrokeGraph {
  if (gone.size === 0) return graph;
  const links = graph.links.flatMap((l) => {
    const strokes = l.strokes.filter((s) => !gone.has(s >> 1));
    if (strokes.length === l.strokes.length) return [l];
    return strokes.length === 0 ? [] : [{ ...l, strokes }];
  });
  return { ...graph, links };
}

/** The part of a graph whose links pass the test; nodes keep their numbers. */
export function keepLinks(graph: StrokeGraph, keep: (link: Link) => boolean): StrokeGraph {
  return { ...graph, links: graph.links.filter(keep) };
}

/** Part of the ends that must find a partner within the distance that is chosen. */
const usualShare = 0.98;

/**
 * The smallest distance at which practically every end that can find a partner within `within` has found one, with
 * room to spare (noise moves two ends apart by up to twice what one moves).
 */
function chooseTolerance(strokes: readonly Stroke[], places: Places, within: Mm): Mm {
  const needs: number[] = [];
  /** Ends, as 2·s for a and 2·s + 1 for b, that no other line's end meets exactly. */
  const open: number[] = [];
  if (strokes.length > 1)
    for (let e = 0; e < 2 * strokes.length; e++) {
      const inner = strokes[e >> 1]!.inner;
      if (inner === 'both' || inner === ((e & 1) === 0 ? 'a' : 'b')) continue;
      if (meetsExactly(strokes, places, e)) needs.push(0);
      else open.push(e);
    }
  // In a clean drawing the exact meetings alone are enough of all, whatever the others need.
  if (needs.length <= Math.floor((needs.length + open.length) * usualShare)) {
    const nearest = needFinder(strokes, within);
    for (const e of open) {
      const need = nearest(e);
      if (need <= within) needs.push(need);
    }
  }
  needs.sort((a, b) => a - b);
  const usual = needs[Math.floor(needs.length * usualShare)] ?? 0;
  return Math.min(within, Math.max(coincidence, 2.2 * usual));
}

/** True when an end of another line lies exactly at this end; strokes of one line share the very same point. */
function meetsExactly(strokes: readonly Stroke[], places: Places, end: number): boolean {
  const own = strokes[end >> 1]!;
  const p = (end & 1) === 0 ? own.a : own.b;
  for (let e = places.first[places.of[end]!]!; e >= 0; e = places.after[e]!) {
    const t = strokes[e >> 1]!;
    if (e >> 1 !== end >> 1 && t.a !== p && t.b !== p) return true;
  }
  return false;
}

/** How far an end is from the nearest other line; 0 where only its own line runs on, else infinite beyond `within`. */
function needFinder(strokes: readonly Stroke[], within: Mm): (end: number) => Mm {
  const index = boxIndex(strokes.map((s) => [s.a, s.b]));
  return (end) => {
    const own = strokes[end >> 1]!;
    const p = (end & 1) === 0 ? own.a : own.b;
    // Strokes of one line share the very same point: that they meet says nothing about how well others do.
    let runsOn = false;
    let nearest = Number.POSITIVE_INFINITY;
    for (const j of index.search(p.x - within, p.y - within, p.x + within, p.y + within)) {
      if (j === end >> 1) continue;
      const t = strokes[j]!;
      if (t.a === p || t.b === p) {
        runsOn = true;
        continue;
      }
      const ends = Math.min(distance(p, t.a), distance(p, t.b));
      nearest = Math.min(nearest, ends <= within ? ends : (footOn(p, t.a, t.b)?.off ?? ends));
    }
    return nearest <= within ? nearest : runsOn ? 0 : Number.POSITIVE_INFINITY;
  };
}
