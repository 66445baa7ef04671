import type { Rad } from '../units';
import { bendAngles } from './hinge';
import { mergeRow } from './seats';
import type { System, Weights } from './system';

/** Within this the pull towards flat fades, rad: under a tenth of a degree a face is flat. */
const mildHuber: Rad = 1e-3;

/** Adds one row r with gradient `g` (3 numbers for each of `count` matrix rows) and weight w² to the normal equations. */
function addRow(
  rows: ArrayLike<number>,
  count: number,
  g: Float64Array,
  r: number,
  w2: number,
  table: Int32Array,
  tableStart: number,
  blocks: Float64Array,
  gradient: Float64Array,
) {
  let t = tableStart;
  for (let i = 0; i < count; i++) {
    const g0 = g[i * 3]! * w2;
    const g1 = g[i * 3 + 1]! * w2;
    const g2 = g[i * 3 + 2]! * w2;
    const v = rows[i]! * 3;
    gradient[v]! += g0 * r;
    gradient[v + 1]! += g1 * r;
    gradient[v + 2]! += g2 * r;
    for (let j = i; j < count; j++) {
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

/** Half the sum of squares; with buffers given, also the gradient and the normal matrix, both over `seats`. */
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
  const { seats } = system;
  /** A row over some vertices, which are in a list that may be written to, as their gradient `g` is. */
  const add = (
    list: number[],
    count: number,
    r: number,
    w2: number,
    table: Int32Array,
    tableStart: number,
  ) => {
    const rows = seats ? mergeRow(seats, list, count, g) : count;
    addRow(list, rows, g, r, w2, table, tableStart, into!.blocks, into!.gradient);
  };
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
      add(two, 2, r, w2, system.pairTable, k * 3);
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
    if (weights.bend > 0) {
      // Far from flat the plane of three corners says little: the face is wanted as drawn, turned and sheared at will.
      const [ofA, ofB, ofC] = [planarWeights[k * 3]!, planarWeights[k * 3 + 1]!, planarWeights[k * 3 + 2]!];
      for (let m = 0; m < 3; m++) {
        const r = x[d + m]! - ofA * x[a + m]! - ofB * x[b + m]! - ofC * x[c + m]!;
        sum += r * r;
        if (!into) continue;
        g.fill(0);
        g[m] = -ofA;
        g[3 + m] = -ofB;
        g[6 + m] = -ofC;
        g[9 + m] = 1;
        for (let q = 0; q < 4; q++) four[q] = planar[k * 4 + q]!;
        add(four, 4, r, 1, system.planarTable, k * 10);
      }
      continue;
    }
    const px = x[d]! - x[a]!;
    const py = x[d + 1]! - x[a + 1]!;
    const pz = x[d + 2]! - x[a + 2]!;
    const r = nx * px + ny * py + nz * pz;
    sum += r * r;
    if (into) {
      // Where the foot of the fourth corner lies between the other three.
      const ofB = (nx * (py * vz - pz * vy) + ny * (pz * vx - px * vz) + nz * (px * vy - py * vx)) / n;
      const ofC = (nx * (uy * pz - uz * py) + ny * (uz * px - ux * pz) + nz * (ux * py - uy * px)) / n;
      const moves = [ofB + ofC - 1, -ofB, -ofC, 1];
      for (let q = 0; q < 4; q++) {
        g[q * 3] = moves[q]! * nx;
        g[q * 3 + 1] = moves[q]! * ny;
        g[q * 3 + 2] = moves[q]! * nz;
      }
      add(four, 4, r, 1, system.planarTable, k * 10);
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
    add([...tie.vertices], tie.vertices.length, r, w2, system.tieTable[k]!, 0);
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
    add(four, 4, r, w2, system.hingeTable, h * 10);
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
          const across = seats ? seats.across[hinges.corners[prior.hinge[t]! * 4 + q]!]! : 1;
          gk[at]! += across * c * slope[o + q * 3]!;
          gk[at + 1]! += c * slope[o + q * 3 + 1]!;
          gk[at + 2]! += c * slope[o + q * 3 + 2]!;
        }
      }
      addRow(list, list.length, gk, r, w2 * soft, system.priorTable[k]!, 0, into.blocks, into.gradient);
    }
  }
  return sum / 2;
}
