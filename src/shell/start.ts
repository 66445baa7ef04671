import { seededRandom } from '../base';
import { bendAngles, type Hinges } from './hinge';
import type { ShellTopology } from './topology';

/**
 * First positions for a fold-up: multidimensional scaling of distances along the surface. Distances run along edges,
 * diagonals of faces and straight over hinges; they are mapped to chords c = 2R·sin(g/2R), R = k·gmax/π, since a shell
 * is round rather than flat. Classical scaling after Torgerson (1952, from memory); eigenvectors by orthogonal
 * iteration.
 */

/** Neighbour lists with lengths: edges, diagonals, and the straight way over each hinge where it crosses the edge. */
function shortcuts(topology: ShellTopology, hinges: Hinges): { to: number; length: number }[][] {
  const out: { to: number; length: number }[][] = Array.from({ length: topology.vertexCount }, () => []);
  const link = (a: number, b: number, length: number) => {
    out[a]!.push({ to: b, length });
    out[b]!.push({ to: a, length });
  };
  for (const e of topology.edges) link(e.a, e.b, e.length);
  for (const { vertices, flat } of topology.faces) {
    for (let i = 0; i < vertices.length; i++) {
      for (let j = i + 2; j < vertices.length; j++) {
        if (i === 0 && j === vertices.length - 1) continue;
        link(vertices[i]!, vertices[j]!, Math.hypot(flat[i]!.x - flat[j]!.x, flat[i]!.y - flat[j]!.y));
      }
    }
  }
  for (let h = 0; h < hinges.count; h++) {
    const e = topology.edges[hinges.edgeOf[h]!]!;
    const heights = [e.left, e.right].map((face, side) => {
      const { vertices, flat } = topology.faces[face]!;
      const a = flat[vertices.indexOf(e.a)]!;
      const b = flat[vertices.indexOf(e.b)]!;
      const length = Math.hypot(b.x - a.x, b.y - a.y);
      const ux = (b.x - a.x) / length;
      const uy = (b.y - a.y) / length;
      return vertices.flatMap((v, i) => {
        if (v === e.a || v === e.b) return [];
        const p = flat[i]!;
        const along = (p.x - a.x) * ux + (p.y - a.y) * uy;
        const up = (p.y - a.y) * ux - (p.x - a.x) * uy;
        return [{ v, along, up: side === 0 ? up : -up, length }];
      });
    });
    for (const p of heights[0]!) {
      for (const q of heights[1]!) {
        // p above the edge, q below it: the straight way must cross between its ends.
        const up = Math.abs(p.up);
        const down = Math.abs(q.up);
        if (up + down === 0) continue;
        const cross = (p.along * down + q.along * up) / (up + down);
        if (cross < 0 || cross > p.length) continue;
        link(p.v, q.v, Math.hypot(p.along - q.along, up + down));
      }
    }
  }
  return out;
}

/** Shortest ways from one vertex (Dijkstra with a binary heap). */
function distancesFrom(
  graph: readonly (readonly { to: number; length: number }[])[],
  from: number,
): Float64Array {
  const dist = new Float64Array(graph.length).fill(Number.POSITIVE_INFINITY);
  const heap: { v: number; d: number }[] = [{ v: from, d: 0 }];
  dist[from] = 0;
  while (heap.length > 0) {
    const top = heap[0]!;
    const last = heap.pop()!;
    if (heap.length > 0) {
      let i = 0;
      for (;;) {
        const l = 2 * i + 1;
        if (l >= heap.length) break;
        const c = l + 1 < heap.length && heap[l + 1]!.d < heap[l]!.d ? l + 1 : l;
        if (heap[c]!.d >= last.d) break;
        heap[i] = heap[c]!;
        i = c;
      }
      heap[i] = last;
    }
    if (top.d > dist[top.v]!) continue;
    for (const { to, length } of graph[top.v]!) {
      const d = top.d + length;
      if (d >= dist[to]!) continue;
      dist[to] = d;
      let i = heap.length;
      heap.push({ v: to, d });
      while (i > 0) {
        const p = (i - 1) >> 1;
        if (heap[p]!.d <= d) break;
        heap[i] = heap[p]!;
        i = p;
      }
      heap[i] = { v: to, d };
    }
  }
  return dist;
}

/**
 * The distances along the surface between all vertices, row by row.
 * @param mirror partner of each vertex: its distances are the mirrored ones
 */
export function surfaceDistances(
  topology: ShellTopology,
  hinges: Hinges,
  mirror: Int32Array | null = null,
): Float64Array {
  const graph = shortcuts(topology, hinges);
  const n = topology.vertexCount;
  const out = new Float64Array(n * n);
  for (let v = 0; v < n; v++) {
    const image = mirror ? mirror[v]! : v;
    if (image < v) for (let w = 0; w < n; w++) out[v * n + w] = out[image * n + mirror![w]!]!;
    else out.set(distancesFrom(graph, v), v * n);
  }
  return out;
}

/**
 * Positions by scaling of the chords. Each component is scaled by itself and put at the origin.
 * @param roundness k: R = k·gmax/π; Infinity takes the distances as they are
 * @param signs fold directions, to choose between the two mirror images; without any, mostly convex wins
 */
export function scaledStart(
  topology: ShellTopology,
  hinges: Hinges,
  signs: Int8Array,
  distances: Float64Array,
  roundness: number,
): Float64Array {
  const n = topology.vertexCount;
  const x = new Float64Array(n * 3);
  for (let c = 0; c < topology.componentCount; c++) {
    const members = topology.component.flatMap((k, v) => (k === c ? [v] : []));
    const m = members.length;
    let far = 0;
    for (const a of members) for (const b of members) far = Math.max(far, distances[a * n + b]!);
    const radius = (roundness * far) / Math.PI;
    const square = new Float64Array(m * m);
    const mean = new Float64Array(m);
    for (let i = 0; i < m; i++) {
      for (let j = 0; j < m; j++) {
        const g = distances[members[i]! * n + members[j]!]!;
        const chord = Number.isFinite(radius)
          ? 2 * radius * Math.sin(Math.min(g / (2 * radius), Math.PI / 2))
          : g;
        square[i * m + j] = chord * chord;
        mean[i]! += (chord * chord) / m;
      }
    }
    const all = mean.reduce((s, v) => s + v, 0) / m;
    for (let i = 0; i < m; i++) {
      for (let j = 0; j < m; j++) square[i * m + j] = -(square[i * m + j]! - mean[i]! - mean[j]! + all) / 2;
    }
    const axes = leadingSpace(square, m);
    members.forEach((v, i) => {
      for (let k = 0; k < 3; k++) x[v * 3 + k] = axes[k]![i]!;
    });
  }
  const theta = bendAngles(hinges, x);
  for (let c = 0; c < topology.componentCount; c++) {
    let agree = 0;
    let convex = 0;
    for (let h = 0; h < hinges.count; h++) {
      if (topology.component[hinges.corners[h * 4]!] !== c) continue;
      agree += signs[h]! * Math.sign(theta[h]!);
      convex += theta[h]! * hinges.length[h]!;
    }
    if (agree < 0 || (agree === 0 && convex < 0)) {
      for (let v = 0; v < n; v++) if (topology.component[v] === c) x[v * 3 + 2] = -x[v * 3 + 2]!;
    }
  }
  return x;
}

/** Rounds of iteration at most, and the change of their reach at which the space of the vectors has settled. */
const mostRounds = 60;
const settledPart = 1e-10;

/** Three vectors X with X Xᵀ as near to a symmetric matrix as may be: its leading eigenvectors by their roots, turned. */
function leadingSpace(matrix: Float64Array, n: number): Float64Array[] {
  const random = seededRandom(7);
  const kept = Math.min(n, 6);
  let basis: Float64Array[] = Array.from({ length: kept }, () =>
    Float64Array.from({ length: n }, () => random() - 0.5),
  );
  let before = 0;
  for (let round = 0; round < mostRounds; round++) {
    basis = product(matrix, n, basis);
    // Of three vectors square to each other: the same for any three that span the same.
    const reach = basis.slice(0, 3).reduce((s, v) => s + v.reduce((t, c) => t + c * c, 0), 0);
    const settled = Math.abs(reach - before) < settledPart * reach;
    before = reach;
    basis.forEach((v, k) => {
      for (let q = 0; q < k; q++) {
        let s = 0;
        for (let i = 0; i < n; i++) s += basis[q]![i]! * v[i]!;
        for (let i = 0; i < n; i++) v[i] = v[i]! - s * basis[q]![i]!;
      }
      let norm = 0;
      for (let i = 0; i < n; i++) norm += v[i]! * v[i]!;
      norm = Math.sqrt(norm) || 1e-300;
      for (let i = 0; i < n; i++) v[i] = v[i]! / norm;
    });
    if (settled) break;
  }
  // Within their space the vectors have not settled: a root of the matrix there gives the same shape, turned.
  const leading = basis.slice(0, 3);
  const images = product(matrix, n, leading);
  const root = [0, 0, 0, 0, 0, 0, 0, 0, 0];
  leading.forEach((v, r) => {
    for (let c = 0; c <= r; c++) {
      let s = 0;
      for (let i = 0; i < n; i++) s += v[i]! * images[c]![i]!;
      for (let k = 0; k < c; k++) s -= root[r * 3 + k]! * root[c * 3 + k]!;
      root[r * 3 + c] = r === c ? Math.sqrt(Math.abs(s)) : s / (root[c * 4]! || 1);
    }
  });
  return [0, 1, 2].map((k) => {
    const out = new Float64Array(n);
    leading.forEach((v, r) => {
      for (let i = 0; i < n; i++) out[i]! += root[r * 3 + k]! * v[i]!;
    });
    return out;
  });
}

/** A matrix times some vectors; it is large, so each row is read once for three of them. */
function product(matrix: Float64Array, n: number, vectors: readonly Float64Array[]): Float64Array[] {
  const out = vectors.map(() => new Float64Array(n));
  const none = new Float64Array(n);
  for (let k = 0; k < vectors.length; k += 3) {
    const [u, v, w] = [vectors[k]!, vectors[k + 1] ?? none, vectors[k + 2] ?? none];
    for (let i = 0; i < n; i++) {
      let [p, q, r] = [0, 0, 0];
      const o = i * n;
      for (let j = 0; j < n; j++) {
        const a = matrix[o + j]!;
        p += a * u[j]!;
        q += a * v[j]!;
        r += a * w[j]!;
      }
      out[k]![i] = p;
      if (k + 1 < out.length) out[k + 1]![i] = q;
      if (k + 2 < out.length) out[k + 2]![i] = r;
    }
  }
  return out;
}
