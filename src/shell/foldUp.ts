import { unwatched, type Work } from '../base';
import { bendAngles, buildHinges, type Hinges } from './hinge';
import { buildPriorRows } from './priorRows';
import { repairPops } from './repair';
import { scaledStart, surfaceDistances } from './start';
import {
  buildSystem,
  descend,
  evaluate,
  type KnownBend,
  type KnownDistance,
  type System,
  type Weights,
} from './system';
import type { ShellTopology } from './topology';

/**
 * Folds flat faces up into a shell: positions of all vertices such that every face keeps its shape.
 * Steps: scaled starts → coarse descent with fold signs → repair of snapped-through spots → smoothness prior, annealed →
 * health figure rho → kicks with a sign margin while rho is bad. Schedule and figures after the project's own study.
 */
export interface FoldInput {
  readonly topology: ShellTopology;
  /** +1 mountain, −1 valley, 0 unknown, by edge index. */
  readonly signOfEdge: Int8Array;
  readonly knownBends?: readonly { readonly edge: number; readonly bend: number; readonly weight: number }[];
  readonly knownDistances?: readonly KnownDistance[];
}

export interface FoldedUp {
  /** 3 numbers per vertex, mm. */
  readonly positions: Float64Array;
  /** Bend of each edge of the topology, NaN where open. */
  readonly bends: Float64Array;
  readonly hinges: Hinges;
  /** Lengths of edges and diagonals against flat, mm. */
  readonly residual: { readonly rms: number; readonly max: number };
  /** [cost / w²] at prior weight .01 over the same at .1: 1.00–1.08 at a clean minimum. */
  readonly rho: number;
  /** Folds that bend against their drawn sign by more than 0.03 rad. */
  readonly wrongSigns: number;
  /** Exact flexes of the open components: border edges − 3 for each disc. */
  readonly flexes: number;
}

const off: Weights = { sign: 0, margin: 0, bend: 0, target: 0, prior: 0, huber: 0.05 };
/** Coarse stage: (w, t) of the bend term. */
const coarse: readonly (readonly [number, number])[] = [
  [20, 0.3],
  [4, 0.2],
  [1, 0.1],
  [0.3, 0],
];
/** Annealing of the prior: (weight, sign weight). */
const anneal: readonly (readonly [number, number])[] = [
  [0.5, 2],
  [0.1, 2],
  [0.03, 1],
  [0.01, 0.3],
];
/** Kicks: (weight, sign weight, margin) before the anneal. */
const kicks: readonly (readonly (readonly [number, number, number])[])[] = [
  [[0.1, 5, 0.03]],
  [
    [1, 10, 0.02],
    [0.3, 3, 0.01],
  ],
  [[0.2, 20, 0.02]],
];
/** Roundness of the scaled starts, most likely first. */
const roundnesses = [1.05, 1.4, 0.8, 2.5, Number.POSITIVE_INFINITY];

/** A health figure under this counts as clean. */
const cleanRho = 1.1;

interface Annealed {
  readonly x: Float64Array;
  readonly cost: number;
  readonly rho: number;
}

function annealFrom(
  system: System,
  start: Float64Array,
  lead: readonly (readonly [number, number, number])[] = [],
): Annealed {
  let x = start;
  let costAtTenth = 0;
  let cost = 0;
  for (const [prior, sign, margin] of lead) x = descend(system, x, { ...off, prior, sign, margin }, 60).x;
  for (const [prior, sign] of anneal) {
    if (lead.length > 0 && prior > 0.1) continue;
    const done = descend(system, x, { ...off, prior, sign }, 60);
    x = done.x;
    cost = done.cost;
    if (prior === 0.1) costAtTenth = done.cost / 0.01;
  }
  const atHundredth = cost / 1e-4;
  return { x, cost, rho: costAtTenth > 0 ? atHundredth / costAtTenth : 1 };
}

/**
 * @param work progress and cancel
 * @throws Cancelled
 */
export async function foldUp(input: FoldInput, work: Work = unwatched): Promise<FoldedUp> {
  const { topology } = input;
  const hinges = buildHinges(topology);
  const signs = Int8Array.from(hinges.edgeOf, (e) => input.signOfEdge[e]!);
  const knownBends: KnownBend[] = (input.knownBends ?? []).flatMap((k) => {
    const hinge = hinges.hingeOf[k.edge]!;
    return hinge < 0 ? [] : [{ hinge, bend: k.bend, weight: k.weight }];
  });
  const known = { bends: knownBends, distances: input.knownDistances ?? [] };
  const system = buildSystem(topology, hinges, signs, buildPriorRows(topology, hinges), known);
  await work.step(0, 10, 'Measuring ways along the surface');
  const distances = surfaceDistances(topology, hinges);

  const early = async (roundness: number) => {
    let x = scaledStart(topology, hinges, signs, distances, roundness);
    for (const [bend, target] of coarse) {
      x = descend(system, x, { ...off, bend, target, sign: 2 * bend }, 25).x;
    }
    const weights = { ...off, bend: 0.1, sign: 0.2 };
    x = descend(system, x, weights, 40).x;
    return repairPops(system, x, weights);
  };
  await work.step(1, 10, 'Folding up');
  let base = await early(roundnesses[0]!);
  let best = annealFrom(system, base.x);
  const settled = () => best.rho < cleanRho && evaluate(system, best.x, off) < 1e-3 * topology.edges.length;
  if (!settled()) {
    for (let k = 1; k < roundnesses.length; k++) {
      await work.step(1 + k, 10, 'Trying another start');
      const other = await early(roundnesses[k]!);
      if (other.cost < base.cost * 0.98) {
        base = other;
        const fresh = annealFrom(system, base.x);
        if (fresh.cost < best.cost) best = fresh;
        if (settled()) break;
      }
    }
  }
  let from = base.x;
  for (let k = 0; k < kicks.length && best.rho >= cleanRho; k++) {
    await work.step(6 + k, 10, 'Smoothing out snapped-in corners');
    const kicked = annealFrom(system, from, kicks[k]!);
    if (kicked.cost < best.cost) {
      best = kicked;
      from = kicked.x;
    }
  }
  await work.step(10, 10, 'Folded');
  return measure(system, best.x, best.rho, input.signOfEdge);
}

function measure(system: System, x: Float64Array, rho: number, signOfEdge: Int8Array): FoldedUp {
  const { topology, hinges, pairA, pairB, rest } = system;
  const theta = bendAngles(hinges, x);
  const bends = new Float64Array(topology.edges.length).fill(Number.NaN);
  let wrongSigns = 0;
  for (let h = 0; h < hinges.count; h++) {
    const edge = hinges.edgeOf[h]!;
    bends[edge] = theta[h]!;
    if (signOfEdge[edge]! * theta[h]! < -0.03) wrongSigns++;
  }
  let sum = 0;
  let max = 0;
  for (let k = 0; k < system.edgeRows; k++) {
    const a = pairA[k]! * 3;
    const b = pairB[k]! * 3;
    const r = Math.abs(Math.hypot(x[a]! - x[b]!, x[a + 1]! - x[b + 1]!, x[a + 2]! - x[b + 2]!) - rest[k]!);
    sum += r * r;
    max = Math.max(max, r);
  }
  return {
    positions: x,
    bends,
    hinges,
    residual: { rms: Math.sqrt(sum / Math.max(1, system.edgeRows)), max },
    rho,
    wrongSigns,
    flexes: Math.max(0, topology.borderEdges - 3),
  };
}
