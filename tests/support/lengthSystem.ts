/** JᵀJ + damping · I for the edge lengths of a mesh, as sparse blocks and dense. */
import { analyseBlocks, type BlockPattern, blockIndex, emptyBlocks } from '../../src/math';
import type { ShellMesh } from './harbourWatch';

export interface LengthSystem {
  readonly pattern: BlockPattern;
  readonly blocks: Float64Array;
  readonly dense: number[][];
}

/** @param dense false leaves the dense matrix empty, for large meshes */
export function lengthSystem(mesh: ShellMesh, damping: number, dense = true): LengthSystem {
  const pairs = new Map<string, readonly [number, number]>();
  for (const ring of mesh.faces)
    ring.forEach((a, i) => {
      const b = ring[(i + 1) % ring.length]!;
      pairs.set(`${Math.min(a, b)} ${Math.max(a, b)}`, [Math.min(a, b), Math.max(a, b)]);
    });
  const size = mesh.vertices.length;
  const pattern = analyseBlocks(size, pairs.values());
  const blocks = emptyBlocks(pattern);
  const full = dense ? Array.from({ length: 3 * size }, () => new Array<number>(3 * size).fill(0)) : [];
  const add = (a: number, b: number, r: number, c: number, value: number) => {
    if (dense) full[a * 3 + r]![b * 3 + c]! += value;
    const { index, transposed } = blockIndex(pattern, a, b);
    if (a === b || !transposed) blocks[index * 9 + r * 3 + c]! += value;
  };
  for (let v = 0; v < size; v++) for (let r = 0; r < 3; r++) add(v, v, r, r, damping);
  for (const [a, b] of pairs.values()) {
    const [p, q] = [mesh.vertices[a]!, mesh.vertices[b]!];
    const d = [q.x - p.x, q.y - p.y, q.z - p.z];
    const length = Math.hypot(...d);
    const u = d.map((v) => v / length);
    for (let r = 0; r < 3; r++)
      for (let c = 0; c < 3; c++) {
        const value = u[r]! * u[c]!;
        add(a, a, r, c, value);
        add(b, b, r, c, value);
        add(a, b, r, c, -value);
        add(b, a, r, c, -value);
      }
  }
  return { pattern, blocks, dense: full };
}
