/**
 * Sections and volumes of shells against a general-purpose mesh library of other hands: manifold-3d 3.5.4 (Apache-2.0,
 * compiled to WebAssembly). Its meshes hold places of single precision, so both sides are given the same rounded ones.
 */
import Module, { type Manifold } from 'manifold-3d';
import { beforeAll, describe, expect, it } from 'vitest';
import { seededRandom } from '../../src/base';
import type { Shell } from '../../src/model';
import { angleDefects, sectionOf, volumeOf } from '../../src/shell';

type Vec = readonly [number, number, number];
interface Mesh {
  readonly vertices: readonly Vec[];
  readonly triangles: readonly (readonly number[])[];
}

const rounded = (v: readonly number[]): Vec => [Math.fround(v[0]!), Math.fround(v[1]!), Math.fround(v[2]!)];

/** A sphere of triangles, its radius scattered at random: closed, seldom convex. */
function bumpyBall(seed: number, rings: number, around: number, bumps: number): Mesh {
  const random = seededRandom(seed);
  const vertices: Vec[] = [];
  const at = (polar: number, turn: number): Vec => {
    const r = 100 * (1 + bumps * (random() - 0.5));
    return rounded([
      r * Math.sin(polar) * Math.cos(turn),
      0.8 * r * Math.sin(polar) * Math.sin(turn),
      1.2 * r * Math.cos(polar),
    ]);
  };
  vertices.push(at(0, 0));
  for (let i = 1; i < rings; i++)
    for (let k = 0; k < around; k++)
      vertices.push(at((Math.PI * i) / rings, (2 * Math.PI * (k + (i % 2) / 2)) / around));
  vertices.push(at(Math.PI, 0));
  const id = (i: number, k: number) => 1 + (i - 1) * around + (k % around);
  const triangles: number[][] = [];
  for (let k = 0; k < around; k++) {
    triangles.push([0, id(1, k), id(1, k + 1)]);
    triangles.push([vertices.length - 1, id(rings - 1, k + 1), id(rings - 1, k)]);
    for (let i = 1; i + 1 < rings; i++) {
      triangles.push([id(i, k), id(i + 1, k), id(i + 1, k + 1)]);
      triangles.push([id(i, k), id(i + 1, k + 1), id(i, k + 1)]);
    }
  }
  return { vertices, triangles };
}

function torus(seed: number, big: number, small: number): Mesh {
  const random = seededRandom(seed);
  const [n, m] = [24, 12];
  const vertices: Vec[] = [];
  for (let i = 0; i < n; i++)
    for (let k = 0; k < m; k++) {
      const r = small * (1 + 0.2 * (random() - 0.5));
      const [t, s] = [(2 * Math.PI * i) / n, (2 * Math.PI * k) / m];
      vertices.push(
        rounded([
          (big + r * Math.cos(s)) * Math.cos(t),
          (big + r * Math.cos(s)) * Math.sin(t),
          r * Math.sin(s),
        ]),
      );
    }
  const id = (i: number, k: number) => (i % n) * m + (k % m);
  const triangles: number[][] = [];
  for (let i = 0; i < n; i++)
    for (let k = 0; k < m; k++) {
      triangles.push([id(i, k), id(i + 1, k), id(i + 1, k + 1)]);
      triangles.push([id(i, k), id(i + 1, k + 1), id(i, k + 1)]);
    }
  return { vertices, triangles };
}

function shellOf({ vertices, triangles }: Mesh): Shell {
  const places = vertices.map(([x, y, z]) => ({ x, y, z }));
  const faces = triangles.map((ring) => {
    const [a, b, c] = ring.map((v) => vertices[v]!) as [Vec, Vec, Vec];
    const length = (p: Vec, q: Vec) => Math.hypot(q[0] - p[0], q[1] - p[1], q[2] - p[2]);
    const [ab, ac, bc] = [length(a, b), length(a, c), length(b, c)];
    const x = (ab * ab + ac * ac - bc * bc) / (2 * ab);
    const flat = [
      { x: 0, y: 0 },
      { x: ab, y: 0 },
      { x, y: Math.sqrt(Math.max(0, ac * ac - x * x)) },
    ];
    return { piece: '', face: '', flat, vertices: ring };
  });
  return {
    vertices: places,
    faces,
    bends: {},
    bendSpread: {},
    residual: { rms: 0, max: 0 },
    rho: 1,
    unsure: { rms: 0, part: 0 },
    wrongSigns: [],
    flexes: 0,
    components: [],
    quality: 'good',
    worst: null,
    symmetry: null,
    softModes: [],
    known: [],
    leftOut: [],
    issues: [],
  };
}

const meshes: readonly (readonly [string, Mesh, number])[] = [
  ...[1, 2, 3, 4, 5, 6].map(
    (seed) => [`ball ${seed}`, bumpyBall(seed, 10, 16, 0.1 * seed), 4 * Math.PI] as const,
  ),
  ['ring', torus(7, 90, 40), 0],
  ['slim ring', torus(8, 120, 20), 0],
];

let library: Awaited<ReturnType<typeof Module>>;
beforeAll(async () => {
  library = await Module();
  library.setup();
});

function solidOf({ vertices, triangles }: Mesh): Manifold {
  return library.Manifold.ofMesh(
    new library.Mesh({
      numProp: 3,
      vertProperties: Float32Array.from(vertices.flat()),
      triVerts: Uint32Array.from(triangles.flat()),
    }),
  );
}

type Loop = readonly (readonly [number, number])[];
const girth = (loop: Loop) =>
  loop.reduce((sum, p, i) => {
    const q = loop[(i + 1) % loop.length]!;
    return sum + Math.hypot(q[0] - p[0], q[1] - p[1]);
  }, 0);
const area = (loop: Loop) =>
  Math.abs(
    loop.reduce((sum, p, i) => {
      const q = loop[(i + 1) % loop.length]!;
      return sum + (p[0] * q[1] - q[0] * p[1]) / 2;
    }, 0),
  );
const falling = (values: number[]) => [...values].sort((a, b) => b - a);

describe.each(meshes)('%s against a mesh library', (_, mesh, defect) => {
  it('has the same volume', () => {
    expect(volumeOf(shellOf(mesh)) / solidOf(mesh).volume()).toBeCloseTo(1, 9);
  });

  it('has angle defects that sum to 2π times the Euler characteristic (Descartes, Gauss and Bonnet)', () => {
    expect(angleDefects(shellOf(mesh)).reduce((s, d) => s + d, 0)).toBeCloseTo(defect, 6);
  });

  it('is cut into the same loops by planes of every tilt', () => {
    const shell = shellOf(mesh);
    const solid = solidOf(mesh);
    const random = seededRandom(99);
    let cuts = 0;
    for (let n = 0; n < 12; n++) {
      // A turn about x, then one about y, takes the plane's normal to z.
      const [ax, ay] = n === 0 ? [0, 0] : [360 * random(), 360 * random()];
      const offset = 160 * (random() - 0.5);
      const rad = Math.PI / 180;
      const normal = {
        x: -Math.sin(ay * rad),
        y: Math.sin(ax * rad) * Math.cos(ay * rad),
        z: Math.cos(ax * rad) * Math.cos(ay * rad),
      };
      const { loops } = sectionOf(shell, { normal, offset });
      const theirs = solid.rotate([ax, ay, 0]).slice(offset).toPolygons() as Loop[];
      expect(loops).toHaveLength(theirs.length);
      if (theirs.length === 0) continue;
      cuts++;
      expect(loops.every((l) => l.closed)).toBe(true);
      const girths = falling(theirs.map(girth));
      falling(loops.map((l) => l.girth)).forEach((g, i) => {
        expect(Math.abs(g - girths[i]!)).toBeLessThan(1e-3);
      });
      const areas = falling(theirs.map(area));
      falling(loops.map((l) => l.area)).forEach((a, i) => {
        expect(Math.abs(a - areas[i]!)).toBeLessThan(1e-2);
      });
      const taut = falling(
        theirs.map((l) =>
          girth(library.CrossSection.hull([l as [number, number][]]).toPolygons()[0] as Loop),
        ),
      );
      falling(loops.map((l) => l.tautGirth)).forEach((g, i) => {
        expect(Math.abs(g - taut[i]!)).toBeLessThan(1e-3);
      });
    }
    expect(cuts).toBeGreaterThan(5);
  });
});
