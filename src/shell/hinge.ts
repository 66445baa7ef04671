import type { Rad } from '../units';
import type { ShellTopology } from './topology';

/**
 * Signed bend angles at hinges and their gradients. θ = atan2((nA × nB)·e, nA·nB) with e along the edge in face A's
 * order: 0 flat, + convex seen from outside, − concave. Gradients: the usual ones of a dihedral angle (for example
 * Bergou et al. 2006, discrete shells), by the heights of the two opposite corners.
 */
export interface Hinges {
  readonly count: number;
  /** Per hinge: edge start, edge end (in the left face's order), opposite corner in the left, in the right face. */
  readonly corners: Int32Array;
  /** Edge index of each hinge. */
  readonly edgeOf: Int32Array;
  /** Hinge of an edge, −1 for open edges. */
  readonly hingeOf: Int32Array;
  /** Rest length of the edge, mm. */
  readonly length: Float64Array;
}

/** Corners whose distances differ by less than this part are equally far: rounding must not choose between them. */
const equallyFar = 1e-6;

/**
 * The corner of a face farthest from the line a–b, so that a bent polygon still has a sound normal; the first of
 * several. Only corners on the face's own side of the line count: a face with a notch has some beyond it.
 * @param inward +1 where the face runs a → b, −1 where it runs b → a
 */
function oppositeCorner(topology: ShellTopology, face: number, a: number, b: number, inward: 1 | -1): number {
  const { vertices, flat } = topology.faces[face]!;
  const pa = flat[vertices.indexOf(a)]!;
  const pb = flat[vertices.indexOf(b)]!;
  let best = -1;
  let most = Number.NEGATIVE_INFINITY;
  vertices.forEach((v, i) => {
    if (v === a || v === b) return;
    const p = flat[i]!;
    const height = inward * ((pb.x - pa.x) * (p.y - pa.y) - (pb.y - pa.y) * (p.x - pa.x));
    if (height > most + Math.abs(most) * equallyFar || best < 0) {
      most = height;
      best = v;
    }
  });
  return best;
}

export function buildHinges(topology: ShellTopology): Hinges {
  const count = topology.hinges.length;
  const corners = new Int32Array(count * 4);
  const hingeOf = new Int32Array(topology.edges.length).fill(-1);
  const length = new Float64Array(count);
  topology.hinges.forEach((edge, h) => {
    const e = topology.edges[edge]!;
    hingeOf[edge] = h;
    length[h] = e.length;
    corners[h * 4] = e.a;
    corners[h * 4 + 1] = e.b;
    corners[h * 4 + 2] = oppositeCorner(topology, e.left, e.a, e.b, 1);
    corners[h * 4 + 3] = oppositeCorner(topology, e.right, e.a, e.b, -1);
  });
  return { count, corners, edgeOf: Int32Array.from(topology.hinges), hingeOf, length };
}

/**
 * Bend angles of all hinges, and (when `gradients` is given, 12 numbers per hinge in the order of `corners`) their
 * derivatives by the four corners.
 */
export function bendAngles(hinges: Hinges, x: Float64Array, gradients?: Float64Array): Float64Array {
  const out = new Float64Array(hinges.count);
  const { corners } = hinges;
  for (let h = 0; h < hinges.count; h++) {
    const a = corners[h * 4]! * 3;
    const b = corners[h * 4 + 1]! * 3;
    const c = corners[h * 4 + 2]! * 3;
    const d = corners[h * 4 + 3]! * 3;
    const ex = x[b]! - x[a]!;
    const ey = x[b + 1]! - x[a + 1]!;
    const ez = x[b + 2]! - x[a + 2]!;
    const cx = x[c]! - x[a]!;
    const cy = x[c + 1]! - x[a + 1]!;
    const cz = x[c + 2]! - x[a + 2]!;
    const dx = x[d]! - x[a]!;
    const dy = x[d + 1]! - x[a + 1]!;
    const dz = x[d + 2]! - x[a + 2]!;
    // Left face a, b, c; right face b, a, d: both normals point outwards.
    const nx = ey * cz - ez * cy;
    const ny = ez * cx - ex * cz;
    const nz = ex * cy - ey * cx;
    const mx = dy * ez - dz * ey;
    const my = dz * ex - dx * ez;
    const mz = dx * ey - dy * ex;
    const e2 = ex * ex + ey * ey + ez * ez;
    const el = Math.sqrt(e2);
    const sin = ((ny * mz - nz * my) * ex + (nz * mx - nx * mz) * ey + (nx * my - ny * mx) * ez) / el;
    const cos = nx * mx + ny * my + nz * mz;
    out[h] = Math.atan2(sin, cos);
    if (!gradients) continue;
    const n2 = nx * nx + ny * ny + nz * nz;
    const m2 = mx * mx + my * my + mz * mz;
    // Raising the opposite corner along its face's outward normal lessens a convex bend.
    const gc = n2 > 0 ? -el / n2 : 0;
    const gd = m2 > 0 ? -el / m2 : 0;
    const tc = e2 > 0 ? (cx * ex + cy * ey + cz * ez) / e2 : 0;
    const td = e2 > 0 ? (dx * ex + dy * ey + dz * ez) / e2 : 0;
    const o = h * 12;
    for (let k = 0; k < 3; k++) {
      const vc = gc * (k === 0 ? nx : k === 1 ? ny : nz);
      const vd = gd * (k === 0 ? mx : k === 1 ? my : mz);
      gradients[o + 6 + k] = vc;
      gradients[o + 9 + k] = vd;
      gradients[o + k] = -(1 - tc) * vc - (1 - td) * vd;
      gradients[o + 3 + k] = -tc * vc - td * vd;
    }
  }
  return out;
}

/** Bend angle of one hinge. */
export function bendAt(hinges: Hinges, x: Float64Array, hinge: number): Rad {
  const one: Hinges = { ...hinges, count: 1, corners: hinges.corners.subarray(hinge * 4, hinge * 4 + 4) };
  return bendAngles(one, x)[0]!;
}
