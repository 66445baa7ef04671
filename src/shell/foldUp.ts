import { unwatched, type Work } from '../base';
import {
  type Annealed,
  annealFrom,
  annealHalf,
  annealNear,
  annealRest,
  annealRough,
  off,
  settleMiddle,
} from './anneal';
import { descend } from './descend';
import { flexCount } from './flexCount';
import { type FoldedUp, measure } from './foldResult';
import { girthTies, type KnownGirth } from './girthTies';
import { repairPops } from './repair';
import { scaledStart, surfaceDistances } from './start';
import { bendsAgainst, edgesOff } from './strain';
import type { RuledStrip } from './stripRows';
import { type Surface, surfaceAsDrawn, systemOf } from './surface';
import { findMirror, toMirrorPlane } from './symmetry';
import type { KnownDistance } from './system';
import { edgeKey, type ShellTopology } from './topology';
import { withBentFaces } from './withBentFaces';

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
  /** Bends that the file gives: weak evidence, see `KnownBend`. */
  readonly givenBends?: readonly { readonly edge: number; readonly bend: number }[];
  readonly knownDistances?: readonly KnownDistance[];
  readonly knownGirths?: readonly KnownGirth[];
  /** Strips of bent faces, by face; null for faces that are none. */
  readonly strips?: readonly (RuledStrip | null)[];
  /** Keep the mirror symmetry that the flat faces have (default). */
  readonly symmetry?: boolean;
  /** For a look at where edges lie: faces stay flat, and corners that snapped in are left. */
  readonly rough?: boolean;
}

/** Coarse stage: (w, t) of the bend term. */
const coarse: readonly (readonly [number, number])[] = [
  [20, 0.3],
  [4, 0.2],
  [1, 0.1],
  [0.3, 0],
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

/**
 * Without fold signs a shell that moves freely closes in more shapes than one, and the cost of the first descent tells
 * them apart: all starts are tried then (symmetric nets of 248–276 triangles: 4.7–7 % off with one start, 0.1–0.5 % so).
 */
const mostUnsigned = 0.5;
const otherRoundnesses = roundnesses.slice(1);

/** A health figure under this counts as clean. */
const cleanRho = 1.1;
/**
 * Where motions are free, a shell already kicked is kicked again only over this: of the jittered shells tried those at
 * 1.10–1.23 gained nothing by it, one at 11 gained all.
 */
const kickAgainRho = 1.3;

/** Descent stops when a step gains less than this part of the cost: on the way to a start it may be rough. */
const settleRough = 1e-3;
/** Another start must beat the best one by this part before it is annealed. */
const betterStart = 0.97;

/** Rounds of pulling to a known girth: each takes the section anew, and a few settle it to a tenth of a millimetre. */
const tapeRounds = 6;

/** Lengths that are not met nearly everywhere (rms, mm) show a wrong start. */
const wrongStart = 0.05;

function once<T>(make: () => T): () => T {
  let made: T | undefined;
  return () => (made ??= make());
}

/** The fold signs with those of mirror partners filled in; null when the drawn signs contradict the mirror. */
function mirroredSigns(topology: ShellTopology, signs: Int8Array, mirror: Int32Array): Int8Array | null {
  const out = signs.slice();
  let against = 0;
  topology.edges.forEach((e, i) => {
    const image = topology.edgeAt.get(edgeKey(topology.vertexCount, mirror[e.a]!, mirror[e.b]!))!;
    if (signs[i]! * signs[image]! < 0) against++;
    if (out[i] === 0) out[i] = signs[image]!;
  });
  return against > 0.02 * topology.edges.length ? null : out;
}

/**
 * Folds one connected surface (or several, which then come out each by itself at the origin).
 * @param work progress and cancel
 * @param near positions in a shell that differs in a few places: folding settles from there, or from the start where
 *   that does not fit
 * @throws Cancelled
 */
export async function foldUp(
  input: FoldInput,
  work: Work = unwatched,
  near: Float64Array | null = null,
): Promise<FoldedUp> {
  const { topology } = input;
  let mirror = input.symmetry === false ? null : findMirror(topology);
  const mirrored = mirror && mirroredSigns(topology, input.signOfEdge, mirror);
  if (!mirrored) mirror = null;
  const signOfEdge = mirrored ?? input.signOfEdge;
  const drawn = surfaceAsDrawn(input, signOfEdge);
  const { hinges, signs } = drawn;
  // The prior's rows make the matrix much denser; nothing before the annealing uses them.
  const plain = once(() => systemOf(drawn, input, mirror, { smooth: false }));
  let surface: Surface = drawn;
  let system = systemOf(drawn, input, mirror, { smooth: true });
  let flexible = flexCount(topology) > 0;
  const inPlane = (x: Float64Array) => (mirror ? toMirrorPlane(x, mirror) : x);
  const settled = (x: Float64Array) => edgesOff(system, x) < wrongStart;
  let distances: ReturnType<typeof surfaceDistances> | null = null;
  const early = (roundness: number) => {
    distances ??= surfaceDistances(topology, hinges, mirror);
    let x = inPlane(scaledStart(topology, hinges, signs, distances, roundness));
    for (const [bend, target] of coarse) {
      x = descend(plain(), x, { ...off, bend, target, sign: 2 * bend }, 25, { settle: settleRough }).x;
    }
    const weights = { ...off, bend: 0.1, sign: 0.2 };
    x = descend(plain(), x, weights, 40, { settle: settleRough }).x;
    return repairPops(plain(), x, weights);
  };
  /** The first shell from scaled starts, where kicks begin, and with which one. */
  const fromStarts = async () => {
    await work.step(1, 10, 'Folding up');
    let base = early(roundnesses[0]!);
    const unsigned = signs.filter((s) => s === 0).length > mostUnsigned * signs.length;
    for (const roundness of flexible && unsigned ? otherRoundnesses : []) {
      const other = early(roundness);
      if (other.cost < base.cost * betterStart) base = other;
    }
    await work.step(2, 10, 'Smoothing');
    if (input.rough) {
      const best = annealRough(system, base.x);
      return { base, best, from: base.x, nextKick: 0 };
    }
    let half = annealHalf(system, base.x);
    let nextKick = 0;
    if (bendsAgainst(system, half.x)) {
      const kicked = annealHalf(system, base.x, kicks[0]!);
      const better = kicked.costAtTenth < half.costAtTenth;
      // Where motions are free, what one kick does not undo the stronger ones did not either; on closed shells they do.
      nextKick = better || !flexible ? 1 : kicks.length;
      if (better) half = kicked;
    }
    const best = annealRest(system, half);
    return { base, best, from: nextKick === 1 ? best.x : base.x, nextKick };
  };
  const nearby = near && (input.rough ? annealRough : annealNear)(system, inPlane(near));
  let { base, best, from, nextKick } =
    nearby && settled(nearby.x)
      ? { base: nearby, best: nearby, from: nearby.x, nextKick: 0 }
      : await fromStarts();
  let bentFrom: Annealed | null = null;
  const bendFaces = () => {
    if (surface !== drawn || bentFrom === best) return;
    bentFrom = best;
    const bent = withBentFaces({ input, signOfEdge, mirror, system }, best);
    if (!bent) return;
    ({ best, surface, system } = bent);
    flexible = flexCount(surface.topology) > 0;
    from = base.x;
    nextKick = 0;
  };
  if (!input.rough) bendFaces();
  // A snapped corner is for the kicks to undo.
  for (let k = 1; k < roundnesses.length && !settled(best.x); k++) {
    await work.step(2 + k, 10, 'Trying another start');
    const other = early(roundnesses[k]!);
    if (other.cost > base.cost * betterStart) continue;
    base = other;
    const fresh = (input.rough ? annealRough : annealFrom)(system, base.x);
    if (fresh.cost >= best.cost) continue;
    best = fresh;
    from = base.x;
    nextKick = 0;
  }
  if (input.rough) {
    await work.step(10, 10, 'Folded roughly');
    return measure(system, best.x, best.rho, input, hinges, surface.bent);
  }
  bendFaces();
  for (let k = nextKick; k < kicks.length && best.rho >= (flexible && k > 0 ? kickAgainRho : cleanRho); k++) {
    await work.step(6 + k, 10, 'Smoothing out snapped-in corners');
    const kicked = annealHalf(system, from, kicks[k]!);
    // Every kick that won in the end had won at a prior of .1 already.
    const done = kicked.costAtTenth < best.costAtTenth ? annealRest(system, kicked) : null;
    if (done && done.cost < best.cost) {
      best = done;
      from = done.x;
    } else if (flexible) break;
  }
  let x = best.x;
  const girths = input.knownGirths ?? [];
  for (let round = 0; round < tapeRounds && girths.length > 0; round++) {
    await work.step(9, 10, 'Pulling to the known girth');
    const ties = girths.flatMap((girth) => girthTies(topology, x, mirror, girth));
    if (ties.length === 0) break;
    const tied = systemOf(surface, input, mirror, { smooth: true, ties });
    x = descend(tied, x, { ...off, prior: 0.01, sign: 0.3 }, 25, { settle: settleMiddle }).x;
  }
  await work.step(10, 10, 'Folded');
  return measure(system, x, best.rho, input, hinges, surface.bent);
}
