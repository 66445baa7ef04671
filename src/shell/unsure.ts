import { seededRandom } from '../base';
import { emptyBlocks, factorise, solveBlocks } from '../math';
import type { Unsure } from '../model';
import type { Mm, Rad } from '../units';
import { evaluate } from './evaluate';
import { bendAngles } from './hinge';
import { fromSeats, shareOf, toSeats } from './seats';
import type { System, Weights } from './system';
import type { ShellTopology } from './topology';

/**
 * How far the shape may be from the one that the pattern was made from: what lengths and flatness leave open is settled
 * by smoothness alone, and real shells are not quite as smooth. Two kinds of departure are drawn by chance and carried
 * through the linearised system to the vertices: every smoothness row off by itself, as much as the rows of this shell
 * are (asymptotic variance of Huber's estimate, Huber 1964, from memory), and bends that are all larger here and
 * smaller there in a wave about as long as half the shell. Needs no truth.
 */

/** Drawings of each kind: the figure then varies by about a tenth with the seed. */
const drawings = 16;
/** Bends of real shells depart from the smoothest so far in long waves; own family, tubes most. */
const waveSize = 0.25;
/** Length of these waves, as a part of the shell's size. */
const waveLength = 0.5;
/** Smoothness against a length error: the departures keep the lengths and yet are settled by smoothness. */
const smoothness = 1e-2;
/** Against the motions of the whole, which cost nothing; far under the softest stiffness. */
const damping = 1e-9;
/**
 * With so many free motions the figure is never under this part of the size: on fine random nets the drawn departures
 * alone say 0.04–0.08 % where 0.06–0.64 % were found (own family, 500 and 900 faces).
 */
const manyFree = 10;
const leastPart = 0.002;
/**
 * A body whose curvature (Gauss) sums to less than half a hemisphere's has no cap that holds its section: round and
 * oval are then about equally smooth, and the drawn departures say half of what is found (own family: tubes 0.52–0.83 %
 * said, 0.9–2.6 % found). Sums in the own family and on meshes of another generator: tubes −0.7–2.2, domes 5.4–8.
 */
const halfCap = Math.PI;
const uncapped = 2;
/** Rows left to measure their own scatter by are never taken for fewer than this part of all. */
const leastRowsLeft = 0.2;

const weights: Weights = { sign: 0, margin: 0, bend: 0, target: 0, prior: smoothness, huber: 1e6 };

const sure: Unsure = { rms: 0, part: 0 };

/** A shape of which nothing is known. */
export const notSure = (x: Float64Array): Unsure => ({ rms: sizeOf(x), part: 1 });

/**
 * RMS distance of vertices from the truth, as estimated; all of the size where even the smoothness leaves it open.
 * @param flexes free motions: each takes the scatter of about two rows into itself
 * @param huber width within which rows count in full, rad, as in the descent
 */
export function shapeUnsure(system: System, x: Float64Array, flexes: number, huber: number): Unsure {
  const { pattern, hinges, prior, mirror, seats } = system;
  if (!prior || hinges.count === 0) return sure;
  const rows = prior.start.length - 1;
  const size = sizeOf(x);
  const slope = new Float64Array(hinges.count * 12);
  const theta = bendAngles(hinges, x, slope);
  const blocks = emptyBlocks(pattern);
  evaluate(system, x, weights, { blocks, gradient: new Float64Array(x.length) });
  for (let v = 0; v < pattern.size; v++) {
    const d = pattern.columnStart[pattern.place[v]!]! * 9;
    for (const k of [0, 4, 8]) blocks[d + k]! += damping * shareOf(seats, v);
  }
  if (!factorise(pattern, blocks)) return notSure(x);
  /** Where the vertices go when the rows want these values, and the bends these. */
  const follow = (ofRow: Float64Array, ofHinge: Float64Array): Float64Array => {
    const pull = ofHinge.map((b) => b * prior.bending);
    for (let k = 0; k < rows; k++)
      for (let t = prior.start[k]!; t < prior.start[k + 1]!; t++)
        pull[prior.hinge[t]!]! += prior.coefficient[t]! * ofRow[k]!;
    const right = new Float64Array(x.length);
    for (let h = 0; h < hinges.count; h++)
      for (let c = 0; c < 4; c++)
        for (let k = 0; k < 3; k++)
          right[hinges.corners[h * 4 + c]! * 3 + k]! +=
            smoothness * smoothness * pull[h]! * slope[h * 12 + c * 3 + k]!;
    return fromSeats(seats, solveBlocks(pattern, blocks, toSeats(seats, right)));
  };
  const random = seededRandom(17);
  const none = new Float64Array(hinges.count);
  const scatter = rowScatter(system, theta, flexes, huber);
  let squares = 0;
  for (let i = 0; i < drawings; i++) {
    const alone = Float64Array.from({ length: rows }, () => (random() < 0.5 ? scatter : -scatter));
    const wave = waveAt(system, x, random, waveLength * size);
    const swelled = theta.map((b, h) => b * wave[h]! * waveSize);
    for (const moved of [follow(alone, none), follow(rowsOf(system, swelled), swelled)])
      for (const c of moved) squares += c * c;
  }
  // Of departures drawn without the mirror only one half is symmetric.
  const halves = mirror ? 2 : 1;
  const least = flexes >= manyFree ? leastPart * size : 0;
  const drawn = Math.hypot(least, Math.sqrt((halves * squares) / drawings / (x.length / 3)));
  const rms = drawn * (curvature(system.topology) < halfCap ? uncapped : 1);
  return { rms, part: rms / size };
}

function rowsOf({ prior }: System, theta: Float64Array): Float64Array {
  return Float64Array.from({ length: prior!.start.length - 1 }, (_, k) => {
    let r = 0;
    for (let t = prior!.start[k]!; t < prior!.start[k + 1]!; t++)
      r += prior!.coefficient[t]! * theta[prior!.hinge[t]!]!;
    return r;
  });
}

/** Asymptotic deviation of one row: √(mean ψ²) over the share of rows within the width. */
function rowScatter(system: System, theta: Float64Array, flexes: number, huber: number): number {
  const values = rowsOf(system, theta);
  let squares = 0;
  let within = 0;
  for (const r of values) {
    squares += Math.min(Math.abs(r), huber) ** 2;
    if (Math.abs(r) <= huber) within++;
  }
  const n = values.length;
  if (n === 0) return 0;
  const left = Math.max(n - 2 * flexes, leastRowsLeft * n);
  return Math.sqrt(squares / left) / Math.max(within / n, 1 / n);
}

/** A wave of mean square 1 in a direction and phase by chance, at the middle of each hinge. */
function waveAt({ hinges }: System, x: Float64Array, random: () => number, length: Mm): Float64Array {
  const up = 2 * random() - 1;
  const turn = 2 * Math.PI * random();
  const level = Math.sqrt(1 - up * up);
  const way = [level * Math.cos(turn), level * Math.sin(turn), up];
  const phase = 2 * Math.PI * random();
  return Float64Array.from({ length: hinges.count }, (_, h) => {
    let along = 0;
    for (let c = 0; c < 2; c++)
      for (let k = 0; k < 3; k++) along += (way[k]! * x[hinges.corners[h * 4 + c]! * 3 + k]!) / 2;
    return Math.SQRT2 * Math.cos((2 * Math.PI * along) / length + phase);
  });
}

/** Sum of the angles that are missing to a full turn round the vertices that are not on a border. */
function curvature({ faces, edges, vertexCount }: ShellTopology): Rad {
  const missing = new Float64Array(vertexCount).fill(2 * Math.PI);
  for (const { vertices, flat } of faces)
    vertices.forEach((v, i) => {
      const p = flat[i]!;
      const q = flat[(i + 1) % flat.length]!;
      const r = flat[(i + flat.length - 1) % flat.length]!;
      const cross = (q.x - p.x) * (r.y - p.y) - (q.y - p.y) * (r.x - p.x);
      const turn = Math.atan2(cross, (q.x - p.x) * (r.x - p.x) + (q.y - p.y) * (r.y - p.y));
      missing[v]! -= turn < 0 ? turn + 2 * Math.PI : turn;
    });
  for (const e of edges) if (e.right < 0) missing[e.a] = missing[e.b] = 0;
  return missing.reduce((sum, m) => sum + m, 0);
}

/** Diagonal of the box round all vertices. */
function sizeOf(x: Float64Array): Mm {
  let sum = 0;
  for (let k = 0; k < 3; k++) {
    let least = Number.POSITIVE_INFINITY;
    let most = Number.NEGATIVE_INFINITY;
    for (let i = k; i < x.length; i += 3) {
      least = Math.min(least, x[i]!);
      most = Math.max(most, x[i]!);
    }
    sum += (most - least) ** 2;
  }
  return Math.sqrt(sum) || 1;
}
