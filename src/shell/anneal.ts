import { descend } from './descend';
import { isLocal } from './strain';
import type { System, Weights } from './system';

/** The annealing of the smoothness prior: its weight goes down in steps, and rho is read from the last two costs. */

export const off: Weights = { sign: 0, margin: 0, bend: 0, target: 0, prior: 0, huber: 0.05 };
/** Annealing of the prior, (weight, sign weight): down to .1, where a cost is read, and the rest. */
const annealTop: readonly (readonly [number, number])[] = [
  [0.5, 2],
  [0.1, 2],
];
const annealRestStages: readonly (readonly [number, number])[] = [
  [0.03, 1],
  [0.01, 0.3],
];
/** Descent stops when a step gains less than this part of the cost: less on the way, fine where rho is read. */
export const settleMiddle = 1e-5;
const settleFine = 1e-7;
/** Most steps where the cost is read, and in between: those are only on the way (60 there were no better, 12 worse). */
const stepsRead = 60;
const stepsOnTheWay = 25;
/** Where only a look is wanted. */
const stepsRough = 20;
const settleLook = 1e-3;
/** Half squared residuals per edge under this are rounding, mm². */
const noStrain = 1e-14;

/** An annealing stopped at prior weight .1, and what [cost / w²] is there. */
export interface Halfway {
  readonly x: Float64Array;
  readonly costAtTenth: number;
}

export interface Annealed {
  readonly x: Float64Array;
  readonly cost: number;
  readonly costAtTenth: number;
  readonly rho: number;
}

/** One stage of the annealing: fine where the cost is read, rough on the way. */
function stage(system: System, x: Float64Array, prior: number, sign: number) {
  const read = prior === 0.1 || prior === 0.01;
  const settle = read ? settleFine : settleMiddle;
  return descend(system, x, { ...off, prior, sign }, read ? stepsRead : stepsOnTheWay, { settle });
}

export function annealHalf(
  system: System,
  start: Float64Array,
  lead: readonly (readonly [number, number, number])[] = [],
): Halfway {
  let x = start;
  for (const [prior, sign, margin] of lead)
    x = descend(system, x, { ...off, prior, sign, margin }, 40, { settle: settleMiddle }).x;
  let cost = 0;
  // A kick has its own way down to a prior of .1.
  for (const [prior, sign] of lead.length > 0 ? annealTop.slice(-1) : annealTop) {
    const done = stage(system, x, prior, sign);
    x = done.x;
    cost = done.cost;
  }
  return { x, costAtTenth: cost / 0.01 };
}

export function annealRest(system: System, { x: start, costAtTenth }: Halfway): Annealed {
  let x = start;
  let cost = 0;
  for (const [prior, sign] of annealRestStages) {
    const done = stage(system, x, prior, sign);
    x = done.x;
    cost = done.cost;
  }
  const atHundredth = cost / 1e-4;
  // Without strain anywhere (a single face, a convex solid) both figures are rounding noise.
  const strained = cost > noStrain * system.topology.edges.length && isLocal(system, x);
  return { x, cost, costAtTenth, rho: strained ? atHundredth / costAtTenth : 1 };
}

export const annealFrom = (...at: Parameters<typeof annealHalf>) => annealRest(at[0], annealHalf(...at));

/** From a shell that is nearly the one wanted: only from where the cost is first read. */
export function annealNear(system: System, start: Float64Array): Annealed {
  const [prior, sign] = annealTop[annealTop.length - 1]!;
  const { x, cost } = stage(system, start, prior, sign);
  return annealRest(system, { x, costAtTenth: cost / 0.01 });
}

/**
 * Only the first step, for a look. While the smoothness still weighs, what is wrong shows where it is; annealed to the
 * end a shell that moves freely gives way elsewhere (pieces in wrong places pulled their corners by 0.09–0.33 of the
 * way so, by 0.01–0.10 at the end; own family, 900 faces).
 */
export function annealRough(system: System, start: Float64Array): Annealed {
  const [prior, sign] = annealTop[0]!;
  const { x, cost } = descend(system, start, { ...off, prior, sign }, stepsRough, { settle: settleLook });
  return { x, cost, costAtTenth: cost, rho: 1 };
}
