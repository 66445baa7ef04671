import { unwatched, type Work } from '../base';
import type { Unsure } from '../model';
import type { BentFaces } from './bentFaces';
import { flexCount } from './flexCount';
import { girthTies, type KnownGirth } from './girthTies';
import { bendAngles, type Hinges } from './hinge';
import { repairPops } from './repair';
import { freeMotions } from './softModes';
import { scaledStart, surfaceDistances } from './start';
import type { RuledStrip } from './stripRows';
import { bendsAreMild, type Surface, surfaceAsDrawn, surfaceWithBentFaces, systemOf } from './surface';
import { findMirror, toMirrorPlane } from './symmetry';
import { descend, evaluate, type KnownDistance, type System, type Weights } from './system';
import { doubtfulRho, wrongSignBend } from './tolerance';
import { edgeKey, type ShellTopology } from './topology';
import { shapeUnsure } from './unsure';

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
  /** Free motions, see `freeMotions`. */
  readonly flexes: number;
  /** How far the vertices may be from the shell that the pattern was made from, rms, mm; see `shapeUnsure`. */
  readonly unsure: Unsure;
  /** How far each edge is from its flat length, mm. */
  readonly offOfEdge: Float64Array;
  /** How far each face bends over virtual diagonals at most, rad; 0 where it stays flat. */
  readonly bendOfFace: Float64Array;
  /** Mirror partner of each vertex, its plane at x = 0; null without symmetry. */
  readonly mirror: Int32Array | null;
  /** Softest free motions, see `freeMotions`. */
  readonly softModes: readonly Float64Array[];
}

const off: Weights = { sign: 0, margin: 0, bend: 0, target: 0, prior: 0, huber: 0.05 };
/** Coarse stage: (w, t) of the bend term. */
const coarse: readonly (readonly [number, number])[] = [
  [20, 0.3],
  [4, 0.2],
  [1, 0.1],
  [0.3, 0],
];
/** Annealing of the prior, (weight, sign weight): down to .1, where a cost is read, and the rest. */
const annealTop: readonly (readonly [number, number])[] = [
  [0.5, 2],
  [0.1, 2],
];
const annealRestStages: readonly (readonly [number, number])[] = [
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

/** Descent stops when a step gains less than this part of the cost: rough on the way, fine where rho is read. */
const settleRough = 1e-3;
const settleMiddle = 1e-5;
const settleFine = 1e-7;
/** Most steps where the cost is read, and in between: those are only on the way (60 there were no better, 12 worse). */
const stepsRead = 60;
const stepsOnTheWay = 25;
/** Another start must beat the best one by this part before it is annealed. */
const betterStart = 0.97;

/**
 * A fold against its sign by more than this (rad) at prior weight .1 shows a snapped-in corner before rho can: the
 * kick comes first then, and the way on without it only where the kick gains nothing.
 */
const snapped = 5e-3;

/**
 * Where flat faces leave edges off their length by more than this (rms, mm), the drawing may have left mild folds out:
 * exact drawings stay under 1e-4, drawings with 0.02 mm of noise under 2e-3.
 */
const facesTooStiff = 2e-3;
/** Bent faces are believed when edges fit so many times better with them. */
const worthBending = 2;

/**
 * Then no fold is shut like this, rad: a seam sewn where none belongs can be closed by bent faces, but its corner is
 * pressed flat on itself then (160–180° at nine of nine such seams tried; no shell of the own family passes 99°).
 */
const shut = 2.6;

/** Rounds of pulling to a known girth: each takes the section anew, and a few settle it to a tenth of a millimetre. */
const tapeRounds = 6;

/**
 * A snapped-through spot puts its edges off 50–1400 times the median (own study), noise of a drawing on a rigid shell
 * about 4 times: only the first is for rho to show.
 */
const fewEdges = 20;

/** Half squared residuals per edge under this are rounding, mm². */
const noStrain = 1e-14;

/** An annealing stopped at prior weight .1, and what [cost / w²] is there. */
interface Halfway {
  readonly x: Float64Array;
  readonly costAtTenth: number;
}

interface Annealed {
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

function annealHalf(
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

function annealRest(system: System, { x: start, costAtTenth }: Halfway): Annealed {
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

const annealFrom = (...at: Parameters<typeof annealHalf>) => annealRest(at[0], annealHalf(...at));

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
 * @throws Cancelled
 */
export async function foldUp(input: FoldInput, work: Work = unwatched): Promise<FoldedUp> {
  const { topology } = input;
  let mirror = input.symmetry === false ? null : findMirror(topology);
  const mirrored = mirror && mirroredSigns(topology, input.signOfEdge, mirror);
  if (!mirrored) mirror = null;
  const signOfEdge = mirrored ?? input.signOfEdge;
  const drawn = surfaceAsDrawn(input, signOfEdge);
  const { hinges, signs } = drawn;
  // The prior's rows make the matrix much denser; nothing before the annealing uses them.
  const plain = systemOf(drawn, input, mirror, { smooth: false });
  let surface: Surface = drawn;
  let system = systemOf(drawn, input, mirror, { smooth: true });
  await work.step(0, 10, 'Measuring ways along the surface');
  const distances = surfaceDistances(topology, hinges);

  const early = (roundness: number) => {
    let x = scaledStart(topology, hinges, signs, distances, roundness);
    if (mirror) x = toMirrorPlane(x, mirror);
    for (const [bend, target] of coarse) {
      x = descend(plain, x, { ...off, bend, target, sign: 2 * bend }, 25, { settle: settleRough }).x;
    }
    const weights = { ...off, bend: 0.1, sign: 0.2 };
    x = descend(plain, x, weights, 40, { settle: settleRough }).x;
    return repairPops(plain, x, weights);
  };
  await work.step(1, 10, 'Folding up');
  let base = early(roundnesses[0]!);
  // Where motions are free, what one kick does not undo the stronger ones did not either; on closed shells they do.
  let flexible = flexCount(topology) > 0;
  const unsigned = signs.filter((s) => s === 0).length > mostUnsigned * signs.length;
  for (const roundness of flexible && unsigned ? otherRoundnesses : []) {
    const other = early(roundness);
    if (other.cost < base.cost * betterStart) base = other;
  }
  await work.step(2, 10, 'Smoothing');
  let half = annealHalf(system, base.x);
  let from = base.x;
  let nextKick = 0;
  if (bendsAgainst(system, half.x)) {
    const kicked = annealHalf(system, base.x, kicks[0]!);
    const better = kicked.costAtTenth < half.costAtTenth;
    nextKick = better || !flexible ? 1 : kicks.length;
    if (better) half = kicked;
  }
  let best = annealRest(system, half);
  if (nextKick === 1) from = best.x;
  /** Lets faces bend slightly where they cannot all be flat; true when that makes them fit. */
  const bendFaces = () => {
    const strain = Math.sqrt((2 * evaluate(plain, best.x, off)) / topology.edges.length);
    const tooStiff = strain > facesTooStiff || (best.rho > doubtfulRho && strain > facesTooStiff / 4);
    if (surface !== drawn || plain.planar.length === 0 || !tooStiff) return;
    const bent = surfaceWithBentFaces(input, signOfEdge, mirror);
    const soft = systemOf(bent, input, mirror, { smooth: true });
    const relaxed = annealFrom(soft, best.x, [[0.1, 2, 0]]);
    const better = edgesOff(soft, relaxed.x) * worthBending < edgesOff(system, best.x);
    if (!better || !bendsAreMild(bent, relaxed.x) || isShut(soft, relaxed.x)) return;
    best = relaxed;
    surface = bent;
    system = soft;
    flexible = flexCount(bent.topology) > 0;
    from = base.x;
    nextKick = 0;
  };
  bendFaces();
  // Lengths that are not met nearly everywhere show a wrong start; a snapped corner is for the kicks to undo.
  const settled = () => edgesOff(system, best.x) < 0.05;
  for (let k = 1; k < roundnesses.length && !settled(); k++) {
    await work.step(2 + k, 10, 'Trying another start');
    const other = early(roundnesses[k]!);
    if (other.cost > base.cost * betterStart) continue;
    base = other;
    const fresh = annealFrom(system, base.x);
    if (fresh.cost >= best.cost) continue;
    best = fresh;
    from = base.x;
    nextKick = 0;
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

/** Whether a fold bends against its drawn sign so far that a corner must have snapped in. */
function bendsAgainst({ hinges, signs }: System, x: Float64Array): boolean {
  return bendAngles(hinges, x).some((theta, h) => -signs[h]! * theta > snapped);
}

/** Whether some fold or seam is folded flat on itself. */
function isShut({ hinges }: System, x: Float64Array): boolean {
  return bendAngles(hinges, x).some((theta) => Math.abs(theta) > shut);
}

/** Whether a few edges are off their length far more than the rest. */
function isLocal({ pairA, pairB, rest, edgeRows }: System, x: Float64Array): boolean {
  const off = Float64Array.from({ length: edgeRows }, (_, k) => {
    const a = pairA[k]! * 3;
    const b = pairB[k]! * 3;
    return Math.abs(Math.hypot(x[a]! - x[b]!, x[a + 1]! - x[b + 1]!, x[a + 2]! - x[b + 2]!) - rest[k]!);
  }).sort();
  return off[off.length - 1]! > fewEdges * off[off.length >> 1]!;
}

/** How far edges are from their flat lengths, rms, mm. */
function edgesOff({ pairA, pairB, rest, edgeRows }: System, x: Float64Array): number {
  let sum = 0;
  for (let k = 0; k < edgeRows; k++) {
    const a = pairA[k]! * 3;
    const b = pairB[k]! * 3;
    sum += (Math.hypot(x[a]! - x[b]!, x[a + 1]! - x[b + 1]!, x[a + 2]! - x[b + 2]!) - rest[k]!) ** 2;
  }
  return Math.sqrt(sum / Math.max(1, edgeRows));
}

function measure(
  system: System,
  x: Float64Array,
  rho: number,
  input: FoldInput,
  hinges: Hinges,
  bent: BentFaces | null,
): FoldedUp {
  const { topology, signOfEdge } = input;
  const theta = bendAngles(system.hinges, x);
  const bends = new Float64Array(topology.edges.length).fill(Number.NaN);
  const bendOfFace = new Float64Array(topology.faces.length);
  let wrongSigns = 0;
  for (let h = 0; h < system.hinges.count; h++) {
    const own = system.hinges.edgeOf[h]!;
    const edge = bent ? bent.drawnEdge[own]! : own;
    if (edge < 0) {
      const face = bent!.drawnFace[bent!.topology.edges[own]!.left]!;
      bendOfFace[face] = Math.max(bendOfFace[face]!, Math.abs(theta[h]!));
      continue;
    }
    bends[edge] = theta[h]!;
    if (signOfEdge[edge]! * theta[h]! < -wrongSignBend) wrongSigns++;
  }
  let sum = 0;
  let max = 0;
  const offOfEdge = new Float64Array(topology.edges.length);
  topology.edges.forEach((e, k) => {
    const a = e.a * 3;
    const b = e.b * 3;
    const r = Math.abs(Math.hypot(x[a]! - x[b]!, x[a + 1]! - x[b + 1]!, x[a + 2]! - x[b + 2]!) - e.length);
    offOfEdge[k] = r;
    sum += r * r;
    max = Math.max(max, r);
  });
  // What holds mild faces flat is a wish, not a length: it makes nothing surer.
  const loose = { ...system, mild: null };
  const motions = freeMotions(loose, x, flexCount(system.topology));
  return {
    positions: x,
    bends,
    hinges,
    residual: { rms: Math.sqrt(sum / Math.max(1, topology.edges.length)), max },
    rho,
    wrongSigns,
    flexes: motions.flexes,
    unsure: shapeUnsure(loose, x, motions.flexes, off.huber),
    offOfEdge,
    bendOfFace,
    mirror: system.mirror,
    softModes: motions.modes,
  };
}
