import { describe, expect, it } from 'vitest';
import { seededRandom } from '../../src/base';
import {
  analyseBlocks,
  blockIndex,
  emptyBlocks,
  factorise,
  quadraticForm,
  solveBlocks,
} from '../../src/math';

/** A random mesh-like matrix JᵀJ + I, both as sparse blocks and dense. */
function randomSystem(size: number, seed: number) {
  const random = seededRandom(seed);
  const pairs: [number, number][] = [];
  for (let v = 1; v < size; v++) pairs.push([v, Math.floor(random() * v)]);
  for (let k = 0; k < size; k++) pairs.push([Math.floor(random() * size), Math.floor(random() * size)]);
  const pattern = analyseBlocks(size, pairs);
  const blocks = emptyBlocks(pattern);
  const n = size * 3;
  const dense = Array.from({ length: n }, () => new Float64Array(n));
  const addTo = (a: number, b: number, r: number, c: number, value: number) => {
    dense[a * 3 + r]![b * 3 + c]! += value;
    const { index, transposed } = blockIndex(pattern, a, b);
    // Every ordered pair is added once; the lower triangle alone is stored.
    if (a === b || !transposed) blocks[index * 9 + r * 3 + c]! += value;
  };
  for (let v = 0; v < size; v++) for (let r = 0; r < 3; r++) addTo(v, v, r, r, 1);
  for (const [a, b] of pairs) {
    if (a === b) continue;
    const ja = [random() - 0.5, random() - 0.5, random() - 0.5];
    const jb = [random() - 0.5, random() - 0.5, random() - 0.5];
    for (const [p, jp] of [
      [a, ja],
      [b, jb],
    ] as const) {
      for (const [q, jq] of [
        [a, ja],
        [b, jb],
      ] as const) {
        for (let r = 0; r < 3; r++) for (let c = 0; c < 3; c++) addTo(p, q, r, c, jp[r]! * jq[c]!);
      }
    }
  }
  const b = Float64Array.from({ length: n }, () => random() - 0.5);
  return { pattern, blocks, dense, b };
}

/** Gaussian elimination with partial pivoting: an independent dense reference. */
function denseSolve(matrix: Float64Array[], right: Float64Array): Float64Array {
  const a = matrix.map((row, i) => [...row, right[i]!]);
  const n = a.length;
  for (let k = 0; k < n; k++) {
    let pivot = k;
    for (let i = k + 1; i < n; i++) if (Math.abs(a[i]![k]!) > Math.abs(a[pivot]![k]!)) pivot = i;
    [a[k], a[pivot]] = [a[pivot]!, a[k]!];
    for (let i = k + 1; i < n; i++) {
      const f = a[i]![k]! / a[k]![k]!;
      for (let j = k; j <= n; j++) a[i]![j]! -= f * a[k]![j]!;
    }
  }
  const x = new Float64Array(n);
  for (let i = n - 1; i >= 0; i--) {
    let s = a[i]![n]!;
    for (let j = i + 1; j < n; j++) s -= a[i]![j]! * x[j]!;
    x[i] = s / a[i]![i]!;
  }
  return x;
}

describe('block Cholesky', () => {
  it.each([1, 2, 7, 40, 90])('solves %i block rows like dense elimination', (size) => {
    const { pattern, blocks, dense, b } = randomSystem(size, 1000 + size);
    expect(factorise(pattern, blocks)).toBe(true);
    const x = solveBlocks(pattern, blocks, b);
    const reference = denseSolve(dense, b);
    for (let i = 0; i < x.length; i++) expect(x[i]).toBeCloseTo(reference[i]!, 9);
  });

  it('weighs a vector like the dense matrix', () => {
    const { pattern, blocks, dense, b } = randomSystem(30, 77);
    const wanted = b.reduce((sum, v, r) => sum + v * dense[r]!.reduce((s, m, c) => s + m * b[c]!, 0), 0);
    expect(quadraticForm(pattern, blocks, b)).toBeCloseTo(wanted, 9);
  });

  it('says when a matrix is not positive definite', () => {
    const pattern = analyseBlocks(2, [[0, 1]]);
    const blocks = emptyBlocks(pattern);
    expect(factorise(pattern, blocks)).toBe(false);
  });

  it('refuses blocks outside the matrix', () => {
    expect(() => analyseBlocks(2, [[0, 2]])).toThrow(/outside/);
  });
});
