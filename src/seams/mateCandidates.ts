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
  fewestNoiseSeams,
  leastNoise,
  medianToWidth,
  mirrorAngle,
  mostCandidates,
  mostNoiseRuns,
  noiseReach,
  noiseRounds,
  noiseStep,
  runsAgree,
  usualNoise,
  wideErrors,
  widestDifference,
} from './matchTolerance';
import type { Twins } from './mirrorTwins';
import { openCorner } from './tolerance';

/** Candidate pairs by number; `low[p] < high[p]`. */
export interface CandidatePairs {
  readonly low: Int32Array;
  readonly high: Int32Array;
  /** How likely the difference in length is between mates, per mm. */
  readonly likely: Float64Array;
  /** The two are placed like an edge and its own mirror image: lengths and angles are no evidence. */
  readonly mirrorLike: Uint8Array;
  /** The pair of the mirror images of both edges; −1 where there is none. */
  readonly twin: Int32Array;
  /** Pair numbers of each edge. */
  readonly ofEdge: readonly (readonly number[])[];
  readonly noise: Mm;
  /** Mates differ by at most this. */
  readonly reach: Mm;
  /** Edges that had more candidates than are looked at. */
  readonly crowded: Uint8Array;
}

/** How wide the error of two edges is beside that of edges with twins: those without a twin keep their whole error. */
export const widthOfPair = (twin: Twins, i: number, j: number): number =>
  Math.sqrt(((twin[i] === -1 ? 2 : 1) + (twin[j] === -1 ? 2 : 1)) / 2);

export const otherOf = (pairs: CandidatePairs, pair: number, edge: number): number =>
  pairs.low[pair] === edge ? pairs.high[pair]! : pairs.low[pair]!;

/**
 * @param mayPair false where stronger evidence or the person rules a pair out
 * @param known pairs that are mates whatever their lengths
 * @param fromTwins error in length as twins show it
 * @param measured error in length of mates, where it is known already
 */
export function candidatePairs(
  h: HalfEdges,
  twin: Twins,
  mayPair: (a: number, b: number) => boolean,
  known: readonly (readonly [number, number])[] = [],
  fromTwins: Mm | null = null,
  measured: Mm | null = null,
): CandidatePairs {
  const order = Array.from({ length: h.count }, (_, i) => i).sort(
    (i, j) => h.length[i]! - h.length[j]! || i - j,
  );
  const fromRuns = noiseOf(h, twin, order);
  // Evened out over two drawings the error is smaller by √2. Twins that are copies of each other show less than the
  // error of mates; then the runs have the say.
  const twins = fromTwins === null ? null : Math.max(leastNoise, fromTwins / Math.SQRT2);
  const noise = measured ?? (twins !== null && fromRuns <= runsAgree * twins ? twins : fromRuns);
  const reach = noiseReach * noise;
  const low: number[] = [];
  const high: number[] = [];
  const likely: number[] = [];
  const mirrorLike: number[] = [];
  const ofEdge: number[][] = Array.from({ length: h.count }, () => []);
  const crowded = new Uint8Array(h.count);
  const anyTwins = twin.some((t) => t !== -1);
  const widthOf = (i: number, j: number) => (anyTwins ? widthOfPair(twin, i, j) : 1);
  const widest = reach * (anyTwins ? Math.SQRT2 : 1);
  const addPair = (i: number, j: number, difference: Mm, mirror: boolean) => {
    const width = noise * widthOf(i, j);
    const d = difference / width;
    ofEdge[i]!.push(low.length);
    ofEdge[j]!.push(low.length);
    low.push(Math.min(i, j));
    high.push(Math.max(i, j));
    likely.push(errorDensity(d) / width);
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
    for (let k = at + 1; k < order.length && h.length[order[k]!]! - h.length[i]! <= widest; k++) {
      const j = order[k]!;
      if (isKnown[j] || !mayPair(i, j) || !mirrorAllows(twin, i, j)) continue;
      if (h.length[j]! - h.length[i]! > reach * widthOf(i, j)) continue;
      if (ofEdge[i]!.length >= mostCandidates || ofEdge[j]!.length >= mostCandidates) {
        crowded[i] = 1;
        crowded[j] = 1;
        continue;
      }
      addPair(
        i,
        j,
        h.length[j]! - h.length[i]!,
        twin[i] === -1 || twin[j] === -1 ? isMirrorLike(h, i, j, noise, reach) : twin[i] === j,
      );
    }
  });
  const pairOf = new Map(low.map((l, p) => [l * h.count + high[p]!, p]));
  const twinOf = (p: number): number => {
    const [a, b] = [twin[low[p]!]!, twin[high[p]!]!];
    return a < 0 || b < 0 ? -1 : (pairOf.get(Math.min(a, b) * h.count + Math.max(a, b)) ?? -1);
  };
  return {
    twin: Int32Array.from(low, (_, p) => twinOf(p)),
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

/** Noise as seams that are glued show it; null where there are too few. Pairs that do not belong together are outliers. */
export function noiseOfGlued(h: HalfEdges, mate: Int32Array): Mm | null {
  const differences: number[] = [];
  mate.forEach((b, a) => {
    if (b > a) differences.push(Math.abs(h.length[a]! - h.length[b]!));
  });
  if (differences.length < fewestNoiseSeams) return null;
  differences.sort((p, q) => p - q);
  return Math.max(leastNoise, medianToWidth * differences[differences.length >> 1]!);
}

/**
 * Noise of the differences of mates, as the likeliest width of a normal error beside level chance.
 */
function noiseOf(h: HalfEdges, twin: Twins, order: readonly number[]): Mm {
  const differences: number[] = [];
  const agree = (i: number, j: number) => Math.abs(h.length[i]! - h.length[j]!) <= widestDifference;
  order.forEach((i, at) => {
    for (let k = at + 1; k < order.length; k++) {
      const j = order[k]!;
      if (h.length[j]! - h.length[i]! > widestDifference) break;
      const [in1, ib] = [h.next[i]!, h.before[i]!];
      const [jn, jb] = [h.next[j]!, h.before[j]!];
      if (in1 === j || ib === j || twin[i] === j || !agree(in1, jb) || !agree(ib, jn)) continue;
      const open = (a: number, b: number) => Math.abs(a + b - 2 * Math.PI) > openCorner;
      if (open(endAngle(h, i), h.angle[j]!) || open(h.angle[i]!, endAngle(h, j))) continue;
      differences.push(Math.abs(h.length[i]! - h.length[j]!));
    }
  });
  // A share of them, evenly over their sizes, tells as much.
  const apart = Math.ceil(differences.length / mostNoiseRuns);
  const sample = differences.sort((p, q) => p - q).filter((_, i) => i % apart === 0);
  const level = 1 / widestDifference;
  let noise: Mm = usualNoise;
  let best = Number.NEGATIVE_INFINITY;
  for (let width: Mm = leastNoise / 2; width <= widestDifference / 3; width *= noiseStep) {
    let share = 0.5;
    let likelihood = 0;
    for (let round = 0; round < noiseRounds; round++) {
      let mates = 0;
      likelihood = 0;
      for (const d of sample) {
        const u = d / width;
        const mate = (share * 2 * Math.exp(-0.5 * u * u)) / (width * Math.sqrt(2 * Math.PI));
        const chance = (1 - share) * level;
        likelihood += Math.log(mate + chance);
        mates += mate / (mate + chance);
      }
      share = Math.min(0.999, Math.max(0.001, mates / sample.length));
    }
    if (likelihood > best && share * differences.length >= fewestNoiseRuns) {
      best = likelihood;
      noise = width;
    }
  }
  return Math.max(leastNoise, noise);
}

/**
 * Density of an error, in widths: normal, with some that are twice as wide, since ends that are drawn by hand or snapped
 * to each other stray more often than a normal error does.
 */
function errorDensity(d: number): number {
  const normal = (u: number) => Math.exp(-0.5 * u * u) / Math.sqrt(2 * Math.PI);
  return (1 - wideErrors) * normal(d) + (wideErrors * normal(d / 2)) / 2;
}

/** An edge across the mirror plane is its own image; it only meets another such edge. */
const mirrorAllows = (twin: Twins, i: number, j: number): boolean =>
  twin[i] === -1 || twin[j] === -1 || (twin[i] === i) === (twin[j] === j);

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
