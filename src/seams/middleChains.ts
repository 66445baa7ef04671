/**
 * Rims and seams of the middle, told apart as a whole. On a shell whose pieces cross the middle every edge has a mirror
 * image, the edges of rims too, so equal lengths say nothing about whether an edge is glued to its own image. But rims and
 * seams of the middle take turns along the edge of a half: a rim runs on smoothly, a seam closes to a full turn, and where
 * one gives way to the other the rim crosses the middle smoothly. All edges of a line are weighed together.
 */
import type { FaceMirror } from './faceMirror';
import type { GluedOutlines, OpenCorner } from './gluedOutlines';
import { closedFactor, rimFactor } from './openEnds';

type Pair = readonly [number, number];

/** An edge and its mirror image, along the edge of a half. */
export interface MiddlePair {
  readonly pair: Pair;
  /** Logarithm of how much likelier the best way with the two glued is than the best way with both open. */
  readonly lead: number;
}

/** A line of edges of a half, from one place where it meets the middle to the other. */
export interface MiddleChain {
  readonly pairs: readonly MiddlePair[];
  /** Logarithm of the likelihood of the best way. */
  readonly score: number;
}

/** The lines of open edges that meet the middle at both ends, and the openings that make none. */
export function middleChains(
  glued: GluedOutlines,
  mirror: FaceMirror,
): { readonly chains: readonly MiddleChain[]; readonly rest: readonly (readonly OpenCorner[])[] } {
  const chains: MiddleChain[] = [];
  const rest: (readonly OpenCorner[])[] = [];
  for (const loop of glued.openings()) {
    const chain = chainOf(loop, mirror);
    if (chain) chains.push(weighed(chain));
    else rest.push(loop);
  }
  return { chains, rest };
}

/** Edges with their images from one end to the other, and the angles before, between and after them, rad. */
interface Chain {
  readonly pairs: readonly Pair[];
  /** At an end the angle of the whole corner, or null where an edge crosses the middle: its neighbour stays open. */
  readonly ends: readonly [number | null, number | null];
  readonly between: readonly number[];
}

function chainOf(loop: readonly OpenCorner[], mirror: FaceMirror): Chain | null {
  const n = loop.length;
  const at = new Map(loop.map((c, i) => [c.into, i]));
  const image = loop.map((c) => at.get(mirror.imageOf(c.into)) ?? -1);
  if (n < 2 || image.some((j, i) => j < 0 || image[j] !== i)) return null;
  // The image runs the other way round: edge i lies on edge sum − i.
  const sum = (image[0]! + n) % n;
  if (image.some((j, i) => (i + j) % n !== sum)) return null;
  // Half-way positions: an edge where sum is even, the corner after one where it is odd.
  const angle = (i: number) => loop[((i % n) + n) % n]!.angle;
  const edge = (i: number) => loop[((i % n) + n) % n]!.into;
  const fixed = (twice: number): boolean => twice % 2 === 0;
  const [start, stop] = [sum, sum + n];
  const first = fixed(start) ? start / 2 + 1 : (start + 1) / 2;
  const last = fixed(stop) ? stop / 2 - 1 : (stop - 1) / 2;
  const pairs: Pair[] = [];
  const between: number[] = [];
  for (let i = first; i <= last; i++) {
    pairs.push([edge(i), edge(sum - i)]);
    if (i < last) between.push(angle(i));
  }
  if (pairs.length === 0) return null;
  return {
    pairs,
    between,
    ends: [fixed(start) ? null : angle(first - 1), fixed(stop) ? null : angle(last)],
  };
}

/** The chain with the lead of each pair: the best ways over all labels, passed along from both ends. */
function weighed({ pairs, ends, between }: Chain): MiddleChain {
  const n = pairs.length;
  const atEnd = (angle: number | null, glued: boolean): number =>
    angle === null
      ? glued
        ? Number.NEGATIVE_INFINITY
        : 0
      : Math.log(glued ? closedFactor(angle) : rimFactor(angle));
  const step = (angle: number, p: boolean, q: boolean): number =>
    Math.log(p !== q ? rimFactor(2 * angle) : p ? closedFactor(2 * angle) : rimFactor(angle));
  const labels = [true, false];
  const pass = (
    order: readonly number[],
    first: number | null,
    angleTo: (i: number) => number,
  ): number[][] => {
    const out: number[][] = [];
    order.forEach((i, k) => {
      out[i] = labels.map((q) =>
        k === 0
          ? atEnd(first, q)
          : Math.max(...labels.map((p, l) => out[order[k - 1]!]![l]! + step(angleTo(i), p, q))),
      );
    });
    return out;
  };
  const order = Array.from({ length: n }, (_, i) => i);
  const from = pass(order, ends[0], (i) => between[i - 1]!);
  const back = pass(order.reverse(), ends[1], (i) => between[i]!);
  return {
    pairs: pairs.map((pair, i) => ({
      pair,
      lead: from[i]![0]! + back[i]![0]! - (from[i]![1]! + back[i]![1]!),
    })),
    score: Math.max(from[0]![0]! + back[0]![0]!, from[0]![1]! + back[0]![1]!),
  };
}
