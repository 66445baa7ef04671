import { type Descent, descend } from './descend';
import { evaluate } from './evaluate';
import { bendAngles } from './hinge';
import { symmetrise } from './symmetry';
import { type System, systemOfRows, type Weights } from './system';

/**
 * Repair of snapped-through spots: a few corners pressed to the wrong side of their surroundings are a local minimum
 * that descent cannot leave. Candidates are reflected in the plane of their ring, settled with the surroundings pinned,
 * and kept when the cost falls.
 */

/** Bends against their sign by more than this make their corners candidates, rad. */
const wrongBend = 0.03;
/** So does a bend sharper than this, rad. */
const tooSharp = 2.2;
/** And an edge off its length by more than this, mm. */
const edgeOff = 0.05;
/** A repair must lower the cost of the whole by this part of the local cost. */
const worthwhile = 0.03;
/** No repair when more than this part of the vertices is strained. */
const mostStrained = 0.5;
/** A local settling ends when a step gains less than this part. */
const settleLocal = 1e-3;

export function repairPops(system: System, start: Float64Array, weights: Weights): Descent {
  let state: Descent = { x: start, cost: evaluate(system, start, weights), steps: 0 };
  for (let round = 0; round < 4; round++) {
    let improved = false;
    for (const set of candidateSets(system, state.x)) {
      const tried = reflectAndSettle(system, state.x, set, weights);
      if (tried && tried.cost < state.cost * (1 - worthwhile * 0.1) && tried.cost < state.cost - 1e-6) {
        state = { x: tried.x, cost: tried.cost, steps: 0 };
        improved = true;
      }
    }
    if (!improved) break;
    state = descend(system, state.x, weights, 30, { settle: 1e-3 });
  }
  return state;
}

function candidateSets(system: System, x: Float64Array): number[][] {
  const { topology, hinges, signs } = system;
  const bad = new Map<number, number>();
  const blame = (v: number, how: number) => bad.set(v, (bad.get(v) ?? 0) + how);
  const theta = bendAngles(hinges, x);
  for (let h = 0; h < hinges.count; h++) {
    const against = -signs[h]! * theta[h]!;
    if (against > wrongBend || Math.abs(theta[h]!) > tooSharp) {
      for (let c = 0; c < 4; c++) blame(hinges.corners[h * 4 + c]!, Math.max(against, 0.1));
    }
  }
  topology.edges.forEach((e) => {
    const a = e.a * 3;
    const b = e.b * 3;
    const d = Math.hypot(x[a]! - x[b]!, x[a + 1]! - x[b + 1]!, x[a + 2]! - x[b + 2]!);
    if (Math.abs(d - e.length) > edgeOff) {
      blame(e.a, Math.abs(d - e.length));
      blame(e.b, Math.abs(d - e.length));
    }
  });
  // Strain everywhere is no pop: the seams do not close, or the start is far off.
  if (bad.size > mostStrained * topology.vertexCount) return [];
  const worst = [...bad]
    .sort((p, q) => q[1] - p[1] || p[0] - q[0])
    .slice(0, 24)
    .map(([v]) => v);
  const neighbours = (v: number) =>
    topology.edges.flatMap((e) => (e.a === v ? [e.b] : e.b === v ? [e.a] : []));
  const sets: number[][] = worst.map((v) => [v]);
  for (const v of worst) {
    const near = neighbours(v).filter((w) => bad.has(w));
    for (const w of near) if (w > v) sets.push([v, w]);
    if (near.length > 1) sets.push([v, ...near]);
  }
  return sets;
}

/** Reflects a set of vertices in the plane of its ring, settles it with all but two rings pinned. */
function reflectAndSettle(
  system: System,
  x: Float64Array,
  set: readonly number[],
  weights: Weights,
): { x: Float64Array; cost: number } | null {
  const { topology } = system;
  const inside = new Set(set);
  const ring = new Set<number>();
  for (const v of set)
    for (const f of topology.facesOf[v]!)
      for (const w of topology.faces[f]!.vertices) if (!inside.has(w)) ring.add(w);
  if (ring.size < 3) return null;
  let cx = 0;
  let cy = 0;
  let cz = 0;
  for (const v of ring) {
    cx += x[v * 3]! / ring.size;
    cy += x[v * 3 + 1]! / ring.size;
    cz += x[v * 3 + 2]! / ring.size;
  }
  // Normal of the ring: the mean normal of the faces around, weighted by area.
  let nx = 0;
  let ny = 0;
  let nz = 0;
  const faces = new Set(set.flatMap((v) => [...topology.facesOf[v]!]));
  for (const f of faces) {
    const { vertices } = topology.faces[f]!;
    for (let i = 0; i < vertices.length; i++) {
      const p = vertices[i]! * 3;
      const q = vertices[(i + 1) % vertices.length]! * 3;
      nx += x[p + 1]! * x[q + 2]! - x[p + 2]! * x[q + 1]!;
      ny += x[p + 2]! * x[q]! - x[p]! * x[q + 2]!;
      nz += x[p]! * x[q + 1]! - x[p + 1]! * x[q]!;
    }
  }
  const n = Math.hypot(nx, ny, nz);
  if (n === 0) return null;
  nx /= n;
  ny /= n;
  nz /= n;
  const moved = x.slice();
  for (const v of set) {
    const d = (x[v * 3]! - cx) * nx + (x[v * 3 + 1]! - cy) * ny + (x[v * 3 + 2]! - cz) * nz;
    moved[v * 3]! -= 2 * d * nx;
    moved[v * 3 + 1]! -= 2 * d * ny;
    moved[v * 3 + 2]! -= 2 * d * nz;
  }
  const free = new Set(set);
  for (let r = 0; r < 2; r++) {
    for (const v of [...free])
      for (const f of topology.facesOf[v]!) for (const w of topology.faces[f]!.vertices) free.add(w);
  }
  const local = localSystem(system, moved, free);
  const done = descend(local.system, local.x, weights, 14, { pinned: local.pinned, settle: settleLocal });
  local.vertices.forEach((v, i) => {
    if (!free.has(v)) return;
    for (let k = 0; k < 3; k++) moved[v * 3 + k] = done.x[i * 3 + k]!;
  });
  if (system.mirror) carryToMirror(moved, free, system.mirror);
  return { x: moved, cost: evaluate(system, moved, weights) };
}

/** Gives the partners of moved vertices the mirrored positions. */
function carryToMirror(x: Float64Array, moved: ReadonlySet<number>, mirror: Int32Array): void {
  for (const v of moved) {
    const w = mirror[v]!;
    if (moved.has(w)) continue;
    x[w * 3] = -x[v * 3]!;
    x[w * 3 + 1] = x[v * 3 + 1]!;
    x[w * 3 + 2] = x[v * 3 + 2]!;
  }
  symmetrise(x, mirror);
}

/** The rows that a few free vertices take part in, over these vertices and their partners in the rows alone. */
function localSystem(system: System, x: Float64Array, free: ReadonlySet<number>) {
  const { topology, hinges, planar } = system;
  const number = new Map<number, number>();
  const name = (v: number) => {
    if (!number.has(v)) number.set(v, number.size);
    return number.get(v)!;
  };
  const pairs: number[] = [];
  for (let k = 0; k < system.pairA.length; k++)
    if (free.has(system.pairA[k]!) || free.has(system.pairB[k]!)) pairs.push(k);
  const flats: number[] = [];
  for (let k = 0; k * 4 < planar.length; k++)
    if ([0, 1, 2, 3].some((c) => free.has(planar[k * 4 + c]!))) flats.push(k);
  const bends: number[] = [];
  for (let h = 0; h < hinges.count; h++)
    if ([0, 1, 2, 3].some((c) => free.has(hinges.corners[h * 4 + c]!))) bends.push(h);
  const hingeNumber = new Map(bends.map((h, i) => [h, i]));
  const rows = {
    pairs: pairs.map((k): [number, number, number, number] => [
      name(system.pairA[k]!),
      name(system.pairB[k]!),
      system.rest[k]!,
      system.pairWeight[k]!,
    ]),
    planarWeights: flats.flatMap((k) => [0, 1, 2].map((c) => system.planarWeights[k * 3 + c]!)),
    planar: flats.flatMap((k) => [0, 1, 2, 3].map((c) => name(planar[k * 4 + c]!))),
  };
  const corners = Int32Array.from(
    bends.flatMap((h) => [0, 1, 2, 3].map((c) => name(hinges.corners[h * 4 + c]!))),
  );
  const localHinges = {
    count: bends.length,
    corners,
    edgeOf: Int32Array.from(bends, (h) => hinges.edgeOf[h]!),
    hingeOf: hinges.hingeOf,
    length: Float64Array.from(bends, (h) => hinges.length[h]!),
  };
  const knownBends = system.knownBends.flatMap((k) => {
    const hinge = hingeNumber.get(k.hinge);
    return hinge === undefined ? [] : [{ ...k, hinge }];
  });
  const vertices = [...number.keys()];
  const small = systemOfRows({
    topology,
    hinges: localHinges,
    signs: Int8Array.from(bends, (h) => system.signs[h]!),
    size: vertices.length,
    rows,
    edgeRows: 0,
    prior: null,
    knownBends,
    mirror: null,
  });
  return {
    system: small,
    vertices,
    x: Float64Array.from(vertices.flatMap((v) => [x[v * 3]!, x[v * 3 + 1]!, x[v * 3 + 2]!])),
    pinned: Uint8Array.from(vertices, (v) => (free.has(v) ? 0 : 1)),
  };
}
