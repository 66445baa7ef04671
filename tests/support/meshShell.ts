/** A known mesh as flat faces to fold up again, and how far two shells are apart after a rigid alignment. */
import { buildTopology, type ShellTopology } from '../../src/shell';
import { cross3, dot3, minus, polygonNormal, type ShellMesh, unit3 } from './harbourWatch';

export function topologyFromMesh(mesh: ShellMesh): ShellTopology {
  const faces = mesh.faces.map((loop) => {
    const points = loop.map((v) => mesh.vertices[v]!);
    const origin = points[0]!;
    const along = unit3(minus(points[1]!, origin));
    const up = cross3(polygonNormal(points), along);
    return {
      vertices: loop,
      flat: points.map((p) => ({ x: dot3(minus(p, origin), along), y: dot3(minus(p, origin), up) })),
    };
  });
  return buildTopology(mesh.vertices.length, faces);
}

/**
 * RMS distance of corresponding vertices after the best rotation and shift (no mirroring), in the unit of the input.
 * Horn's method of unit quaternions (1987, from memory); leading eigenvector by shifted power iteration.
 */
export function alignedRms(a: Float64Array, b: Float64Array): number {
  const n = a.length / 3;
  const ca = [0, 0, 0];
  const cb = [0, 0, 0];
  for (let i = 0; i < a.length; i++) {
    ca[i % 3]! += a[i]! / n;
    cb[i % 3]! += b[i]! / n;
  }
  const s = [0, 1, 2].map(() => [0, 0, 0]);
  let squares = 0;
  for (let i = 0; i < n; i++) {
    for (let r = 0; r < 3; r++) {
      for (let c = 0; c < 3; c++) s[r]![c]! += (a[i * 3 + r]! - ca[r]!) * (b[i * 3 + c]! - cb[c]!);
      squares += (a[i * 3 + r]! - ca[r]!) ** 2 + (b[i * 3 + r]! - cb[r]!) ** 2;
    }
  }
  const at = (r: number, c: number) => s[r]![c]!;
  const m = [
    [at(0, 0) + at(1, 1) + at(2, 2), at(1, 2) - at(2, 1), at(2, 0) - at(0, 2), at(0, 1) - at(1, 0)],
    [at(1, 2) - at(2, 1), at(0, 0) - at(1, 1) - at(2, 2), at(0, 1) + at(1, 0), at(2, 0) + at(0, 2)],
    [at(2, 0) - at(0, 2), at(0, 1) + at(1, 0), at(1, 1) - at(0, 0) - at(2, 2), at(1, 2) + at(2, 1)],
    [at(0, 1) - at(1, 0), at(2, 0) + at(0, 2), at(1, 2) + at(2, 1), at(2, 2) - at(0, 0) - at(1, 1)],
  ];
  const shift = m.flat().reduce((sum, v) => sum + Math.abs(v), 0);
  let q = [1, 0.3, 0.2, 0.1];
  let leading = 0;
  for (let round = 0; round < 4000; round++) {
    const next = q.map((own, r) => shift * own + m[r]!.reduce((sum, v, k) => sum + v * q[k]!, 0));
    const size = Math.hypot(...next);
    q = next.map((v) => v / size);
    leading = size - shift;
  }
  return Math.sqrt(Math.max(0, squares - 2 * leading) / n);
}
