/**
 * Flat corners whose distances are as wanted, as well as they can be: a ring of faces round an inner corner that no
 * longer closes is spread over the panel. Weighted least squares on the distances by Gauss and Newton with damping
 * (Levenberg and Marquardt), dense: panels have tens of corners, rarely hundreds.
 */
import { distance, type Point, point } from '../math';
import type { Mm } from '../units';

/** Two corners that should be this far apart. */
export interface WantedLength {
  readonly a: number;
  readonly b: number;
  readonly length: Mm;
  readonly weight: number;
}

/** Steps shorter than this end the search, mm: far below what is printed. */
const settled: Mm = 1e-9;
const mostSteps = 40;

/** @returns the corners moved; their middle and their turn stay about where they were. */
export function settleFlat(start: readonly Point[], wanted: readonly WantedLength[]): Point[] {
  let at = [...start];
  let cost = costOf(at, wanted);
  let damping = 1e-6;
  for (let step = 0; step < mostSteps; step++) {
    const { matrix, pull } = normalEquations(at, wanted);
    let moved = false;
    let largest = 0;
    for (let attempt = 0; attempt < 12 && !moved; attempt++) {
      const d = solveDamped(matrix, pull, damping);
      const next = at.map((p, k) => point(p.x + d[2 * k]!, p.y + d[2 * k + 1]!));
      const reached = costOf(next, wanted);
      if (reached <= cost) {
        largest = Math.max(...d.map(Math.abs));
        at = next;
        cost = reached;
        damping = Math.max(1e-12, damping / 10);
        moved = true;
      } else damping *= 10;
    }
    if (!moved || largest < settled) break;
  }
  return at;
}

/** Of several flat places of the same corners those whose distances are nearest to the wanted ones. */
export const nearest = (
  candidates: readonly (readonly Point[])[],
  wanted: readonly WantedLength[],
): readonly Point[] =>
  candidates.reduce((best, at) => (costOf(at, wanted) < costOf(best, wanted) ? at : best));

const costOf = (at: readonly Point[], wanted: readonly WantedLength[]): number =>
  wanted.reduce((sum, { a, b, length, weight }) => {
    const miss = weight * (distance(at[a]!, at[b]!) - length);
    return sum + miss * miss;
  }, 0);

function normalEquations(at: readonly Point[], wanted: readonly WantedLength[]) {
  const n = 2 * at.length;
  const matrix = new Float64Array(n * n);
  const pull = new Float64Array(n);
  for (const { a, b, length, weight } of wanted) {
    const far = distance(at[a]!, at[b]!);
    if (far === 0) continue;
    const g = [(at[b]!.x - at[a]!.x) / far, (at[b]!.y - at[a]!.y) / far] as const;
    const slots = [2 * a, 2 * a + 1, 2 * b, 2 * b + 1];
    const slopes = [-g[0], -g[1], g[0], g[1]];
    const w = weight * weight;
    const miss = far - length;
    slots.forEach((r, i) => {
      pull[r]! -= w * slopes[i]! * miss;
      slots.forEach((c, j) => {
        matrix[r * n + c]! += w * slopes[i]! * slopes[j]!;
      });
    });
  }
  return { matrix, pull };
}

/** Cholesky factors of the matrix with damping on its diagonal; the damping also holds the free motions of the whole. */
function solveDamped(matrix: Float64Array, pull: Float64Array, damping: number): Float64Array {
  const n = pull.length;
  const l = Float64Array.from(matrix);
  let mean = 0;
  for (let k = 0; k < n; k++) mean += matrix[k * n + k]! / n;
  for (let k = 0; k < n; k++) l[k * n + k]! += damping * mean + 1e-12;
  for (let j = 0; j < n; j++) {
    for (let k = 0; k < j; k++) {
      const f = l[j * n + k]!;
      if (f === 0) continue;
      for (let i = j; i < n; i++) l[i * n + j]! -= l[i * n + k]! * f;
    }
    const pivot = Math.sqrt(Math.max(l[j * n + j]!, 1e-30));
    for (let i = j; i < n; i++) l[i * n + j]! /= pivot;
  }
  const x = Float64Array.from(pull);
  for (let i = 0; i < n; i++) {
    for (let k = 0; k < i; k++) x[i]! -= l[i * n + k]! * x[k]!;
    x[i]! /= l[i * n + i]!;
  }
  for (let i = n - 1; i >= 0; i--) {
    for (let k = i + 1; k < n; k++) x[i]! -= l[k * n + i]! * x[k]!;
    x[i]! /= l[i * n + i]!;
  }
  return x;
}
