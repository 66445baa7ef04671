/** Further shells for tests: solids, prisms, and seeded open shells of any size. Edges near 25 mm. */
import { seededRandom } from '../../../src/base';
import { MeshBuilder, mirrorHalf } from './meshBuilder';
import type { ShellMesh } from './shellMesh';
import { centroid3, cross3, dot3, minus, times, type Vec3, vec } from './vec3';

export type SolidName = 'tetrahedron' | 'cube' | 'octahedron' | 'dodecahedron' | 'icosahedron';

const golden = (1 + Math.sqrt(5)) / 2;

/** Corner directions of the regular solids (textbook coordinates). */
const solidCorners: Record<SolidName, readonly Vec3[]> = {
  tetrahedron: [vec(1, 1, 1), vec(1, -1, -1), vec(-1, 1, -1), vec(-1, -1, 1)],
  cube: signs([1, 1, 1]),
  octahedron: [vec(1, 0, 0), vec(-1, 0, 0), vec(0, 1, 0), vec(0, -1, 0), vec(0, 0, 1), vec(0, 0, -1)],
  dodecahedron: [...signs([1, 1, 1]), ...cycles(1 / golden, golden)],
  icosahedron: cycles(1, golden),
};

function signs([x, y, z]: readonly [number, number, number]): Vec3[] {
  const both = [1, -1];
  return both.flatMap((a) => both.flatMap((b) => both.map((c) => vec(a * x, b * y, c * z))));
}
function cycles(a: number, b: number): Vec3[] {
  const both = [1, -1];
  return both.flatMap((s) =>
    both.flatMap((t) => [vec(0, s * a, t * b), vec(s * a, t * b, 0), vec(t * b, 0, s * a)]),
  );
}

/** A regular solid with the given edge length, mm. */
export function solid(name: SolidName, edge = 60): ShellMesh {
  const corners = solidCorners[name];
  const shortest = Math.min(
    ...corners.flatMap((p, i) =>
      corners.slice(i + 1).map((q) => Math.hypot(p.x - q.x, p.y - q.y, p.z - q.z)),
    ),
  );
  return hullMesh(
    name,
    corners.map((p) => times(p, edge / shortest)),
  );
}

/** Upright prism over a regular n-gon, with top and bottom unless `open`. */
export function prism(sides: number, radius = 60, height = 80, open = false): ShellMesh {
  const builder = new MeshBuilder();
  const ring = (z: number) =>
    Array.from({ length: sides }, (_, i) => {
      const a = (2 * Math.PI * i) / sides;
      return vec(radius * Math.cos(a), radius * Math.sin(a), z);
    });
  const low = ring(0);
  const high = ring(height);
  for (let i = 0; i < sides; i++) {
    const j = (i + 1) % sides;
    builder.face(low[i]!, low[j]!, high[j]!, high[i]!);
  }
  if (!open) {
    builder.face(...high);
    builder.face(...[...low].reverse());
  }
  return builder.build(`${open ? 'open ' : ''}prism of ${sides}`);
}

/** Faces of a convex solid about the origin from its corners: planes with all corners on one side. */
function hullMesh(name: string, corners: readonly Vec3[]): ShellMesh {
  const slack = 1e-9 * Math.max(...corners.map((p) => Math.hypot(p.x, p.y, p.z)));
  const faces = new Map<string, number[]>();
  for (let i = 0; i < corners.length; i++)
    for (let j = i + 1; j < corners.length; j++)
      for (let k = j + 1; k < corners.length; k++) {
        let n = cross3(minus(corners[j]!, corners[i]!), minus(corners[k]!, corners[i]!));
        if (dot3(n, corners[i]!) < 0) n = times(n, -1);
        n = times(n, 1 / Math.hypot(n.x, n.y, n.z));
        const level = dot3(n, corners[i]!);
        if (corners.some((p) => dot3(n, p) > level + slack)) continue;
        const on = corners.flatMap((p, m) => (dot3(n, p) > level - slack ? [m] : []));
        const key = on.join(',');
        if (faces.has(key)) continue;
        const middle = centroid3(on.map((m) => corners[m]!));
        const u = minus(corners[on[0]!]!, middle);
        const w = cross3(n, u);
        const angle = (m: number) => {
          const d = minus(corners[m]!, middle);
          return Math.atan2(dot3(d, w), dot3(d, u));
        };
        faces.set(
          key,
          [...on].sort((a, b) => angle(a) - angle(b)),
        );
      }
  return { name, vertices: corners, faces: [...faces.values()] };
}

export interface OpenShellOptions {
  readonly seed: number;
  /** About so many faces, 40 to 900. */
  readonly faces: number;
  /** Exactly mirror-symmetric about x = 0. */
  readonly symmetric: boolean;
  /** Flat quads where the net allows, all triangles, or some of each. */
  readonly net: 'quads' | 'triangles' | 'mixed';
  /** Corners moved at random by up to this part of an edge (makes triangles of quads). */
  readonly jitter: number;
}

/**
 * An open shell like a hood: rows of a closed cross-section of uneven shape, drawn in towards the top, closed by a fan
 * at the crown, open at the bottom, with an opening in front when it has room for one.
 */
export function openShell(options: OpenShellOptions): ShellMesh {
  const random = seededRandom(options.seed);
  const perCell = options.jitter > 0 || options.net === 'triangles' ? 2 : options.net === 'mixed' ? 1.5 : 1;
  const cells = options.faces / perCell;
  // About 2.2 columns to a row; an even number of columns, so that halves have whole columns.
  const half = Math.max(3, Math.round(Math.sqrt(cells * 2.2) / 2));
  const rowCount = Math.max(2, Math.round(cells / (2 * half)));
  const edge = 25;
  const radius = (2 * half * edge) / (2 * Math.PI);
  const waves = [1, 2, 3].map((n) => ({ n, size: (0.1 * (random() - 0.3)) / n, phase: random() * 6.28 }));
  const columns = 2 * half;
  /** Shape of the cross-section; on symmetric shells a function of the angle from the front alone. */
  const reach = (angle: number) =>
    waves.reduce((sum, w) => sum + w.size * Math.cos(w.n * angle + (options.symmetric ? 0 : w.phase)), 1);
  const shape = Array.from({ length: columns }, (_, j) => {
    const angle = (2 * Math.PI * j) / columns;
    const r = radius * reach(angle);
    return vec(r * Math.sin(angle) * 0.85, r * Math.cos(angle), 0);
  });
  const rows = Array.from({ length: rowCount + 1 }, (_, k) => {
    const t = k / (rowCount + 1);
    const scale = 1.02 - 0.1 * Math.sin(3 * t) - 0.62 * t ** 3;
    const z = edge * (rowCount + 1) * (t - 0.12 * t ** 4) * 0.9;
    const shift = 0.12 * radius * Math.sin(2.2 * t);
    return { z, scale, shift };
  });
  const wobble = () => 2 * (random() - 0.5) * options.jitter * edge;
  const net = rows.map((row) => {
    const points = shape.map((p) => vec(p.x * row.scale, p.y * row.scale + row.shift, row.z));
    return points.map((p, j) => {
      if (options.jitter === 0) return p;
      const d = vec(wobble(), wobble(), wobble());
      const middle = options.symmetric && (j === 0 || j === half);
      return vec(p.x + (middle ? 0 : d.x), p.y + d.y, p.z + d.z);
    });
  });
  const top = net[rowCount]!;
  const crown = vec(
    options.symmetric ? 0 : 0.05 * radius,
    centroid3(top).y,
    rows[rowCount]!.z + 0.22 * edge * Math.sqrt(half),
  );
  const open = (k: number, j: number) =>
    rowCount >= 4 &&
    half >= 5 &&
    k >= 1 &&
    k < Math.ceil(rowCount * 0.45) &&
    (j < Math.ceil(half / 5) || j >= columns - Math.ceil(half / 5));
  const builder = new MeshBuilder();
  const cell = (k: number, j: number) => {
    if (open(k, j)) return;
    const next = (j + 1) % columns;
    // Angles run from the front over +x to the back: seen from outside that is right to left.
    const corners = [net[k]![next]!, net[k]![j]!, net[k + 1]![j]!, net[k + 1]![next]!] as const;
    const split = options.net === 'triangles' || (options.net === 'mixed' && (k * 7 + j * 3) % 4 < 2);
    const concave = (k + 2 * j) % 5 === 0;
    if (split) {
      const [a, b, c, d] = corners;
      if (concave) {
        builder.face(b, c, d);
        builder.face(b, d, a);
      } else {
        builder.face(a, b, c);
        builder.face(a, c, d);
      }
    } else builder.quad(...corners, concave ? 'concave' : 'convex');
  };
  const last = options.symmetric ? half : columns;
  for (let k = 0; k < rowCount; k++) for (let j = 0; j < last; j++) cell(k, j);
  for (let j = 0; j < last; j++) builder.face(top[(j + 1) % columns]!, top[j]!, crown);
  const name = `open shell ${options.seed} of ${options.faces}${options.symmetric ? ', symmetric' : ''}`;
  const mesh = builder.build(name);
  return options.symmetric ? mirrorHalf(name, mesh) : mesh;
}
