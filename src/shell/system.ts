import { analyseBlocks, type BlockPattern, blockIndex, emptyBlocks, factorise, solveBlocks } from '../math';
import type { Rad } from '../units';
import type { Tie } from './girthTies';
import { bendAngles, type Hinges } from './hinge';
import type { PriorRows } from './priorRows';
import { symmetrise } from './symmetry';
import type { ShellTopology } from './topology';

/**
 * The least-squares system of a fold-up: lengths of edges and of all diagonals of polygons, planarity of polygons,
 * one-sided fold signs, bend terms and the smoothness prior, all over vertex positions in mm. It assembles the normal
 * matrix in 3 × 3 blocks on a fixed pattern and takes damped Gauss–Newton steps with geodesic acceleration
 * (Transtrum & Sethna 2012, from memory) on the length terms.
 */
export interface Weights {
  /** Fold signs: ws, and the margin m in rad: wanted s·θ ≥ m. */
  readonly sign: number;
  readonly margin: number;
  /** Coarse bend term w (θ − s·t): weight and target angle; unsigned hinges use +0.5 for s. */
  readonly bend: number;
  readonly target: number;
  /** Smoothness prior, Huber with width `huber` rad; 0 = off. */
  readonly prior: number;
  readonly huber: number;
}

/**
 * One hinge's bend as somebody gives it. `known` is held with its weight in every step; `hint` counts beside the
 * smoothness prior, in its weight, and gives way like a row of it where lengths say otherwise.
 */
export interface KnownBend {
  readonly hinge: number;
  readonly bend: number;
  readonly weight: number;
  readonly as: 'known' | 'hint';
}

/**
 * Hinges within faces, over which a face may bend as far as folds do that drawings leave out. The pull towards flat
 * counts beside the smoothness and grows with the angle itself, not its square, so that few of them bend.
 */
export interface MildHinges {
  /** 1 for hinges within a face. */
  readonly virtual: Uint8Array;
  /** They bend no further, rad; as firm as fold signs. */
  readonly limit: Rad;
  /** Cost of a bend as a part of 2 rad, against the smoothness; see `evaluate`. */
  readonly pull: number;
}

/** Within this the pull towards flat fades, rad: under a tenth of a degree a face is flat. */
const mildHuber: Rad = 1e-3;

/** A wanted distance between two vertices. */
export interface KnownDistance {
  readonly a: number;
  readonly b: number;
  readonly length: number;
  readonly weight: number;
}

export interface System {
  readonly topology: ShellTopology;
  readonly hinges: Hinges;
  readonly pattern: BlockPattern;
  /** Length rows: pairs of vertices and rest lengths; the first `edgeRows` are the edges in order. */
  readonly pairA: Int32Array;
  readonly pairB: Int32Array;
  readonly rest: Float64Array;
  readonly pairWeight: Float64Array;
  readonly edgeRows: number;
  /** Planarity rows: four vertices and the flat barycentric weights of the fourth. */
  readonly planar: Int32Array;
  readonly planarWeights: Float64Array;
  /** +1 mountain, −1 valley, 0 unknown, per hinge. */
  readonly signs: Int8Array;
  /** Virtual diagonals of faces that may bend a little; null where faces stay flat. */
  readonly mild: MildHinges | null;
  readonly prior: PriorRows | null;
  readonly knownBends: readonly KnownBend[];
  /** Wanted distances between places on edges, and their block tables. */
  readonly ties: readonly Tie[];
  readonly tieTable: readonly Int32Array[];
  /** Mirror partner of each vertex about x = 0, or null: every step is then made symmetric. */
  readonly mirror: Int32Array | null;
  /** Block tables, see `tableFor`. */
  readonly pairTable: Int32Array;
  readonly planarTable: Int32Array;
  readonly hingeTable: Int32Array;
  readonly priorVertices: readonly Int32Array[];
  readonly priorTable: readonly Int32Array[];
  /** For each prior row and term, where the hinge's four corners stand in the row's vertex list. */
  readonly priorSlots: readonly Int32Array[];
  /** Room for the gradient of the longest prior row. */
  readonly rowBuffer: Float64Array;
}

/** For k vertices: the block of each pair i ≤ j as 2 × index + transposed, in the order (0,0) (0,1) … (1,1) …. */
function tableFor(pattern: BlockPattern, vertices: ArrayLike<number>): number[] {
  const out: number[] = [];
  for (let i = 0; i < vertices.length; i++) {
    for (let j = i; j < vertices.length; j++) {
      const { index, transposed } = blockIndex(pattern, vertices[i]!, vertices[j]!);
      out.push(index * 2 + (transposed ? 1 : 0));
    }
  }
  return out;
}

export function buildSystem(
  topology: ShellTopology,
  hinges: Hinges,
  signs: Int8Array,
  prior: PriorRows | null,
  known: {
    readonly bends?: readonly KnownBend[];
    readonly distances?: readonly KnownDistance[];
    readonly ties?: readonly Tie[];
    readonly mild?: MildHinges | null;
  } = {},
  mirror: Int32Array | null = null,
): System {
  const pairs: [number, number, number, number][] = topology.edges.map((e) => [e.a, e.b, e.length, 1]);
  const edgeRows = pairs.length;
  const planar: number[] = [];
  const planarWeights: number[] = [];
  for (const { vertices, flat } of topology.faces) {
    const n = vertices.length;
    for (let i = 0; i < n; i++) {
      for (let j = i + 2; j < n; j++) {
        if (i === 0 && j === n - 1) continue;
        pairs.push([
          vertices[i]!,
          vertices[j]!,
          Math.hypot(flat[i]!.x - flat[j]!.x, flat[i]!.y - flat[j]!.y),
          1,
        ]);
      }
    }
    if (n < 4) continue;
    // The three corners that span most area carry the plane; every other corner lies in it.
    const base = widestTriple(flat);
    for (let i = 0; i < n; i++) {
      if (base.includes(i)) continue;
      const [p, q, r] = base.map((k) => flat[k]!) as [(typeof flat)[0], (typeof flat)[0], (typeof flat)[0]];
      const s = flat[i]!;
      const det = (q.x - p.x) * (r.y - p.y) - (q.y - p.y) * (r.x - p.x);
      const v = ((s.x - p.x) * (r.y - p.y) - (s.y - p.y) * (r.x - p.x)) / det;
      const w = ((q.x - p.x) * (s.y - p.y) - (q.y - p.y) * (s.x - p.x)) / det;
      planar.push(vertices[base[0]!]!, vertices[base[1]!]!, vertices[base[2]!]!, vertices[i]!);
      planarWeights.push(1 - v - w, v, w);
    }
  }
  for (const d of known.distances ?? []) pairs.push([d.a, d.b, d.length, d.weight]);

  return systemOfRows({
    topology,
    hinges,
    signs,
    size: topology.vertexCount,
    rows: { pairs, planar, planarWeights },
    edgeRows,
    prior,
    knownBends: known.bends ?? [],
    ties: known.ties ?? [],
    mild: known.mild ?? null,
    mirror,
  });
}

/** The system of given rows over `size` vertices: finds the matrix pattern and where each row lands in it. */
export function systemOfRows(input: {
  readonly topology: ShellTopology;
  readonly hinges: Hinges;
  readonly signs: Int8Array;
  readonly size: number;
  readonly rows: {
    /** Two vertices, rest length, weight. */
    readonly pairs: readonly (readonly [number, number, number, number])[];
    readonly planar: readonly number[];
    readonly planarWeights: readonly number[];
  };
  readonly edgeRows: number;
  readonly prior: PriorRows | null;
  readonly knownBends: readonly KnownBend[];
  readonly ties?: readonly Tie[];
  readonly mild?: MildHinges | null;
  readonly mirror: Int32Array | null;
}): System {
  const { topology, hinges, signs, edgeRows, prior, mirror } = input;
  const { pairs, planar, planarWeights } = input.rows;
  const meet: [number, number][] = pairs.map(([a, b]) => [a, b]);
  const clique = (list: ArrayLike<number>) => {
    for (let i = 0; i < list.length; i++)
      for (let j = i + 1; j < list.length; j++) meet.push([list[i]!, list[j]!]);
  };
  for (let r = 0; r < planar.length; r += 4) clique(planar.slice(r, r + 4));
  for (let h = 0; h < hinges.count; h++) clique(hinges.corners.subarray(h * 4, h * 4 + 4));
  const priorVertices: Int32Array[] = [];
  const priorSlots: Int32Array[] = [];
  if (prior) {
    for (let k = 0; k + 1 < prior.start.length; k++) {
      const slots: number[] = [];
      const seen = new Map<number, number>();
      for (let t = prior.start[k]!; t < prior.start[k + 1]!; t++) {
        for (let c = 0; c < 4; c++) {
          const v = hinges.corners[prior.hinge[t]! * 4 + c]!;
          if (!seen.has(v)) seen.set(v, seen.size);
          slots.push(seen.get(v)!);
        }
      }
      const list = Int32Array.from(seen.keys());
      clique(list);
      priorVertices.push(list);
      priorSlots.push(Int32Array.from(slots));
    }
  }
  const ties = input.ties ?? [];
  for (const tie of ties) clique(tie.vertices);
  const pattern = analyseBlocks(input.size, meet);
  return {
    topology,
    hinges,
    pattern,
    pairA: Int32Array.from(pairs, (p) => p[0]),
    pairB: Int32Array.from(pairs, (p) => p[1]),
    rest: Float64Array.from(pairs, (p) => p[2]),
    pairWeight: Float64Array.from(pairs, (p) => p[3]),
    edgeRows,
    planar: Int32Array.from(planar),
    planarWeights: Float64Array.from(planarWeights),
    signs,
    mild: input.mild ?? null,
    prior,
    knownBends: input.knownBends,
    ties,
    tieTable: ties.map((tie) => Int32Array.from(tableFor(pattern, tie.vertices))),
    mirror,
    pairTable: Int32Array.from(pairs.flatMap(([a, b]) => tableFor(pattern, [a, b]))),
    planarTable: Int32Array.from(
      Array.from({ length: planar.length / 4 }, (_, r) =>
        tableFor(pattern, planar.slice(r * 4, r * 4 + 4)),
      ).flat(),
    ),
    hingeTable: Int32Array.from(
      Array.from({ length: hinges.count }, (_, h) =>
        tableFor(pattern, hinges.corners.subarray(h * 4, h * 4 + 4)),
      ).flat(),
    ),
    priorVertices,
    priorTable: priorVertices.map((list) => Int32Array.from(tableFor(pattern, list))),
    priorSlots,
    rowBuffer: new Float64Array(3 * Math.max(1, ...priorVertices.map((list) => list.length))),
  };
}

function widestTriple(flat: readonly { x: number; y: number }[]): [number, number, number] {
  let best: [number, number, number] = [0, 1, 2];
  let most = -1;
  for (let i = 0; i < flat.length; i++) {
    for (let j = i + 1; j < flat.length; j++) {
      for (let k = j + 1; k < flat.length; k++) {
        const p = flat[i]!;
        const area = Math.abs(
          (flat[j]!.x - p.x) * (flat[k]!.y - p.y) - (flat[j]!.y - p.y) * (flat[k]!.x - p.x),
        );
        if (area > most * (1 + 1e-9)) {
          most = area;
          best = [i, j, k];
        }
      }
    }
  }
  return best;
}

/** Adds one row r with gradient `g` (3 numbers per vertex of `vertices`) and weight w² to the normal equations. */
function addRow(
  vertices: ArrayLike<number>,
  g: Float64Array,
  r: number,
  w2: number,
  table: Int32Array,
  tableStart: number,
  blocks: Float64Array,
  gradient: Float64Array,
) {
  let t = tableStart;
  for (let i = 0; i < vertices.length; i++) {
    const g0 = g[i * 3]! * w2;
    const g1 = g[i * 3 + 1]! * w2;
    const g2 = g[i * 3 + 2]! * w2;
    const v = vertices[i]! * 3;
    gradient[v]! += g0 * r;
    gradient[v + 1]! += g1 * r;
    gradient[v + 2]! += g2 * r;
    for (let j = i; j < vertices.length; j++) {
      const code = table[t++]!;
      const o = (code >> 1) * 9;
      const h0 = g[j * 3]!;
      const h1 = g[j * 3 + 1]!;
      const h2 = g[j * 3 + 2]!;
      if (code & 1) {
        blocks[o]! += h0 * g0;
        blocks[o + 1]! += h0 * g1;
        blocks[o + 2]! += h0 * g2;
        blocks[o + 3]! += h1 * g0;
        blocks[o + 4]! += h1 * g1;
        blocks[o + 5]! += h1 * g2;
        blocks[o + 6]! += h2 * g0;
        blocks[o + 7]! += h2 * g1;
        blocks[o + 8]! += h2 * g2;
      } else {
        blocks[o]! += g0 * h0;
        blocks[o + 1]! += g0 * h1;
        blocks[o + 2]! += g0 * h2;
        blocks[o + 3]! += g1 * h0;
        blocks[o + 4]! += g1 * h1;
        blocks[o + 5]! += g1 * h2;
        blocks[o + 6]! += g2 * h0;
        blocks[o + 7]! += g2 * h1;
        blocks[o + 8]! += g2 * h2;
      }
    }
  }
}

/** Half the sum of squares; with buffers given, also the gradient and the normal matrix. */
export function evaluate(
  system: System,
  x: Float64Array,
  weights: Weights,
  into?: { blocks: Float64Array; gradient: Float64Array },
): number {
  const { pairA, pairB, rest, pairWeight, planar, planarWeights, hinges, signs, mild, prior } = system;
  if (into) {
    into.blocks.fill(0);
    into.gradient.fill(0);
  }
  let sum = 0;
  const two = [0, 0];
  const four = [0, 0, 0, 0];
  const g = new Float64Array(12);
  for (let k = 0; k < pairA.length; k++) {
    const a = pairA[k]! * 3;
    const b = pairB[k]! * 3;
    const dx = x[b]! - x[a]!;
    const dy = x[b + 1]! - x[a + 1]!;
    const dz = x[b + 2]! - x[a + 2]!;
    const d = Math.sqrt(dx * dx + dy * dy + dz * dz) || 1e-9;
    const r = d - rest[k]!;
    const w2 = pairWeight[k]! * pairWeight[k]!;
    sum += w2 * r * r;
    if (into) {
      g[3] = dx / d;
      g[4] = dy / d;
      g[5] = dz / d;
      g[0] = -g[3];
      g[1] = -g[4];
      g[2] = -g[5];
      two[0] = pairA[k]!;
      two[1] = pairB[k]!;
      addRow(two, g, r, w2, system.pairTable, k * 3, into.blocks, into.gradient);
    }
  }
  for (let k = 0; k * 4 < planar.length; k++) {
    for (let c = 0; c < 4; c++) four[c] = planar[k * 4 + c]!;
    const a = four[0]! * 3;
    const b = four[1]! * 3;
    const c = four[2]! * 3;
    const d = four[3]! * 3;
    const ux = x[b]! - x[a]!;
    const uy = x[b + 1]! - x[a + 1]!;
    const uz = x[b + 2]! - x[a + 2]!;
    const vx = x[c]! - x[a]!;
    const vy = x[c + 1]! - x[a + 1]!;
    const vz = x[c + 2]! - x[a + 2]!;
    let nx = uy * vz - uz * vy;
    let ny = uz * vx - ux * vz;
    let nz = ux * vy - uy * vx;
    const n = Math.sqrt(nx * nx + ny * ny + nz * nz) || 1e-9;
    nx /= n;
    ny /= n;
    nz /= n;
    const r = nx * (x[d]! - x[a]!) + ny * (x[d + 1]! - x[a + 1]!) + nz * (x[d + 2]! - x[a + 2]!);
    sum += r * r;
    if (into) {
      for (let q = 0; q < 4; q++) {
        const m = q === 3 ? 1 : -planarWeights[k * 3 + q]!;
        g[q * 3] = m * nx;
        g[q * 3 + 1] = m * ny;
        g[q * 3 + 2] = m * nz;
      }
      addRow(four, g, r, 1, system.planarTable, k * 10, into.blocks, into.gradient);
    }
  }
  for (const [k, tie] of system.ties.entries()) {
    const w2 = tie.weight * tie.weight;
    const d = [0, 0, 0];
    tie.vertices.forEach((v, i) => {
      for (let c = 0; c < 3; c++) d[c]! += tie.coefficients[i]! * x[v * 3 + c]!;
    });
    const length = Math.hypot(d[0]!, d[1]!, d[2]!) || 1e-9;
    const r = length - tie.length;
    sum += w2 * r * r;
    if (!into) continue;
    tie.coefficients.forEach((m, i) => {
      for (let c = 0; c < 3; c++) g[i * 3 + c] = (m * d[c]!) / length;
    });
    addRow(tie.vertices, g, r, w2, system.tieTable[k]!, 0, into.blocks, into.gradient);
  }
  const needBends = weights.sign > 0 || weights.bend > 0 || weights.prior > 0 || system.knownBends.length > 0;
  if (!needBends) return sum / 2;
  const slope = into ? new Float64Array(hinges.count * 12) : undefined;
  const theta = bendAngles(hinges, x, slope);
  const hingeRow = (h: number, r: number, sign: number, w2: number) => {
    sum += w2 * r * r;
    if (!into || !slope) return;
    for (let c = 0; c < 4; c++) four[c] = hinges.corners[h * 4 + c]!;
    for (let c = 0; c < 12; c++) g[c] = sign * slope[h * 12 + c]!;
    addRow(four, g, r, w2, system.hingeTable, h * 10, into.blocks, into.gradient);
  };
  for (let h = 0; h < hinges.count; h++) {
    const s = signs[h]!;
    if (weights.sign > 0 && s !== 0) {
      const lack = weights.margin - s * theta[h]!;
      if (lack > 0) hingeRow(h, lack, -s, weights.sign * weights.sign);
    }
    if (weights.sign > 0 && mild?.virtual[h]) {
      const beyond = Math.abs(theta[h]!) - mild.limit;
      if (beyond > 0) hingeRow(h, beyond, Math.sign(theta[h]!), weights.sign * weights.sign);
    }
    if (weights.bend > 0) {
      const wanted = (s === 0 ? 0.5 : s) * weights.target;
      hingeRow(h, theta[h]! - wanted, 1, weights.bend * weights.bend);
    }
  }
  for (const k of system.knownBends)
    if (k.as === 'known') hingeRow(k.hinge, theta[k.hinge]! - k.bend, 1, k.weight * k.weight);
  if (prior && weights.prior > 0) {
    const w2 = weights.prior * weights.prior;
    for (let h = 0; h < hinges.count; h++) hingeRow(h, theta[h]!, 1, w2 * prior.bending);
    if (mild)
      for (let h = 0; h < hinges.count; h++) {
        if (!mild.virtual[h]) continue;
        const size = Math.abs(theta[h]!);
        const own = (w2 * mild.pull) / mildHuber;
        const beyond = Math.max(0, size - mildHuber);
        sum += own * mildHuber * beyond;
        hingeRow(h, theta[h]!, 1, own * (beyond > 0 ? mildHuber / size : 1));
      }
    for (const k of system.knownBends) {
      if (k.as !== 'hint') continue;
      const r = theta[k.hinge]! - k.bend;
      const own = w2 * k.weight * k.weight;
      const beyond = Math.max(0, Math.abs(r) - weights.huber);
      // Huber's cost is 2δ|r| − δ²; the row below adds δ|r| of it.
      sum += own * weights.huber * beyond;
      hingeRow(k.hinge, r, 1, own * (beyond > 0 ? weights.huber / Math.abs(r) : 1));
    }
    for (let k = 0; k + 1 < prior.start.length; k++) {
      let r = 0;
      for (let t = prior.start[k]!; t < prior.start[k + 1]!; t++)
        r += prior.coefficient[t]! * theta[prior.hinge[t]!]!;
      const soft = Math.abs(r) <= weights.huber ? 1 : weights.huber / Math.abs(r);
      sum += w2 * (soft === 1 ? r * r : 2 * weights.huber * Math.abs(r) - weights.huber * weights.huber);
      if (!into || !slope) continue;
      const list = system.priorVertices[k]!;
      const slots = system.priorSlots[k]!;
      const gk = system.rowBuffer;
      gk.fill(0, 0, list.length * 3);
      let slot = 0;
      for (let t = prior.start[k]!; t < prior.start[k + 1]!; t++) {
        const c = prior.coefficient[t]!;
        const o = prior.hinge[t]! * 12;
        for (let q = 0; q < 4; q++) {
          const at = slots[slot++]! * 3;
          gk[at]! += c * slope[o + q * 3]!;
          gk[at + 1]! += c * slope[o + q * 3 + 1]!;
          gk[at + 2]! += c * slope[o + q * 3 + 2]!;
        }
      }
      addRow(list, gk, r, w2 * soft, system.priorTable[k]!, 0, into.blocks, into.gradient);
    }
  }
  return sum / 2;
}

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
 * Damped Gauss–Newton with geodesic acceleration from `start`, at most `maxSteps` tries, until a step gains less than
 * `settle` of the cost.
 */
export function descend(
  system: System,
  start: Float64Array,
  weights: Weights,
  maxSteps: number,
  options: { readonly damping?: number; readonly settle?: number; readonly pinned?: Uint8Array } = {},
): Descent {
  const { pattern } = system;
  const blocks = emptyBlocks(pattern);
  const factor = emptyBlocks(pattern);
  const size = start.length;
  const gradient = new Float64Array(size);
  const settle = options.settle ?? 1e-9;
  let x = start.slice();
  let cost = evaluate(system, x, weights, { blocks, gradient });
  let tau = options.damping ?? 1e-2;
  let steps = 0;
  let quiet = 0;
  const negative = new Float64Array(size);
  for (; steps < maxSteps; steps++) {
    factor.set(blocks);
    for (let v = 0; v < pattern.size; v++) {
      const d = pattern.columnStart[pattern.place[v]!]! * 9;
      const pin = options.pinned?.[v] ? 1e12 : 0;
      factor[d]! += tau + pin;
      factor[d + 4]! += tau + pin;
      factor[d + 8]! += tau + pin;
    }
    if (!factorise(pattern, factor)) {
      tau = Math.max(tau * 10, 1e-8);
      continue;
    }
    for (let i = 0; i < size; i++) negative[i] = -gradient[i]!;
    const step = solveBlocks(pattern, factor, negative);
    let longest = 0;
    for (let i = 0; i < size; i += 3)
      longest = Math.max(longest, Math.hypot(step[i]!, step[i + 1]!, step[i + 2]!));
    const bend = secondOrder(system, x, step);
    const curve = solveBlocks(pattern, factor, bend);
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
    let promised = 0;
    for (let i = 0; i < size; i++) promised += step[i]! * (-gradient[i]! + tau * step[i]!);
    promised /= 2;
    const whole = part === 1;
    const next = new Float64Array(size);
    let nextCost = cost;
    let atRest = false;
    for (; part > shortestPart; part *= shorten) {
      for (let i = 0; i < size; i++) next[i] = x[i]! + part * (step[i]! + (part * curve[i]!) / 2);
      if (system.mirror) symmetrise(next, system.mirror);
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
