import { type Point, polylineLength } from '../math';
import type { Seam, SeamSide } from '../model';
import type { Mm } from '../units';
import { partOfLine, splitLine, stretchesOf } from './sides';

/**
 * Edges divided where seams begin and end on them. An edge that is glued as a whole, or not at all, is one span; a long
 * edge against several short ones has a span for each. Spans of one seam get equally many stretches on both sides, so
 * that their corners meet.
 */
export interface Span {
  readonly from: Mm;
  readonly to: Mm;
  /** The seam that glues it; null where it stays open. */
  seam: Seam | null;
  /** Straight stretches of equal length. */
  stretches: number;
}

/** Ends of neighbouring seams on one edge nearer than this are one corner, mm: what two drawn lengths may differ by. */
export const sameCorner: Mm = 0.5;

export interface DividedEdges {
  /** Spans of each edge in order along it. */
  readonly spansOf: ReadonlyMap<string, readonly Span[]>;
  /** Seams that found their place, surest first. */
  readonly chosen: Seam[];
  readonly leftOut: { seam: Seam; why: 'edge-taken' | 'no-face' }[];
}

export const partOn = (seam: Seam, side: SeamSide): readonly [Mm, Mm] | undefined =>
  side === seam.a ? seam.partA : seam.partB;

/** @param seams surest first: a seam that overlaps a surer one on an edge is left out */
export function divideEdges(
  edges: ReadonlyMap<string, { readonly points: readonly Point[]; readonly flat?: true }>,
  seams: readonly Seam[],
): DividedEdges {
  const leftOut: DividedEdges['leftOut'] = [];
  const taken = new Map<string, { from: Mm; to: Mm; seam: Seam }[]>();
  const chosen: Seam[] = [];
  for (const seam of seams) {
    const wanted = [seam.a, seam.b].map((side) => {
      const points = edges.get(side.edge)?.points;
      if (!points) return null;
      const length = polylineLength(points);
      const [from, to] = partOn(seam, side) ?? [0, length];
      return {
        edge: side.edge,
        seam,
        from: from < sameCorner ? 0 : from,
        to: to > length - sameCorner ? length : to,
      };
    });
    if (wanted.some((w) => w === null)) {
      leftOut.push({ seam, why: 'no-face' });
      continue;
    }
    const [a, b] = wanted as [(typeof wanted)[0] & object, (typeof wanted)[0] & object];
    // Ends of rulings may lie as near to each other as they like.
    const least = (edge: string) => (edges.get(edge)?.flat ? 0 : sameCorner);
    const clash = (w: { edge: string; from: Mm; to: Mm }) =>
      !(w.to - w.from > least(w.edge)) ||
      (taken.get(w.edge) ?? []).some((t) => Math.min(t.to, w.to) - Math.max(t.from, w.from) > sameCorner);
    const self = a.edge === b.edge && Math.min(a.to, b.to) - Math.max(a.from, b.from) > sameCorner;
    if (self || clash(a) || clash(b)) {
      leftOut.push({ seam, why: 'edge-taken' });
      continue;
    }
    for (const w of [a, b]) taken.set(w.edge, [...(taken.get(w.edge) ?? []), w]);
    chosen.push(seam);
  }
  const spansOf = new Map<string, Span[]>();
  for (const [id, { points, flat }] of edges) {
    const length = polylineLength(points);
    const spans: Span[] = [];
    let at = 0;
    for (const t of [...(taken.get(id) ?? [])].sort((p, q) => p.from - q.from)) {
      const from = t.from - at > sameCorner ? t.from : at;
      if (from > at) spans.push({ from: at, to: from, seam: null, stretches: 1 });
      spans.push({ from, to: t.to, seam: t.seam, stretches: 1 });
      at = t.to;
    }
    if (length - at > sameCorner || spans.length === 0)
      spans.push({ from: at, to: length, seam: null, stretches: 1 });
    for (const span of spans)
      span.stretches = flat
        ? 1
        : stretchesOf(spans.length === 1 ? points : partOfLine(points, span.from, span.to));
    spansOf.set(id, spans);
  }
  for (const seam of chosen) {
    const sides = [...spansOf.get(seam.a.edge)!, ...spansOf.get(seam.b.edge)!].filter((s) => s.seam === seam);
    const most = Math.max(...sides.map((s) => s.stretches));
    for (const s of sides) s.stretches = most;
  }
  return { spansOf, chosen, leftOut };
}

/** Ends of all stretches of an edge in order, both ends included. */
export function cornersOfEdge(points: readonly Point[], spans: readonly Span[]): Point[] {
  const out: Point[] = [];
  for (const span of spans) {
    const part = spans.length === 1 ? points : partOfLine(points, span.from, span.to);
    const ends = splitLine(part, span.stretches);
    out.push(...(out.length > 0 ? ends.slice(1) : ends));
  }
  return out;
}

/** Where a seam lies in the corners of an edge: from which to which; `second` for the later of two sides on one edge. */
export function seamOnEdge(
  spans: readonly Span[],
  seam: Seam,
  second: boolean,
): readonly [number, number] | null {
  let at = 0;
  let seen = false;
  for (const span of spans) {
    if (span.seam === seam && (!second || seen)) return [at, at + span.stretches];
    if (span.seam === seam) seen = true;
    at += span.stretches;
  }
  return null;
}
