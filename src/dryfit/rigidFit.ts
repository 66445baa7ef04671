/**
 * The rotation and shift that bring one set of points nearest to another, by least squares, without mirroring. Unit
 * quaternions after Horn (1987, from memory), the leading eigenvector of his symmetric 4 × 4 matrix by cyclic Jacobi.
 */
import { add3, type Point3, point3, scaleBy3, subtract3 } from '../math';

export interface RigidMotion {
  readonly turn: (p: Point3) => Point3;
  readonly move: (p: Point3) => Point3;
}

/** @param from, to corresponding points, at least one */
export function rigidFit(from: readonly Point3[], to: readonly Point3[]): RigidMotion {
  const a = middleOf(from);
  const b = middleOf(to);
  const s = [0, 0, 0].map(() => [0, 0, 0]);
  from.forEach((p, k) => {
    const d = subtract3(p, a);
    const e = subtract3(to[k]!, b);
    const [u, v] = [
      [d.x, d.y, d.z],
      [e.x, e.y, e.z],
    ];
    for (let r = 0; r < 3; r++) for (let c = 0; c < 3; c++) s[r]![c]! += u![r]! * v![c]!;
  });
  const at = (r: number, c: number) => s[r]![c]!;
  const [w, x, y, z] = leadingVector([
    [at(0, 0) + at(1, 1) + at(2, 2), at(1, 2) - at(2, 1), at(2, 0) - at(0, 2), at(0, 1) - at(1, 0)],
    [at(1, 2) - at(2, 1), at(0, 0) - at(1, 1) - at(2, 2), at(0, 1) + at(1, 0), at(2, 0) + at(0, 2)],
    [at(2, 0) - at(0, 2), at(0, 1) + at(1, 0), at(1, 1) - at(0, 0) - at(2, 2), at(1, 2) + at(2, 1)],
    [at(0, 1) - at(1, 0), at(2, 0) + at(0, 2), at(1, 2) + at(2, 1), at(2, 2) - at(0, 0) - at(1, 1)],
  ]) as [number, number, number, number];
  const turn = (p: Point3): Point3 =>
    point3(
      (1 - 2 * (y * y + z * z)) * p.x + 2 * (x * y - w * z) * p.y + 2 * (x * z + w * y) * p.z,
      2 * (x * y + w * z) * p.x + (1 - 2 * (x * x + z * z)) * p.y + 2 * (y * z - w * x) * p.z,
      2 * (x * z - w * y) * p.x + 2 * (y * z + w * x) * p.y + (1 - 2 * (x * x + y * y)) * p.z,
    );
  return { turn, move: (p) => add3(b, turn(subtract3(p, a))) };
}

const middleOf = (points: readonly Point3[]): Point3 =>
  scaleBy3(points.reduce(add3, point3(0, 0, 0)), 1 / points.length);

/** Unit eigenvector of the largest eigenvalue of a symmetric matrix. */
function leadingVector(given: readonly (readonly number[])[]): number[] {
  const n = given.length;
  const m = given.map((row) => [...row]);
  const v = given.map((_, r) => given.map((__, c) => (r === c ? 1 : 0) as number));
  for (let sweep = 0; sweep < 60; sweep++) {
    let off = 0;
    let all = 0;
    for (let p = 0; p < n; p++)
      for (let q = 0; q < n; q++) {
        all += m[p]![q]! ** 2;
        if (p !== q) off += m[p]![q]! ** 2;
      }
    if (off <= 1e-30 * all) break;
    for (let p = 0; p < n; p++)
      for (let q = p + 1; q < n; q++) {
        if (m[p]![q] === 0) continue;
        const angle = 0.5 * Math.atan2(2 * m[p]![q]!, m[q]![q]! - m[p]![p]!);
        const [c, s] = [Math.cos(angle), Math.sin(angle)];
        const mix = (row: number[]) => {
          const [a, b] = [row[p]!, row[q]!];
          row[p] = c * a - s * b;
          row[q] = s * a + c * b;
        };
        for (const row of m) mix(row);
        for (let k = 0; k < n; k++) {
          const [a, b] = [m[p]![k]!, m[q]![k]!];
          m[p]![k] = c * a - s * b;
          m[q]![k] = s * a + c * b;
        }
        for (const row of v) mix(row);
      }
  }
  let best = 0;
  for (let k = 1; k < n; k++) if (m[k]![k]! > m[best]![best]!) best = k;
  return v.map((row) => row[best]!);
}
