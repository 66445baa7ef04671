import { seededRandom } from '../base';
import { emptyBlocks, factorise, quadraticForm, solveBlocks } from '../math';
import { evaluate } from './evaluate';
import { fromSeats, shareOf, toSeats } from './seats';
import { symmetrise } from './symmetry';
import { type System, type Weights, withoutMirror } from './system';

/**
 * The softest free motions of a folded surface: displacements that keep every length and every face flat to first order
 * and bend the folds as smoothly as they can. Subspace iteration on the inverse of the normal matrix (Bathe and Wilson,
 * from memory), with the lengths far stiffer than the smoothness, the motions of the whole taken out and the mirror
 * symmetry kept.
 */

/** So many are given: the first few move the whole shell, the rest ripple it. */
const shown = 3;
/** Two more are carried along, so that the last one shown settles as well. */
const carried = shown + 2;
const rounds = 12;
/** Damping against the motions of the whole, which cost nothing; far under the softest stiffness. */
const damping = 1e-9;
/** Less smoothness than this part of a length error: the motion stays exact and yet is chosen by smoothness. */
const smoothness = 1e-2;

/** A motion of unit size that costs less than this is free: lengths are met to 1e-5, so less cannot be told from none. */
const free = 1e-9;

export interface FreeMotions {
  /** Free motions: the count, or more where some were found that the count does not see (parallel folds, for example). */
  readonly flexes: number;
  /** Displacements, 3 numbers per vertex, the longest one of each 1, softest first. */
  readonly modes: readonly Float64Array[];
}

/** @param count free motions by count, see `flexCount` */
export function freeMotions(system: System, x: Float64Array, count: number): FreeMotions {
  let flexes = count;
  if (count === 0) {
    const whole = withoutMirror(system);
    const stiffness = emptyBlocks(whole.pattern);
    const rigid: Weights = { ...smoothed, prior: 0 };
    evaluate(whole, x, rigid, { blocks: stiffness, gradient: new Float64Array(x.length) });
    flexes = softest(whole, x).filter((d) => quadraticForm(whole.pattern, stiffness, d) < free).length;
    if (flexes === 0) return { flexes, modes: [] };
  }
  let modes = softest(system, x);
  if (modes.length === 0 && system.mirror) modes = softest(withoutMirror(system), x);
  return {
    flexes,
    modes: modes.slice(0, Math.min(shown, flexes)).map((d) => {
      let longest = 0;
      for (let i = 0; i < d.length; i += 3)
        longest = Math.max(longest, Math.hypot(d[i]!, d[i + 1]!, d[i + 2]!));
      return d.map((s) => s / longest);
    }),
  };
}

const smoothed: Weights = { sign: 0, margin: 0, bend: 0, target: 0, prior: smoothness, huber: 1e6 };

/** The softest displacements of unit size that the system allows, softest first. */
function softest(system: System, x: Float64Array): Float64Array[] {
  const { pattern, mirror, seats } = system;
  const blocks = emptyBlocks(pattern);
  evaluate(system, x, smoothed, { blocks, gradient: new Float64Array(x.length) });
  for (let v = 0; v < pattern.size; v++) {
    const d = pattern.columnStart[pattern.place[v]!]! * 9;
    for (const k of [0, 4, 8]) blocks[d + k]! += damping * shareOf(seats, v);
  }
  if (!factorise(pattern, blocks)) return [];
  const whole = motionsOfWhole(x);
  const random = seededRandom(11);
  let basis: Float64Array[] = Array.from({ length: carried }, () =>
    Float64Array.from({ length: x.length }, () => random() - 0.5),
  );
  const clean = (d: Float64Array, before: readonly Float64Array[]) => {
    const size = Math.sqrt(dot(d, d));
    if (mirror) symmetrise(d, mirror);
    for (const w of [...whole, ...before]) takeOut(d, w);
    const left = Math.sqrt(dot(d, d));
    if (left < 1e-9 * size) return null;
    for (let i = 0; i < d.length; i++) d[i] = d[i]! / left;
    return d;
  };
  basis = basis.flatMap((d) => clean(d, []) ?? []);
  let gains: number[] = [];
  for (let round = 0; round < rounds; round++) {
    const next: Float64Array[] = [];
    const found: number[] = [];
    for (const b of basis) {
      const solved = fromSeats(seats, solveBlocks(pattern, blocks, toSeats(seats, b)));
      const gain = dot(solved, b);
      const d = clean(solved, next);
      if (!d) continue;
      next.push(d);
      found.push(gain);
    }
    basis = next;
    gains = found;
  }
  return basis
    .map((d, i) => ({ d, gain: gains[i]! }))
    .sort((p, q) => q.gain - p.gain)
    .map(({ d }) => d);
}

function dot(a: Float64Array, b: Float64Array): number {
  let s = 0;
  for (let i = 0; i < a.length; i++) s += a[i]! * b[i]!;
  return s;
}

function takeOut(d: Float64Array, unit: Float64Array): void {
  const s = dot(d, unit);
  for (let i = 0; i < d.length; i++) d[i] = d[i]! - s * unit[i]!;
}

/** Three shifts and three turns of the whole as an orthonormal set. */
function motionsOfWhole(x: Float64Array): Float64Array[] {
  const n = x.length / 3;
  const middle = [0, 0, 0];
  for (let i = 0; i < x.length; i++) middle[i % 3]! += x[i]! / n;
  const out: Float64Array[] = [];
  const add = (d: Float64Array) => {
    for (const w of out) takeOut(d, w);
    const size = Math.sqrt(dot(d, d));
    if (size > 1e-9) out.push(d.map((s) => s / size));
  };
  for (let k = 0; k < 3; k++) add(Float64Array.from(x, (_, i) => (i % 3 === k ? 1 : 0)));
  for (let k = 0; k < 3; k++) {
    const [p, q] = [(k + 1) % 3, (k + 2) % 3];
    const d = new Float64Array(x.length);
    for (let v = 0; v < n; v++) {
      d[v * 3 + p] = -(x[v * 3 + q]! - middle[q]!);
      d[v * 3 + q] = x[v * 3 + p]! - middle[p]!;
    }
    add(d);
  }
  return out;
}
