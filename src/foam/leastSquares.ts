/**
 * Sparse weighted least squares: unknowns that make many linear misses small at once. The normal equations are factored
 * as blocks of three unknowns; weights follow the sign of a miss, where a row says so, over a few rounds.
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
}

/** Rounds of weights, one for each change of which misses are below zero; the last ones change few. */
const rounds = 4;

/**
 * @param misses every unknown must have a miss of its own, so that all of them are held
 * @returns the unknowns
 */
export function leastSquares(misses: readonly LinearMiss[], unknowns: number): Float64Array {
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
  let x: Float64Array = new Float64Array(3 * size);
  for (let round = 0; round < rounds; round++) {
    const miss = rows.map(({ constant, unknown, factor }) =>
      unknown.reduce((sum, u, i) => sum + factor[i]! * x[u]!, constant),
    );
    const mean = Math.sqrt(miss.reduce((sum, v) => sum + v * v, 0) / Math.max(1, miss.length));
    const matrix = emptyBlocks(pattern);
    const pull = new Float64Array(3 * size);
    misses.forEach(({ weight, belowZero = 1 }, r) => {
      const below = round > 0 && mean > 0 ? partBelow(miss[r]! / mean) : 0;
      const w = weight * weight * (1 + (belowZero - 1) * below);
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
  return x.subarray(0, unknowns);
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
