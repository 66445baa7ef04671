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
function dihedrals(shell: {
  readonly vertices: Shell['vertices'];
  readonly faces: readonly { readonly vertices: readonly number[] }[];
}): Map<string, number[]> {
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

/** Cupola over a regular n-gon of edge 1: half as many corners above, a ring of squares and triangles between. */
function cupola(n: number): number[][] {
  const apothem = (sides: number) => 0.5 / Math.tan(Math.PI / sides);
  const height = Math.sqrt(1 - (apothem(2 * n) - apothem(n)) ** 2);
  return [...ring(2 * n, around(2 * n), 0, Math.PI / (2 * n)), ...ring(n, around(n), height, Math.PI / n)];
}

const icosidodecahedron = signed([...cyclic(0, 0, 2 * golden), ...cyclic(1, golden, golden * golden)]);

/** Even permutations with an even number of plus signs and odd ones with an odd number; t is the tribonacci constant. */
function snubCube(): number[][] {
  const t = 1.8392867552141612;
  const plus = (p: number[]) => p.filter((v) => v > 0).length;
  const even = signed(cyclic(1, 1 / t, t)).filter((p) => plus(p) % 2 === 0);
  const odd = signed(cyclic(1, t, 1 / t)).filter((p) => plus(p) % 2 === 1);
  return [...even, ...odd];
}

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
  ['icosidodecahedron', icosidodecahedron, { '3-5': [142.6226, 60] }],
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
  // From here on angles from memory of the same tables; every row is recomputed from the corners below.
  ['triangular cupola J3', cupola(3), { '3-4': [125.2644, 9], '3-6': [70.5288, 3], '4-6': [54.7356, 3] }],
  [
    'pentagonal cupola J5',
    cupola(5),
    { '3-4': [159.0948, 10], '4-5': [148.2825, 5], '3-10': [37.3774, 5], '4-10': [31.7175, 5] },
  ],
  [
    'pentagonal rotunda J6',
    icosidodecahedron.filter(([x, , z]) => x! + golden * z! > -1e-9),
    { '3-5': [142.6226, 25], '3-10': [79.1877, 5], '5-10': [63.4349, 5] },
  ],
  [
    'gyroelongated pentagonal pyramid J11',
    signed(cyclic(0, 1, golden)).filter(([, y, z]) => y! + golden * z! < 1 + golden * golden - 1e-9),
    { '3-3': [138.1897, 20], '3-5': [100.8123, 5] },
  ],
  [
    'truncated cuboctahedron',
    signed(permute(1, 1 + Math.SQRT2, 1 + 2 * Math.SQRT2)),
    { '4-6': [144.7356, 24], '4-8': [135, 24], '6-8': [125.2644, 24] },
  ],
  [
    'truncated dodecahedron',
    signed([
      ...cyclic(0, 1 / golden, 2 + golden),
      ...cyclic(1 / golden, golden, 2 * golden),
      ...cyclic(golden, 2, golden + 1),
    ]),
    { '3-10': [142.6226, 60], '10-10': [116.5651, 30] },
  ],
  [
    'rhombicosidodecahedron',
    signed([
      ...cyclic(1, 1, golden ** 3),
      ...cyclic(golden ** 2, golden, 2 * golden),
      ...cyclic(2 + golden, 0, golden ** 2),
    ]),
    { '3-4': [159.0948, 60], '4-5': [148.2825, 60] },
  ],
  ['snub cube', snubCube(), { '3-3': [153.2346, 36], '3-4': [142.9834, 24] }],
];

describe('solids from their flat faces', () => {
  it.each(platonic)('%s', async (name, kind, angle, count) => {
    const shell = await fold(solid(name));
    const found = dihedrals(shell);
    expect([...found.keys()]).toEqual([kind]);
    expect(found.get(kind)!.length).toBe(count);
    for (const d of found.get(kind)!) expect(d).toBeCloseTo(angle, 4);
  });

  it.each(tabulated)('%s: the table agrees with the corners', (name, corners, table) => {
    const { vertices, faces } = hullMeshOf(name, corners, 30);
    const found = dihedrals({ vertices, faces: faces.map((f) => ({ vertices: f })) });
    expect([...found.keys()].sort()).toEqual(Object.keys(table).sort());
    for (const [kind, [angle, count]] of Object.entries(table)) {
      expect(found.get(kind)!.length).toBe(count);
      for (const d of found.get(kind)!) expect(Math.abs(d - angle)).toBeLessThan(1e-4);
    }
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

/** Perimeter of an ellipse: Ramanujan's second formula (1914), good to 1e-7 up to axes of 1 : 2. */
function ramanujan(a: number, b: number): number {
  const h = ((a - b) / (a + b)) ** 2;
  return Math.PI * (a + b) * (1 + (3 * h) / (10 + Math.sqrt(4 - 3 * h)));
}

describe('girths of sections', () => {
  const many = 2000;
  const level = (offset: number) => ({ normal: { x: 0, y: 0, z: 1 }, offset });
  const oval = (a: number, b: number, z: number, corners = many) =>
    Array.from({ length: corners }, (_, i) => {
      const t = (2 * Math.PI * i) / corners;
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
    expect(cut.girth / ramanujan(a, 60)).toBeCloseTo(1, 5);
  });

  it('cone cut aslant: an ellipse again', () => {
    // Radius 100 − z / 2 cut by z = 80 + x · k: semi-axes from the two ends on the line of steepest slope.
    const k = 0.4;
    const slope = 0.5;
    const cone = shellOfRings([oval(100, 100, 0), oval(1, 1, 198)]);
    const plane = {
      normal: { x: -k / Math.hypot(1, k), y: 0, z: 1 / Math.hypot(1, k) },
      offset: 80 / Math.hypot(1, k),
    };
    const cut = sectionOf(cone, plane).loops[0]!;
    const right = (100 - slope * 80) / (1 + slope * k);
    const left = (100 - slope * 80) / (1 - slope * k);
    const a = ((right + left) / 2) * Math.hypot(1, k);
    const b = Math.sqrt(right * left);
    expect(cut.girth / ramanujan(a, b)).toBeCloseTo(1, 5);
    expect(cut.area / (Math.PI * a * b)).toBeCloseTo(1, 5);
  });

  it('ellipsoid: level sections are ellipses, aslant through the middle too', () => {
    const [a, b, c] = [100, 78, 120];
    const rings = Array.from({ length: 301 }, (_, i) => {
      const t = Math.PI * (0.001 + (0.998 * i) / 300);
      return oval(a * Math.sin(t), b * Math.sin(t), -c * Math.cos(t), 500);
    });
    const shell = shellOfRings(rings);
    for (const z of [-90, -35, 0, 60, 110]) {
      const s = Math.sqrt(1 - (z / c) ** 2);
      const cut = sectionOf(shell, level(z)).loops[0]!;
      expect(cut.girth / ramanujan(a * s, b * s)).toBeCloseTo(1, 4);
      expect(cut.tautGirth / cut.girth).toBeCloseTo(1, 9);
    }
    // A plane through the y axis, tilted: semi-axes b and that of the x-z ellipse in its direction.
    const tilt = 0.35;
    const plane = { normal: { x: -Math.sin(tilt), y: 0, z: Math.cos(tilt) }, offset: 0 };
    const along = 1 / Math.hypot(Math.cos(tilt) / a, Math.sin(tilt) / c);
    expect(sectionOf(shell, plane).loops[0]!.girth / ramanujan(along, b)).toBeCloseTo(1, 4);
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
