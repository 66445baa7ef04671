import { mirrorSlack } from './tolerance';
import type { ShellTopology } from './topology';

/**
 * Mirror symmetry of a glued surface, found on the flat faces alone: a map of faces to faces that turns every ring
 * round, keeps adjacency and keeps lengths. A connected surface has at most one such map for each place that one
 * corner may go to, so each place is tried and spread over all faces until it fails.
 */

/** The mirror partner of each vertex (a middle one is its own), or null. One connected part. */
export function findMirror(topology: ShellTopology): Int32Array | null {
  const home = topology.faces[0];
  if (!home || topology.componentCount !== 1) return null;
  let best: Int32Array | null = null;
  let most = 0;
  for (let g = 0; g < topology.faces.length; g++) {
    const n = topology.faces[g]!.vertices.length;
    if (n !== home.vertices.length) continue;
    for (let j = 0; j < n; j++) {
      const map = spread(topology, g, j);
      if (!map) continue;
      let fixed = 0;
      let twice = true;
      for (let v = 0; v < map.length; v++) {
        if (map[v] === v) fixed++;
        if (map[map[v]!] !== v) twice = false;
      }
      // A plane meets the surface: some edge or vertex is its own image. Turning through a point has none.
      const crossing = topology.edges.some((e) => map[e.a] === e.b);
      if (!twice || (fixed === 0 && !crossing)) continue;
      const score = fixed + 1;
      if (score > most) {
        most = score;
        best = map;
      }
    }
  }
  return best;
}

/** Spreads the map that sends corner 0 of face 0 to corner j of face g over all faces; null when it fails. */
function spread(topology: ShellTopology, g: number, j: number): Int32Array | null {
  const { faces, edges, edgeAt, vertexCount } = topology;
  const map = new Int32Array(vertexCount).fill(-1);
  const target = new Int32Array(faces.length).fill(-1);
  const queue: { from: number; corner: number; to: number; at: number }[] = [
    { from: 0, corner: 0, to: g, at: j },
  ];
  target[0] = g;
  for (let q = 0; q < queue.length; q++) {
    const { from, corner, to, at } = queue[q]!;
    const a = faces[from]!;
    const b = faces[to]!;
    const n = a.vertices.length;
    if (b.vertices.length !== n) return null;
    for (let k = 0; k < n; k++) {
      const i = (corner + k) % n;
      const m = (((at - k) % n) + n) % n;
      const v = a.vertices[i]!;
      const w = b.vertices[m]!;
      if (map[v] !== -1 && map[v] !== w) return null;
      map[v] = w;
      for (const step of [1, 2]) {
        const p = a.flat[i]!;
        const r = a.flat[(i + step) % n]!;
        const s = b.flat[m]!;
        const t = b.flat[(m - step + n) % n]!;
        if (Math.abs(Math.hypot(p.x - r.x, p.y - r.y) - Math.hypot(s.x - t.x, s.y - t.y)) > mirrorSlack)
          return null;
      }
    }
    for (let k = 0; k < n; k++) {
      const i = (corner + k) % n;
      const m = (((at - k) % n) + n) % n;
      const v = a.vertices[i]!;
      const v2 = a.vertices[(i + 1) % n]!;
      const w = b.vertices[m]!;
      const w2 = b.vertices[(m - 1 + n) % n]!;
      const e = edges[edgeAt.get(Math.min(v, v2) * vertexCount + Math.max(v, v2))!]!;
      const f = edges[edgeAt.get(Math.min(w, w2) * vertexCount + Math.max(w, w2))!]!;
      const next = e.left === from ? e.right : e.left;
      const image = f.left === to ? f.right : f.left;
      if (next < 0 !== image < 0) return null;
      if (next < 0) continue;
      if (target[next] !== -1) {
        if (target[next] !== image) return null;
        continue;
      }
      target[next] = image;
      queue.push({
        from: next,
        corner: faces[next]!.vertices.indexOf(v),
        to: image,
        at: faces[image]!.vertices.indexOf(w),
      });
    }
  }
  return map;
}

/** Turns the positions so that the mirror plane fitted to the pairs is x = 0, and makes them symmetric. */
export function toMirrorPlane(x: Float64Array, mirror: Int32Array): Float64Array {
  const n = mirror.length;
  const middle = [0, 0, 0];
  for (let i = 0; i < x.length; i++) middle[i % 3]! += x[i]! / n;
  const m = [0, 0, 0, 0, 0, 0, 0, 0, 0];
  for (let v = 0; v < n; v++) {
    const w = mirror[v]! * 3;
    for (let r = 0; r < 3; r++)
      for (let c = 0; c < 3; c++) m[r * 3 + c]! += (x[v * 3 + r]! - x[w + r]!) * (x[v * 3 + c]! - x[w + c]!);
  }
  let e = [0.61, 0.53, 0.59];
  for (let round = 0; round < 200; round++) {
    const next = [0, 1, 2].map((r) => m[r * 3]! * e[0]! + m[r * 3 + 1]! * e[1]! + m[r * 3 + 2]! * e[2]!);
    const size = Math.hypot(...next);
    if (size === 0) break;
    e = next.map((s) => s / size);
  }
  // Axes: e, then the coordinate axis least along it made square to it.
  const away = [0, 1, 2].reduce((k, i) => (Math.abs(e[i]!) < Math.abs(e[k]!) ? i : k), 0);
  const f = [0, 1, 2].map((i) => (i === away ? 1 : 0) - e[away]! * e[i]!);
  const size = Math.hypot(...f);
  for (let i = 0; i < 3; i++) f[i]! /= size;
  const g = [e[1]! * f[2]! - e[2]! * f[1]!, e[2]! * f[0]! - e[0]! * f[2]!, e[0]! * f[1]! - e[1]! * f[0]!];
  const out = new Float64Array(x.length);
  for (let v = 0; v < n; v++) {
    const d = [0, 1, 2].map((k) => x[v * 3 + k]! - middle[k]!);
    [e, f, g].forEach((axis, k) => {
      out[v * 3 + k] = axis[0]! * d[0]! + axis[1]! * d[1]! + axis[2]! * d[2]!;
    });
  }
  symmetrise(out, mirror);
  return out;
}

/** Makes positions exactly symmetric about x = 0, in place. */
export function symmetrise(x: Float64Array, mirror: Int32Array): void {
  for (let v = 0; v < mirror.length; v++) {
    const w = mirror[v]!;
    if (w < v) continue;
    const a = v * 3;
    const b = w * 3;
    const across = (x[a]! - x[b]!) / 2;
    const along = (x[a + 1]! + x[b + 1]!) / 2;
    const up = (x[a + 2]! + x[b + 2]!) / 2;
    x[a] = across;
    x[b] = v === w ? 0 : -across;
    if (v === w) x[a] = 0;
    x[a + 1] = x[b + 1] = along;
    x[a + 2] = x[b + 2] = up;
  }
}
