/**
 * Which edges could be mates by length, and how exact the drawing is. The noise is measured on the drawing itself: where
 * three edges in a row agree in length with three others in reverse order, chance plays no part, and what differences
 * remain are the drawing's.
 */
import type { Mm } from '../units';
import { endAngle, type HalfEdges } from './halfEdges';
import {
  densityReach,
  fewestNoiseRuns,
  leastNoise,
  mirrorAngle,
  mostCandidates,
  noiseReach,
  noiseStep,
  usualNoise,
  widestDifference,
} from './matchTolerance';
import { openCorner } from './tolerance';

/** Candidate pairs by number; `low[p] < high[p]`. */
export interface CandidatePairs {
  readonly low: Int32Array;
  readonly high: Int32Array;
  /** How likely the difference in length is between mates, per mm. */
  readonly likely: Float64Array;
  /** The two are placed like an edge and its own mirror image: lengths and angles are no evidence. */
  readonly mirrorLike: Uint8Array;
  /** Pair numbers of each edge. */
  readonly ofEdge: readonly (readonly number[])[];
  readonly noise: Mm;
  /** Mates differ by at most this. */
  readonly reach: Mm;
  /** Edges that had more candidates than are looked at. */
  readonly crowded: Uint8Array;
}

export const otherOf = (pairs: CandidatePairs, pair: number, edge: number): number =>
  pairs.low[pair] === edge ? pairs.high[pair]! : pairs.low[pair]!;

/**
 * @param mayPair false where stronger evidence or the person rules a pair out
 * @param known pairs that are mates whatever their lengths
 */
export function candidatePairs(
  h: HalfEdges,
  mayPair: (a: number, b: number) => boolean,
  known: readonly (readonly [number, number])[] = [],
): CandidatePairs {
  const order = Array.from({ length: h.count }, (_, i) => i).sort(
    (i, j) => h.length[i]! - h.length[j]! || i - j,
  );
  const noise = noiseOf(h, order);
  const reach = noiseReach * noise;
  const low: number[] = [];
  const high: number[] = [];
  const likely: number[] = [];
  const mirrorLike: number[] = [];
  const ofEdge: number[][] = Array.from({ length: h.count }, () => []);
  const crowded = new Uint8Array(h.count);
  const addPair = (i: number, j: number, difference: Mm, mirror: boolean) => {
    const d = difference / noise;
    ofEdge[i]!.push(low.length);
    ofEdge[j]!.push(low.length);
    low.push(Math.min(i, j));
    high.push(Math.max(i, j));
    likely.push(Math.exp(-0.5 * d * d) / (noise * Math.sqrt(2 * Math.PI)));
    mirrorLike.push(mirror ? 1 : 0);
  };
  const isKnown = new Uint8Array(h.count);
  for (const [i, j] of known) {
    isKnown[i] = 1;
    isKnown[j] = 1;
    addPair(i, j, 0, false);
  }
  order.forEach((i, at) => {
    if (isKnown[i]) return;
    for (let k = at + 1; k < order.length && h.length[order[k]!]! - h.length[i]! <= reach; k++) {
      const j = order[k]!;
      if (isKnown[j] || !mayPair(i, j)) continue;
      if (ofEdge[i]!.length >= mostCandidates || ofEdge[j]!.length >= mostCandidates) {
        crowded[i] = 1;
        crowded[j] = 1;
        continue;
      }
      addPair(i, j, h.length[j]! - h.length[i]!, isMirrorLike(h, i, j, noise, reach));
    }
  });
  return {
    low: Int32Array.from(low),
    high: Int32Array.from(high),
    likely: Float64Array.from(likely),
    mirrorLike: Uint8Array.from(mirrorLike),
    ofEdge,
    noise,
    reach,
    crowded,
  };
}

/**
 * How much likelier the lengths of each pair are if the two are mates than if they are equal by chance, among the edges
 * that are still open: the fewer are left, the more an equal length says.
 * @param openShare share of those edges that belong to no seam
 */
export function lengthWeights(
  h: HalfEdges,
  pairs: CandidatePairs,
  isOpen: (edge: number) => boolean,
  openShare: number,
): Float64Array {
  const order = Array.from({ length: h.count }, (_, i) => i)
    .filter(isOpen)
    .sort((i, j) => h.length[i]! - h.length[j]! || i - j);
  /** Edges per mm of length near each edge. */
  const density = new Float64Array(h.count).fill(1 / (2 * densityReach));
  let from = 0;
  let to = 0;
  for (const i of order) {
    const l = h.length[i]!;
    while (h.length[order[from]!]! < l - densityReach) from++;
    while (to < order.length && h.length[order[to]!]! <= l + densityReach) to++;
    density[i] = (to - from) / (2 * densityReach);
  }
  const odds = (1 - openShare) / openShare;
  return pairs.likely.map(
    (l, p) => (odds * l) / Math.sqrt(density[pairs.low[p]!]! * density[pairs.high[p]!]!),
  );
}

function noiseOf(h: HalfEdges, order: readonly number[]): Mm {
  const differences: number[] = [];
  const agree = (i: number, j: number) => Math.abs(h.length[i]! - h.length[j]!) <= widestDifference;
  order.forEach((i, at) => {
    for (let k = at + 1; k < order.length; k++) {
      const j = order[k]!;
      if (h.length[j]! - h.length[i]! > widestDifference) break;
      const [in1, ib] = [h.next[i]!, h.before[i]!];
      const [jn, jb] = [h.next[j]!, h.before[j]!];
      if (in1 === j || ib === j || !agree(in1, jb) || !agree(ib, jn)) continue;
      const open = (a: number, b: number) => Math.abs(a + b - 2 * Math.PI) > openCorner;
      if (open(endAngle(h, i), h.angle[j]!) || open(h.angle[i]!, endAngle(h, j))) continue;
      differences.push(Math.abs(h.length[i]! - h.length[j]!));
    }
  });
  const within = (d: number) => differences.reduce((n, x) => (x <= d ? n + 1 : n), 0);
  const chance = (within(widestDifference) - within(widestDifference / 2)) / (widestDifference / 2);
  // True differences heap up at zero over a level ground of chance. The noise is the least width of a heap that has
  // fallen off, as a normal error does, to a quarter of its height between one and three widths.
  for (let width: Mm = leastNoise; width <= widestDifference / 3; width *= noiseStep) {
    const core = within(width) - chance * width;
    const flank = within(3 * width) - within(width) - chance * 2 * width;
    if (core >= fewestNoiseRuns && flank / 2 <= core / 4) return width;
  }
  return usualNoise;
}

function isMirrorLike(h: HalfEdges, i: number, j: number, noise: number, reach: number): boolean {
  const short = Math.min(h.length[i]!, h.length[h.next[i]!]!, h.length[h.before[i]!]!);
  const slack = Math.max(mirrorAngle, (4 * noise) / Math.max(short, 1e-3));
  return (
    Math.abs(h.angle[i]! - endAngle(h, j)) <= slack &&
    Math.abs(endAngle(h, i) - h.angle[j]!) <= slack &&
    Math.abs(h.length[h.next[i]!]! - h.length[h.before[j]!]!) <= reach &&
    Math.abs(h.length[h.before[i]!]! - h.length[h.next[j]!]!) <= reach
  );
}
