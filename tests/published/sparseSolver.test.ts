/**
 * The sparse factorisation against a dense one of other hands: Cholesky of ml-matrix 6.15.1 (MIT), on the matrices that
 * folding up meets: JᵀJ + damping of the edge lengths of generated shells.
 */
import { CholeskyDecomposition, Matrix } from 'ml-matrix';
import { describe, expect, it } from 'vitest';
import { seededRandom } from '../../src/base';
import { factorise, solveBlocks } from '../../src/math';
import { openShell, solid } from '../support/harbourWatch';
import { lengthSystem } from '../support/lengthSystem';

const meshes = [
  ['icosahedron', () => solid('icosahedron')],
  ['shell of 60', () => openShell({ seed: 3, faces: 60, symmetric: true, net: 'triangles', jitter: 0 })],
  ['shell of 150', () => openShell({ seed: 5, faces: 150, symmetric: false, net: 'mixed', jitter: 0.1 })],
] as const;

describe.each(meshes)('%s', (_, make) => {
  it.each([1, 1e-3, 1e-6])('is solved as by a dense library, damping %d', (damping) => {
    const { pattern, blocks, dense } = lengthSystem(make(), damping);
    const n = dense.length;
    const random = seededRandom(n);
    const right = Float64Array.from({ length: n }, () => random() - 0.5);
    expect(factorise(pattern, blocks)).toBe(true);
    const ours = solveBlocks(pattern, blocks, right);
    const theirs = new CholeskyDecomposition(new Matrix(dense)).solve(Matrix.columnVector([...right]));
    const size = Math.hypot(...theirs.to1DArray());
    let off = 0;
    for (let i = 0; i < n; i++) off = Math.max(off, Math.abs(ours[i]! - theirs.get(i, 0)));
    // Two stable methods differ by the condition number (about 8 / damping here) times the rounding of numbers.
    expect(off / size).toBeLessThan((8 / damping) * 2.3e-16 * 100);
  });
});
