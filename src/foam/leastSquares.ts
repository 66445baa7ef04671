/**
 * Sparse weighted least squares: unknowns that make many linear misses small at once. The normal equations are factored
 * as blocks of three unknowns; weights follow the sign of a miss, where a row says so, and the mean of its group, over a
 * few rounds.
 */
import { GirthwiseError } from '../base';
import { analyseBlocks, blockIndex, emptyBlocks, factorise, solveBlocks } from '../math';

/** A miss, linear in the unknowns: constant + Σ factor · unknown. */
export interface LinearMiss {
  readonly constant: number;
  /** An unknown may come up more than once. */
  readonly terms: readonly (readonly [unknown: number, factor: number])[];
  readonly weight: number;
  /** The miss counts this many times, squared, while it is below zero. */
  readonly belowZero?: number;
  /** Misses of a group make one figure, their mean size; from round to round the groups with the larger ones count more. */
  readonly group?: number;
  /** About the size from which on a miss counts for more than its square. Such misses also make up a mean that is to be
   *  small; absent or 0: the square alone counts. */
  readonly far?: number;
}

/** What makes the misses small, and what the weights have settled on: where a solution of nearly the same misses starts. */
export interface LeastSquares {
  readonly unknowns: Float64Array;
  /** By group. */
  readonly counts: ReadonlyMap<number, number>;
}

/** Rounds of weights: which misses are below zero settles in four, how much groups count in six (eight give the same within 0.001 mm). */
const usualRounds = 6;

/** How strongly a group follows its figure in one round: 1 overshoots less than it might, less is slower (by trial). */
const evenOut = 0.7;
/** A group that misses nothing still keeps this part of what it counts in a round. */
const leastShare = 0.2;
/**
 * A mean of sizes is smallest where misses count by their size, not by its square; then single misses grow. So all count
 * by their square while the mean is at most `easyMean` of what counts as far, and from `tightMean` on by this power of
 * their size, those below half of the mean still by their square. On the family at 5 mm, once single stretches had to
 * agree in length, the square throughout gave mean gaps of 0.108 mm on shell 5 and 0.103 mm on shell 7 (0.100 and 0.096
 * so), this power throughout 0.26 instead of 0.23 mm at the helm's 95th percentile.
 */
const tightPower = 1.45;
const roundedBelow = 0.5;
const easyMean = 0.045;
const tightMean = 0.066;
/** However far a miss is, it counts at most this many times: beyond, the equations lose what holds the other unknowns. */
const mostFar = 1000;
/** Where the mean is tight, what lies below zero counts by this power of its `belowZero`: room for the mean. */
const tightBelow = 0.5;

/**
 * @param misses every unknown must have a miss of its own, so that all of them are held
 * @param start a solution of nearly the same misses
 * @param rounds of weights
 */
export function leastSquares(
  misses: readonly LinearMiss[],
  unknowns: number,
  start: LeastSquares | null = null,
  rounds = usualRounds,
): LeastSquares {
  const rows = misses.map(summed);
  const size = Math.ceil(unknowns / 3);
  const pattern = analyseBlocks(size, blockPairs(rows));
  const squares = rows.map(({ unknown, factor }) => {
    const slots: number[] = [];
    const products: number[] = [];
    unknown.forEach((u, i) => {
      unknown.forEach((v, j) => {
        const [a, b] = [Math.floor(u / 3), Math.floor(v / 3)];
        const { index, transposed } = blockIndex(pattern, a, b);
        // Off the diagonal each pair of blocks is stored once, as the pattern has it.
        if (transposed) return;
        slots.push(9 * index + 3 * (u % 3) + (v % 3));
        products.push(factor[i]! * factor[j]!);
      });
    });
    return { slots: Int32Array.from(slots), products: Float64Array.from(products) };
  });
  const counts = new Map(start?.counts);
  let x: Float64Array = new Float64Array(3 * size);
  if (start) x.set(start.unknowns);
  for (let round = 0; round < rounds; round++) {
    const miss = rows.map(({ constant, unknown, factor }) =>
      unknown.reduce((sum, u, i) => sum + factor[i]! * x[u]!, constant),
    );
    const warm = round > 0 || start !== null;
    if (round > 0) followGroups(counts, misses, miss);
    const tight = warm ? tightness(misses, miss) : 0;
    const bySize = warm ? sizeWeights(misses, miss, tight) : null;
    const mean = Math.sqrt(miss.reduce((sum, v) => sum + v * v, 0) / Math.max(1, miss.length));
    const matrix = emptyBlocks(pattern);
    const pull = new Float64Array(3 * size);
    misses.forEach(({ weight, belowZero = 1, group }, r) => {
      const below = warm && mean > 0 ? partBelow(miss[r]! / mean) : 0;
      const w =
        weight *
        weight *
        (1 + (belowZero ** (1 + (tightBelow - 1) * tight ** 2) - 1) * below) *
        (group === undefined ? 1 : (counts.get(group) ?? 1) * (bySize?.[r] ?? 1));
      const { constant, unknown, factor } = rows[r]!;
      unknown.forEach((u, i) => {
        pull[u]! -= w * factor[i]! * constant;
      });
      const { slots, products } = squares[r]!;
      for (let k = 0; k < slots.length; k++) matrix[slots[k]!]! += w * products[k]!;
    });
    for (let u = unknowns; u < 3 * size; u++)
      matrix[9 * blockIndex(pattern, size - 1, size - 1).index + 4 * (u % 3)] = 1;
    if (!factorise(pattern, matrix))
      throw new GirthwiseError(
        'unheld-unknown',
        'An unknown of the least squares is held by no miss of its own.',
      );
    x = solveBlocks(pattern, matrix, pull);
  }
  return { unknowns: x.subarray(0, unknowns), counts };
}

const meanOf = (values: readonly number[]): number =>
  values.reduce((sum, v) => sum + v, 0) / Math.max(1, values.length);

/** From 0, where the mean is far below what counts as far, to 1, where it is so large that it needs all that can be done. */
function tightness(misses: readonly LinearMiss[], miss: readonly number[]): number {
  const parts = miss.flatMap((m, r) => (misses[r]!.far ? [Math.abs(m) / misses[r]!.far!] : []));
  return Math.min(1, Math.max(0, (meanOf(parts) - easyMean) / (tightMean - easyMean)));
}

/** By miss, what its size makes of its weight; all of them together weigh about as much as without. */
function sizeWeights(
  misses: readonly LinearMiss[],
  miss: readonly number[],
  tight: number,
): readonly number[] | null {
  const sizes = miss.flatMap((m, r) => (misses[r]!.far ? [Math.abs(m)] : []));
  const mean = meanOf(sizes);
  if (mean === 0) return null;
  const power = 2 + (tightPower - 2) * tight;
  const shape = (m: number) => (roundedBelow ** 2 + (m / mean) ** 2) ** (power / 2 - 1);
  const all = meanOf(sizes.map((m) => m * m)) / meanOf(sizes.map((m) => shape(m) * m * m));
  return miss.map((m, r) => {
    const { far = 0 } = misses[r]!;
    return far > 0 ? all * shape(m) * (1 + Math.min(mostFar, (m / far) ** 6)) : 1;
  });
}

/** Groups whose mean is larger count more, in the mean of all groups as much as before. */
function followGroups(
  counts: Map<number, number>,
  misses: readonly LinearMiss[],
  miss: readonly number[],
): void {
  const sums = new Map<number, { sum: number; n: number }>();
  misses.forEach(({ group }, r) => {
    if (group === undefined) return;
    const so = sums.get(group) ?? { sum: 0, n: 0 };
    sums.set(group, { sum: so.sum + Math.abs(miss[r]!), n: so.n + 1 });
  });
  const worst = Math.max(0, ...[...sums.values()].map(({ sum, n }) => sum / n));
  if (worst === 0) return;
  for (const [group, { sum, n }] of sums)
    counts.set(group, (counts.get(group) ?? 1) * Math.max(leastShare, sum / n / worst) ** evenOut);
  const mean = [...counts.values()].reduce((a, b) => a + b, 0) / counts.size;
  for (const [group, count] of counts) counts.set(group, count / mean);
}

interface Row {
  readonly constant: number;
  readonly unknown: readonly number[];
  readonly factor: readonly number[];
}

/** Each unknown once. */
function summed({ constant, terms }: LinearMiss): Row {
  const factors = new Map<number, number>();
  for (const [u, f] of terms) factors.set(u, (factors.get(u) ?? 0) + f);
  return { constant, unknown: [...factors.keys()], factor: [...factors.values()] };
}

function blockPairs(rows: readonly Row[]): [number, number][] {
  const pairs = new Map<string, [number, number]>();
  for (const { unknown } of rows) {
    const blocks = [...new Set(unknown.map((u) => Math.floor(u / 3)))];
    for (const a of blocks) for (const b of blocks) if (a < b) pairs.set(`${a} ${b}`, [a, b]);
  }
  return [...pairs.values()];
}

/** From 0 above zero to 1 below it, without a step: a rounding must not turn into a millimetre. */
const partBelow = (miss: number): number => Math.min(1, Math.max(0, 0.5 - 5 * miss));
