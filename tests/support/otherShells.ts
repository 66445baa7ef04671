/**
 * Shells that are not laid out in rows and columns, for tests of folding up: random and decimated meshes on helmet-like
 * surfaces, with and without symmetry, closed bodies, cut stones, tubes, strips of planar quads, horns. Edges near 25 mm.
 */
import { seededRandom } from '../../src/base';
import { MeshBuilder, mirrorHalf, type ShellMesh, unit3, type Vec3, vec } from './harbourWatch';
import { decimate, delaunay, hullTriangles } from './triangulate';

export const otherKinds = [
  'dome',
  'dome with eyes',
  'symmetric dome',
  'decimated dome',
  'horned dome',
  'body',
  'open body',
  'stone',
  'open stone',
  'tube',
  'quad strip',
  'two shells',
] as const;
export type OtherKind = (typeof otherKinds)[number];

const edge = 25;

export function otherShell(kind: OtherKind, seed: number, faces: number): ShellMesh {
  const name = `${kind} ${seed} of ${faces}`;
  switch (kind) {
    case 'dome':
      return dome(name, seed, faces, { face: true });
    case 'dome with eyes':
      return dome(name, seed, faces, { eyes: true });
    case 'symmetric dome':
      return dome(name, seed, faces, { face: true, symmetric: true });
    case 'decimated dome':
      return decimated(name, dome(name, seed, faces * 2, {}), faces);
    case 'horned dome':
      return dome(name, seed, faces, { horns: true });
    case 'body':
      return body(name, seed, faces);
    case 'open body':
      return cutOff(body(name, seed, Math.round(faces * 1.4)), seed);
    case 'stone':
      return stone(name, seed, faces);
    case 'open stone':
      return cutOff(stone(name, seed, Math.round(faces * 1.4)), seed);
    case 'tube':
      return tube(name, seed, faces);
    case 'quad strip':
      return quadStrip(name, seed, faces);
    case 'two shells':
      return beside(
        name,
        dome(name, seed, Math.round(faces * 0.7), { face: true }),
        tube(name, seed, Math.round(faces * 0.3)),
      );
  }
}

/** A smooth star-shaped reach by direction: a few waves of random size and lie. */
function reachOf(random: () => number, symmetric: boolean): (d: Vec3) => number {
  const waves = Array.from({ length: 6 }, () => ({
    k: vec(3 * (random() - 0.5), 3 * (random() - 0.5), 3 * (random() - 0.5)),
    size: 0.07 * (random() - 0.5),
    phase: 6.28 * random(),
  }));
  const at = (d: Vec3) =>
    waves.reduce((s, w) => s + w.size * Math.sin(w.k.x * d.x + w.k.y * d.y + w.k.z * d.z + w.phase), 1);
  return symmetric ? (d) => (at(d) + at(vec(-d.x, d.y, d.z))) / 2 : at;
}

interface DomeOptions {
  readonly face?: boolean;
  readonly eyes?: boolean;
  readonly horns?: boolean;
  readonly symmetric?: boolean;
}

/** Random points on a hood, joined by Delaunay in its map (distance and direction from the crown). */
function dome(name: string, seed: number, faces: number, options: DomeOptions): ShellMesh {
  const random = seededRandom(seed * 31 + 5);
  const symmetric = options.symmetric ?? false;
  const widest = 1.95;
  // Points: about half as many as triangles, even on the map's own area.
  const count = Math.max(20, faces * 0.58);
  const radius = edge * Math.sqrt((0.433 * 2 * count) / (2 * Math.PI * (1 - Math.cos(widest))));
  const apart = 0.78 * (edge / radius);
  const rim = Math.max(8, 2 * Math.round((Math.PI * Math.sin(widest) * radius) / edge));
  const place = (tilt: number, turn: number) =>
    vec(Math.sin(tilt) * Math.sin(turn), Math.sin(tilt) * Math.cos(turn), Math.cos(tilt));
  const polar: { tilt: number; turn: number; d: Vec3 }[] = [];
  const put = (tilt: number, turn: number) => polar.push({ tilt, turn, d: place(tilt, turn) });
  // Off the circle by a hair, the same on both sides, since corners on one circle have no one triangulation.
  for (let i = 0; i < rim; i++)
    put(widest + 0.01 * apart * Math.cos(7 * i * (rim - i)), (2 * Math.PI * i) / rim);
  if (symmetric)
    for (const turn of [0, Math.PI])
      for (let t = widest - apart * 1.25; t > 0.5 * apart; t -= apart * 1.25) put(t, turn);
  if (symmetric) put(0, 0);
  for (let tries = 0; tries < 60 * count; tries++) {
    const tilt = Math.acos(1 - random() * (1 - Math.cos(widest)));
    const turn = (symmetric ? Math.PI : 2 * Math.PI) * random();
    const d = place(tilt, turn);
    if (widest - tilt < 0.7 * apart || (symmetric && d.x < 0.6 * apart)) continue;
    if (polar.some((p) => Math.acos(Math.min(1, p.d.x * d.x + p.d.y * d.y + p.d.z * d.z)) < apart)) continue;
    put(tilt, turn);
    if (symmetric) put(tilt, -turn);
  }
  const flat = polar.map((p) => ({ x: p.tilt * Math.sin(p.turn), y: p.tilt * Math.cos(p.turn) }));
  const reach = reachOf(random, symmetric);
  const horns = [vec(0.75, 0.1, 0.65), vec(-0.75, 0.1, 0.65)].map(unit3);
  const position = (d: Vec3): Vec3 => {
    let r = radius * reach(d);
    if (options.horns)
      for (const h of horns) {
        const off = Math.acos(Math.min(1, h.x * d.x + h.y * d.y + h.z * d.z));
        r += 0.55 * radius * Math.exp(-((off / 0.3) ** 2));
      }
    return vec(0.85 * r * d.x, r * d.y, 0.95 * r * d.z);
  };
  const inside = (d: Vec3, x: number, tilt: number, size: number) => {
    const c = place(tilt, x);
    return Math.acos(Math.min(1, c.x * d.x + c.y * d.y + c.z * d.z)) < size;
  };
  const open = (d: Vec3) =>
    (options.face && inside(d, 0, 1.75, 0.45)) ||
    (options.eyes && (inside(d, 0.42, 1.35, 0.24) || inside(d, -0.42, 1.35, 0.24)));
  const keep = delaunay(flat).filter((t) => {
    const d = unit3(
      vec(
        t.reduce((s, v) => s + polar[v]!.d.x, 0),
        t.reduce((s, v) => s + polar[v]!.d.y, 0),
        t.reduce((s, v) => s + polar[v]!.d.z, 0),
      ),
    );
    const area = Math.abs(
      (flat[t[1]]!.x - flat[t[0]]!.x) * (flat[t[2]]!.y - flat[t[0]]!.y) -
        (flat[t[2]]!.x - flat[t[0]]!.x) * (flat[t[1]]!.y - flat[t[0]]!.y),
    );
    return !open(d) && area > 1e-3 * apart * apart;
  });
  const vertices = polar.map((p) => position(p.d));
  // The map shows the dome from above with x to the right and y up: counter-clockwise there is outside.
  if (!symmetric) return manifold(name, vertices, keep);
  const half = keep.filter((t) => t.reduce((s, v) => s + vertices[v]!.x, 0) > 1e-6);
  const mesh = manifold(name, vertices, half);
  return mirrorHalf(name, mesh);
}

/** Drops faces until every corner has one fan of faces and all hang together; unused corners go. */
function manifold(name: string, vertices: readonly Vec3[], faces: readonly (readonly number[])[]): ShellMesh {
  let list = faces.map((f) => [...f]);
  for (;;) {
    const sore = new Set<number[]>();
    const at = new Map<number, number[][]>();
    for (const f of list) for (const v of f) at.set(v, [...(at.get(v) ?? []), f]);
    for (const [v, around] of at) {
      const groups = linked(around, (f, g) => f.filter((w) => g.includes(w)).length > 1 && f.includes(v));
      for (const g of groups.slice(1)) for (const f of g) sore.add(f);
    }
    for (const g of linked(list, (f, h) => f.filter((w) => h.includes(w)).length > 1).slice(1))
      for (const f of g) sore.add(f);
    if (sore.size === 0) break;
    list = list.filter((f) => !sore.has(f));
  }
  const builder = new MeshBuilder();
  for (const f of list) builder.face(...f.map((v) => vertices[v]!));
  return builder.build(name);
}

/** Groups of faces that are linked, largest first. */
function linked(faces: readonly number[][], meet: (f: number[], g: number[]) => boolean): number[][][] {
  const left = new Set(faces);
  const groups: number[][][] = [];
  for (const first of faces) {
    if (!left.delete(first)) continue;
    const group = [first];
    for (let i = 0; i < group.length; i++)
      for (const g of left)
        if (meet(group[i]!, g)) {
          left.delete(g);
          group.push(g);
        }
    groups.push(group);
  }
  return groups.sort((p, q) => q.length - p.length);
}

/** Directions spread over the sphere at random, then evened out a little. */
function spreadDirections(random: () => number, count: number): Vec3[] {
  const out: Vec3[] = [];
  for (let i = 0; i < count; i++) {
    let best = vec(0, 0, 1);
    let most = -1;
    for (let k = 0; k < 12; k++) {
      const z = 2 * random() - 1;
      const a = 6.283185 * random();
      const d = vec(Math.sqrt(1 - z * z) * Math.cos(a), Math.sqrt(1 - z * z) * Math.sin(a), z);
      const near = out.reduce((m, p) => Math.min(m, Math.hypot(p.x - d.x, p.y - d.y, p.z - d.z)), 9);
      if (near > most) {
        most = near;
        best = d;
      }
    }
    out.push(best);
  }
  return out;
}

function body(name: string, seed: number, faces: number): ShellMesh {
  const random = seededRandom(seed * 17 + 3);
  const directions = spreadDirections(random, Math.round(faces / 2) + 2);
  const radius = edge * Math.sqrt((0.433 * faces) / (4 * Math.PI));
  const reach = reachOf(random, false);
  const vertices = directions.map((d) => {
    const r = radius * reach(d);
    return vec(0.8 * r * d.x, r * d.y, 1.15 * r * d.z);
  });
  return { name, vertices, faces: hullTriangles(directions) };
}

/** Planes at an ellipsoid: every face flat with three to nine corners, three faces at every corner. */
function stone(name: string, seed: number, faces: number): ShellMesh {
  const random = seededRandom(seed * 13 + 7);
  const directions = spreadDirections(random, faces);
  const triangles = hullTriangles(directions);
  const radius = edge * Math.sqrt((2.6 * faces) / (4 * Math.PI));
  const vertices = triangles.map(([a, b, c]) => {
    const [p, q, r] = [directions[a]!, directions[b]!, directions[c]!];
    const u = vec(q.x - p.x, q.y - p.y, q.z - p.z);
    const v = vec(r.x - p.x, r.y - p.y, r.z - p.z);
    const n = vec(u.y * v.z - u.z * v.y, u.z * v.x - u.x * v.z, u.x * v.y - u.y * v.x);
    const level = n.x * p.x + n.y * p.y + n.z * p.z;
    return vec((0.8 * radius * n.x) / level, (radius * n.y) / level, (1.1 * radius * n.z) / level);
  });
  const rings = directions.map((_, v) => {
    const next = new Map<number, { triangle: number; to: number }>();
    triangles.forEach((t, k) => {
      const i = t.indexOf(v);
      if (i >= 0) next.set(t[(i + 1) % 3]!, { triangle: k, to: t[(i + 2) % 3]! });
    });
    const first = [...next.keys()][0]!;
    const ring: number[] = [];
    for (let at = first; ring.length < next.size; at = next.get(at)!.to) ring.push(next.get(at)!.triangle);
    return ring;
  });
  return { name, vertices, faces: rings };
}

/** The part above a slanting plane, with a window cut in front. */
function cutOff(mesh: ShellMesh, seed: number): ShellMesh {
  const random = seededRandom(seed + 99);
  const slant = 0.3 * (random() - 0.5);
  const high = Math.max(...mesh.vertices.map((p) => p.z));
  const front = Math.max(...mesh.vertices.map((p) => p.y));
  const keep = mesh.faces.filter((f) => {
    const c = f.reduce(
      (s, v) =>
        vec(
          s.x + mesh.vertices[v]!.x / f.length,
          s.y + mesh.vertices[v]!.y / f.length,
          s.z + mesh.vertices[v]!.z / f.length,
        ),
      vec(0, 0, 0),
    );
    if (c.z + slant * c.y < -0.45 * high) return false;
    return !(c.y > 0.55 * front && Math.hypot(c.x, c.z + 0.1 * high) < 0.35 * front);
  });
  return manifold(mesh.name, mesh.vertices, keep);
}

/** A sleeve open at both ends, its section and thickness changing along it; rows shifted against each other. */
function tube(name: string, seed: number, faces: number): ShellMesh {
  const random = seededRandom(seed * 7 + 1);
  const columns = Math.max(6, 2 * Math.round(Math.sqrt(faces * 0.9) / 2));
  const rows = Math.max(2, Math.round(faces / (2 * columns)));
  const radius = (columns * edge) / (2 * Math.PI);
  const [p, q, r] = [random(), random(), random()];
  const at = (k: number, j: number) => {
    const t = k / rows;
    const a = (2 * Math.PI * (j + k / 2)) / columns;
    const reach = radius * (1 + 0.25 * Math.sin(2.5 * t + 3 * p) + 0.08 * Math.cos(2 * a + 6 * q + t));
    return vec(0.85 * reach * Math.cos(a) + 0.3 * radius * t * t * r, reach * Math.sin(a), k * edge * 0.87);
  };
  const builder = new MeshBuilder();
  const corner = Array.from({ length: rows + 1 }, (_, k) =>
    Array.from({ length: columns }, (_, j) => at(k, j)),
  );
  for (let k = 0; k < rows; k++)
    for (let j = 0; j < columns; j++) {
      const n = (j + 1) % columns;
      builder.face(corner[k]![j]!, corner[k]![n]!, corner[k + 1]![j]!);
      builder.face(corner[k]![n]!, corner[k + 1]![n]!, corner[k + 1]![j]!);
    }
  return builder.build(name);
}

/** Part of a turned surface, stretched: planar quads, some split; such nets have a hidden free motion. */
function quadStrip(name: string, seed: number, faces: number): ShellMesh {
  const random = seededRandom(seed * 11 + 2);
  const columns = Math.max(3, Math.round(Math.sqrt(faces * 1.2)));
  const rows = Math.max(3, Math.round(faces / columns));
  const span = 2.4;
  const radius = (columns * edge) / span;
  const profile = Array.from({ length: rows + 1 }, (_, k) => {
    const t = (1.7 * k) / rows;
    return {
      r: radius * (0.35 + 0.65 * Math.cos(t * 0.8) + 0.05 * Math.sin(5 * t)),
      z: radius * 0.7 * Math.sin(t),
    };
  });
  const builder = new MeshBuilder();
  const at = (k: number, j: number) => {
    const a = -span / 2 + (span * j) / columns;
    const { r, z } = profile[k]!;
    return vec(1.2 * r * Math.sin(a), r * Math.cos(a), z);
  };
  for (let k = 0; k < rows; k++)
    for (let j = 0; j < columns; j++) {
      const ring = [at(k, j + 1), at(k, j), at(k + 1, j), at(k + 1, j + 1)] as const;
      if (random() < 0.15) {
        builder.face(ring[0], ring[1], ring[2]);
        builder.face(ring[0], ring[2], ring[3]);
      } else builder.face(...ring);
    }
  return builder.build(name);
}

function decimated(name: string, mesh: ShellMesh, faces: number): ShellMesh {
  const less = decimate(mesh.vertices, mesh.faces, faces);
  return manifold(name, less.vertices, less.faces);
}

function beside(name: string, a: ShellMesh, b: ShellMesh): ShellMesh {
  const shift = 900;
  return {
    name,
    vertices: [...a.vertices, ...b.vertices.map((p) => vec(p.x + shift, p.y, p.z))],
    faces: [...a.faces, ...b.faces.map((f) => f.map((v) => v + a.vertices.length))],
  };
}
