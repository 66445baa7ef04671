import { emptyBlocks, factorise, solveBlocks } from '../math';
import { evaluate } from './evaluate';
import { fromSeats, shareOf, toSeats } from './seats';
import { symmetrise } from './symmetry';
import type { System, Weights } from './system';

export interface Descent {
  readonly x: Float64Array;
  readonly cost: number;
  readonly steps: number;
}

/** A step is shortened by this factor while it gains nothing, down to this part of it. */
const shorten = 0.4;
const shortestPart = 0.05;

/** Longest move of any vertex in one step, mm. */
const longestMove = 30;

/**
 * Damped Gauss–Newton with geodesic acceleration on the length rows (Transtrum & Sethna 2012, from memory) from `start`, at most `maxSteps` tries, until a step gains less than
 * `settle` of the cost.
 */
export function descend(
  system: System,
  start: Float64Array,
  weights: Weights,
  maxSteps: number,
  options: { readonly damping?: number; readonly settle?: number; readonly pinned?: Uint8Array } = {},
): Descent {
  const { pattern, seats, mirror } = system;
  const blocks = emptyBlocks(pattern);
  const factor = emptyBlocks(pattern);
  const size = start.length;
  const gradient = new Float64Array(pattern.size * 3);
  const settle = options.settle ?? 1e-9;
  let x = start.slice();
  if (mirror) symmetrise(x, mirror);
  let cost = evaluate(system, x, weights, { blocks, gradient });
  let tau = options.damping ?? 1e-2;
  let steps = 0;
  let quiet = 0;
  const negative = new Float64Array(gradient.length);
  for (; steps < maxSteps; steps++) {
    factor.set(blocks);
    for (let v = 0; v < pattern.size; v++) {
      const d = pattern.columnStart[pattern.place[v]!]! * 9;
      const pin = options.pinned?.[v] ? 1e12 : 0;
      const more = tau * shareOf(seats, v) + pin;
      factor[d]! += more;
      factor[d + 4]! += more;
      factor[d + 8]! += more;
    }
    if (!factorise(pattern, factor)) {
      tau = Math.max(tau * 10, 1e-8);
      continue;
    }
    for (let i = 0; i < negative.length; i++) negative[i] = -gradient[i]!;
    const rowStep = solveBlocks(pattern, factor, negative);
    const step = fromSeats(seats, rowStep);
    let longest = 0;
    for (let i = 0; i < size; i += 3)
      longest = Math.max(longest, Math.hypot(step[i]!, step[i + 1]!, step[i + 2]!));
    const bend = secondOrder(system, x, step);
    const curve = fromSeats(seats, solveBlocks(pattern, factor, toSeats(seats, bend)));
    let stepNorm = 0;
    let curveNorm = 0;
    for (let i = 0; i < size; i++) {
      stepNorm += step[i]! * step[i]!;
      curveNorm += curve[i]! * curve[i]!;
    }
    // Along the curve x + a·step + a²/2·curve a shorter way costs one evaluation, a new factorisation ten times that.
    let part = Math.min(1, longestMove / longest, 0.75 * Math.sqrt(stepNorm / curveNorm));
    if (!(part > shortestPart)) {
      tau *= 5;
      if (tau > 1e9) break;
      continue;
    }
    let promised = tau * stepNorm;
    for (let i = 0; i < rowStep.length; i++) promised -= rowStep[i]! * gradient[i]!;
    promised /= 2;
    const whole = part === 1;
    const next = new Float64Array(size);
    let nextCost = cost;
    let atRest = false;
    for (; part > shortestPart; part *= shorten) {
      for (let i = 0; i < size; i++) next[i] = x[i]! + part * (step[i]! + (part * curve[i]!) / 2);
      nextCost = evaluate(system, next, weights);
      atRest = cost - nextCost > -1e-14 * cost && promised < settle * cost;
      if (nextCost < cost || atRest) break;
    }
    if (!(nextCost < cost)) {
      if (atRest) break;
      tau *= 5;
      if (tau > 1e9) break;
      continue;
    }
    const gain = whole && part === 1 && promised > 0 ? (cost - nextCost) / promised : 0;
    const won = cost - nextCost;
    x = next;
    cost = evaluate(system, x, weights, { blocks, gradient });
    if (gain > 0.6) tau = Math.max(tau / 6, 1e-12);
    else if (part < 1) tau *= 2;
    else if (gain < 0.2) tau *= 3;
    quiet = won < settle * cost ? quiet + 1 : 0;
    if (quiet >= 2 || cost < 1e-24) {
      steps++;
      break;
    }
  }
  return { x, cost, steps };
}

/** Right side of the acceleration: −Σ r″ ∇r over the length rows along the step. */
function secondOrder(system: System, x: Float64Array, step: Float64Array): Float64Array {
  const out = new Float64Array(x.length);
  const { pairA, pairB, pairWeight } = system;
  for (let k = 0; k < pairA.length; k++) {
    const a = pairA[k]! * 3;
    const b = pairB[k]! * 3;
    const dx = x[b]! - x[a]!;
    const dy = x[b + 1]! - x[a + 1]!;
    const dz = x[b + 2]! - x[a + 2]!;
    const d = Math.sqrt(dx * dx + dy * dy + dz * dz) || 1e-9;
    const ux = dx / d;
    const uy = dy / d;
    const uz = dz / d;
    const vx = step[b]! - step[a]!;
    const vy = step[b + 1]! - step[a + 1]!;
    const vz = step[b + 2]! - step[a + 2]!;
    const along = ux * vx + uy * vy + uz * vz;
    const f = ((vx * vx + vy * vy + vz * vz - along * along) / d) * pairWeight[k]! * pairWeight[k]!;
    out[a]! += f * ux;
    out[a + 1]! += f * uy;
    out[a + 2]! += f * uz;
    out[b]! -= f * ux;
    out[b + 1]! -= f * uy;
    out[b + 2]! -= f * uz;
  }
  return out;
}
