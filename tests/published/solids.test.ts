/**
 * Shells folded from flat faces alone against published solids and closed forms. Dihedral angles of Platonic solids:
 * exact forms of standard geometry tables, e.g. arccos(−√5/3) for the icosahedron; the general form is
 * sin(θ/2) = cos(π/q)/sin(π/p). Archimedean and Johnson solids: dihedral angles as commonly tabulated, each also
 * recomputed from vertex coordinates. Descartes: angle defects of a closed shell sum to 4π; Gauss–Bonnet for open
 * ones (from memory). Ellipse: Ramanujan's second formula.
 */
import { describe, expect, it } from 'vitest';
import type { Seams, Shell } from '../../src/model';
import { angleDefects, foldPattern, openingsOf, sectionOf, volumeOf } from '../../src/shell';
import { seamsOfTruth } from '../foam/truthSeams';
import {
  openShell,
  patternFromTruth,
  prism,
  type ShellMesh,
  shellPattern,
  solid,
} from '../support/harbourWatch';
import { hullMeshOf } from '../support/solids';

const degrees = (rad: number) => (rad * 180) / Math.PI;

async function fold(mesh: ShellMesh): Promise<Shell> {
  const truth = shellPattern(mesh, { maxBend: 3, maxFaces: 3, maxSize: 1000 });
  return foldPattern(patternFromTruth(truth, { foldSigns: false }), seamsOfTruth(truth));
}

/** Dihedral angles by the numbers of corners of the two faces, degrees, each as often as it occurs. */
function dihedrals(shell: Shell): Map<string, number[]> {
  const at = new Map<string, number>();
  const normals = shell.faces.map(({ vertices }) => {
    const [a, b, c] = [0, 1, 2].map((i) => shell.vertices[vertices[i]!]!) as [
      { x: number; y: number; z: number },
      { x: number; y: number; z: number },
      { x: number; y: number; z: number },
    ];
    const u = [b.x - a.x, b.y - a.y, b.z - a.z] as const;
    const v = [c.x - a.x, c.y - a.y, c.z - a.z] as const;
    const n = [u[1] * v[2] - u[2] * v[1], u[2] * v[0] - u[0] * v[2], u[0] * v[1] - u[1] * v[0]];
    const size = Math.hypot(...n);
    return n.map((s) => s / size);
  });
  const found = new Map<string, number[]>();
  shell.faces.forEach(({ vertices }, f) => {
    vertices.forEach((v, i) => {
      const w = vertices[(i + 1) % vertices.length]!;
      const other = at.get(`${w}>${v}`);
      at.set(`${v}>${w}`, f);
      if (other === undefined) return;
      const kind = [vertices.length, shell.faces[other]!.vertices.length].sort((a, b) => a - b).join('-');
      const cos = normals[f]!.reduce((sum, s, k) => sum + s * normals[other]![k]!, 0);
      found.set(kind, [...(found.get(kind) ?? []), 180 - degrees(Math.acos(Math.max(-1, Math.min(1, cos))))]);
    });
  });
  return found;
}

const platonic = [
  ['tetrahedron', '3-3', 70.528779, 6],
  ['cube', '4-4', 90, 12],
  ['octahedron', '3-3', 109.471221, 12],
  ['dodecahedron', '5-5', 116.565051, 30],
  ['icosahedron', '3-3', 138.189685, 30],
] as const;

/** Corners of each solid (textbook coordinates) and its table row. */
const both = [1, -1];
const permute = (a: number, b: number, c: number) => [
  [a, b, c],
  [a, c, b],
  [b, a, c],
  [b, c, a],
  [c, a, b],
  [c, b, a],
];
const signed = (list: number[][]) =>
  list.flatMap(([x, y, z]) =>
    both.flatMap((i) => both.flatMap((j) => both.map((k) => [i * x!, j * y!, k * z!]))),
  );
const golden = (1 + Math.sqrt(5)) / 2;
const cyclic = (a: number, b: number, c: number) => [
  [a, b, c],
  [b, c, a],
  [c, a, b],
];
const ring = (n: number, radius: number, z: number, turn = 0) =>
  Array.from({ length: n }, (_, i) => [
    radius * Math.cos((2 * Math.PI * i) / n + turn),
    radius * Math.sin((2 * Math.PI * i) / n + turn),
    z,
  ]);
/** Circumradius of a regular n-gon of edge 1. */
const around = (n: number) => 0.5 / Math.sin(Math.PI / n);

const tabulated: readonly (readonly [string, number[][], Record<string, readonly [number, number]>])[] = [
  [
    'truncated tetrahedron',
    signed(permute(3, 1, 1)).filter(([x, y, z]) => x! * y! * z! > 0),
    { '3-6': [109.4712, 12], '6-6': [70.5288, 6] },
  ],
  ['cuboctahedron', signed(permute(1, 1, 0)), { '3-4': [125.2644, 24] }],
  ['truncated octahedron', signed(permute(0, 1, 2)), { '4-6': [125.2644, 24], '6-6': [109.4712, 12] }],
  ['truncated cube', signed(permute(Math.SQRT2 - 1, 1, 1)), { '3-8': [125.2644, 24], '8-8': [90, 12] }],
  ['rhombicuboctahedron', signed(permute(1, 1, 1 + Math.SQRT2)), { '4-4': [135, 24], '3-4': [144.7356, 24] }],
  [
    'icosidodecahedron',
    signed([...cyclic(0, 0, 2 * golden), ...cyclic(1, golden, golden * golden)]),
    { '3-5': [142.6226, 60] },
  ],
  [
    'truncated icosahedron',
    signed([
      ...cyclic(0, 1, 3 * golden),
      ...cyclic(1, 2 + golden, 2 * golden),
      ...cyclic(golden, 2, 2 * golden + 1),
    ]),
    { '5-6': [142.6226, 60], '6-6': [138.1897, 30] },
  ],
  [
    'square pyramid J1',
    [...ring(4, around(4), 0), [0, 0, Math.sqrt(1 - around(4) ** 2)]],
    { '3-3': [109.4712, 4], '3-4': [54.7356, 4] },
  ],
  [
    'pentagonal pyramid J2',
    [...ring(5, around(5), 0), [0, 0, Math.sqrt(1 - around(5) ** 2)]],
    { '3-3': [138.1897, 5], '3-5': [37.3774, 5] },
  ],
  [
    'square cupola J4',
    [...ring(8, around(8), 0, Math.PI / 8), ...ring(4, around(4), Math.SQRT1_2, Math.PI / 4)],
    { '3-4': [144.7356, 8], '4-4': [135, 4], '3-8': [54.7356, 4], '4-8': [45, 4] },
  ],
];

describe('solids from their flat faces', () => {
  it.each(platonic)('%s', async (name, kind, angle, count) => {
    const shell = await fold(solid(name));
    const found = dihedrals(shell);
    expect([...found.keys()]).toEqual([kind]);
    expect(found.get(kind)!.length).toBe(count);
    for (const d of found.get(kind)!) expect(d).toBeCloseTo(angle, 4);
  });

  it.each(tabulated)('%s', async (name, corners, table) => {
    const shell = await fold(hullMeshOf(name, corners, 30));
    const found = dihedrals(shell);
    expect([...found.keys()].sort()).toEqual(Object.keys(table).sort());
    for (const [kind, [angle, count]] of Object.entries(table)) {
      expect(found.get(kind)!.length).toBe(count);
      for (const d of found.get(kind)!) expect(Math.abs(d - angle)).toBeLessThan(1e-3);
    }
    // Descartes.
    expect(angleDefects(shell).reduce((s, d) => s + d, 0)).toBeCloseTo(4 * Math.PI, 6);
  });

  it('gives the volume of the icosahedron, 5(3 + √5)/12 of its edge cubed', async () => {
    const shell = await fold(solid('icosahedron', 60));
    expect(volumeOf(shell) / ((5 * (3 + Math.sqrt(5)) * 60 ** 3) / 12)).toBeCloseTo(1, 6);
  });
});

describe('open shells', () => {
  it('have angle defects and border turns that sum to 2π times the Euler characteristic', async () => {
    const mesh = openShell({ seed: 6, faces: 120, symmetric: false, net: 'quads', jitter: 0 });
    const shell = await fold(mesh);
    const openings = openingsOf(shell);
    expect(openings.length).toBeGreaterThan(0);
    const sum = angleDefects(shell).reduce((s, d) => s + d, 0);
    expect(sum).toBeCloseTo(2 * Math.PI * (2 - openings.length), 6);
  });

  it('keep the girth of an open prism, 2 n r sin(π/n), at every height', async () => {
    const shell = await fold(prism(24, 90, 100, true));
    const wanted = 48 * 90 * Math.sin(Math.PI / 24);
    for (const offset of [20, 50, 80]) {
      const { loops } = sectionOf(shell, { normal: { x: 0, y: 0, z: 1 }, offset });
      expect(loops.length).toBe(1);
      expect(loops[0]!.closed).toBe(true);
      expect(Math.abs(loops[0]!.girth / wanted - 1)).toBeLessThan(1e-4);
    }
    for (const opening of openingsOf(shell)) expect(opening.girth / wanted).toBeCloseTo(1, 8);
  });
});

/** A shell given by its positions, as the measures see it. */
function shellOfRings(rings: number[][][]): Shell {
  const vertices = rings.flat().map(([x, y, z]) => ({ x: x!, y: y!, z: z! }));
  const n = rings[0]!.length;
  const faces = rings.slice(1).flatMap((_, r) =>
    Array.from({ length: n }, (_, i) => {
      const j = (i + 1) % n;
      return {
        piece: '',
        face: '',
        flat: [],
        vertices: [r * n + i, r * n + j, (r + 1) * n + j, (r + 1) * n + i],
      };
    }),
  );
  return {
    vertices,
    faces,
    bends: {},
    bendSpread: {},
    residual: { rms: 0, max: 0 },
    rho: 1,
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

describe('girths of sections', () => {
  const many = 2000;
  const level = (offset: number) => ({ normal: { x: 0, y: 0, z: 1 }, offset });
  const oval = (a: number, b: number, z: number) =>
    Array.from({ length: many }, (_, i) => {
      const t = (2 * Math.PI * i) / many;
      return [a * Math.cos(t), b * Math.sin(t), z];
    });

  it('cylinder and cone: 2πr', () => {
    const cylinder = sectionOf(shellOfRings([oval(80, 80, 0), oval(80, 80, 100)]), level(33)).loops[0]!;
    expect(cylinder.girth / (160 * Math.PI)).toBeCloseTo(1, 5);
    expect(cylinder.area / (6400 * Math.PI)).toBeCloseTo(1, 5);
    const cone = sectionOf(shellOfRings([oval(80, 80, 0), oval(20, 20, 120)]), level(60)).loops[0]!;
    expect(cone.girth / (100 * Math.PI)).toBeCloseTo(1, 5);
  });

  it('cylinder cut aslant: an ellipse, Ramanujan II', () => {
    const tilt = Math.PI / 6;
    const plane = { normal: { x: Math.sin(tilt), y: 0, z: Math.cos(tilt) }, offset: 100 };
    const cut = sectionOf(shellOfRings([oval(60, 60, 0), oval(60, 60, 400)]), plane).loops[0]!;
    const a = 60 / Math.cos(tilt);
    const h = ((a - 60) / (a + 60)) ** 2;
    const wanted = Math.PI * (a + 60) * (1 + (3 * h) / (10 + Math.sqrt(4 - 3 * h)));
    expect(cut.girth / wanted).toBeCloseTo(1, 5);
  });

  it('ellipse of 10 by 5: 48.442241', () => {
    const cut = sectionOf(shellOfRings([oval(10, 5, 0), oval(10, 5, 10)]), level(4)).loops[0]!;
    expect(cut.girth).toBeCloseTo(48.442241, 3);
    expect(cut.tautGirth).toBeCloseTo(cut.girth, 6);
  });

  it('a dented ring is longer along the skin than under a taut tape', () => {
    const star = (z: number) =>
      Array.from({ length: 40 }, (_, i) => {
        const r = i % 2 === 0 ? 100 : 80;
        const t = (2 * Math.PI * i) / 40;
        return [r * Math.cos(t), r * Math.sin(t), z];
      });
    const cut = sectionOf(shellOfRings([star(0), star(50)]), level(25)).loops[0]!;
    expect(cut.tautGirth).toBeCloseTo(40 * 100 * Math.sin(Math.PI / 20), 6);
    expect(cut.girth).toBeGreaterThan(cut.tautGirth * 1.2);
  });
});

const nothingSewn: Seams = { seams: [], runs: [], open: [], issues: [] };
it('folds a lone face as it is', async () => {
  const truth = shellPattern(solid('cube'), { maxBend: 0.1, maxFaces: 1 });
  const shell = await foldPattern(patternFromTruth(truth), nothingSewn);
  expect(shell.faces.length).toBe(6);
  expect(shell.flexes).toBe(0);
});
