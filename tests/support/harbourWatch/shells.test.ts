import { describe, expect, test } from 'vitest';
import {
  bollardPauldron,
  bracerParts,
  browEdges,
  gannetBrowGirth,
  gannetHelm,
  keelPattern,
  levelSection,
  mirrorOf,
  openLoops,
  openShell,
  prism,
  type ShellMesh,
  sleeveGirth,
  solid,
  topologyOf,
} from '.';

const eulerOf = (mesh: ShellMesh) => mesh.vertices.length - topologyOf(mesh).edges.length + mesh.faces.length;

/** Sphere 2, less one for each opening. */
const kinds: readonly { readonly mesh: ShellMesh; readonly openings: number }[] = [
  { mesh: gannetHelm(), openings: 2 },
  { mesh: bollardPauldron(), openings: 1 },
  { mesh: keelPattern().shell, openings: 2 },
  { mesh: solid('dodecahedron'), openings: 0 },
  { mesh: prism(9, 60, 80, true), openings: 2 },
  { mesh: openShell({ seed: 3, faces: 300, symmetric: true, net: 'mixed', jitter: 0.1 }), openings: 2 },
  { mesh: openShell({ seed: 4, faces: 60, symmetric: false, net: 'triangles', jitter: 0.1 }), openings: 1 },
];

describe.each(kinds)('$mesh.name', ({ mesh, openings }) => {
  test('is one surface with the right number of openings', () => {
    // topologyOf throws where an edge has three faces or two faces disagree about the outside.
    const topology = topologyOf(mesh);
    expect(openLoops(topology)).toHaveLength(openings);
    expect(eulerOf(mesh)).toBe(2 - openings);
    const reached = new Set([0]);
    const next = [0];
    for (let f = next.pop(); f !== undefined; f = next.pop())
      for (const e of topology.sides[f]!) {
        const edge = topology.edges[e]!;
        const other = edge.left === f ? edge.right : edge.left;
        if (other !== null && !reached.has(other)) {
          reached.add(other);
          next.push(other);
        }
      }
    expect(reached.size).toBe(mesh.faces.length);
  });

  test('faces outwards', () => {
    // Six times the signed volume over the centre of the corners; openings change it little.
    const n = mesh.vertices.length;
    const c = mesh.vertices.reduce((s, v) => ({ x: s.x + v.x / n, y: s.y + v.y / n, z: s.z + v.z / n }), {
      x: 0,
      y: 0,
      z: 0,
    });
    let volume = 0;
    for (const loop of mesh.faces) {
      const p = loop.map((v) => ({
        x: mesh.vertices[v]!.x - c.x,
        y: mesh.vertices[v]!.y - c.y,
        z: mesh.vertices[v]!.z - c.z,
      }));
      for (let i = 1; i + 1 < p.length; i++) {
        const [a, b, d] = [p[0]!, p[i]!, p[i + 1]!];
        volume +=
          a.x * (b.y * d.z - b.z * d.y) + a.y * (b.z * d.x - b.x * d.z) + a.z * (b.x * d.y - b.y * d.x);
      }
    }
    expect(volume).toBeGreaterThan(0);
  });
});

test('the Gannet helm has the promised size, faces, creases and symmetry', () => {
  const helm = gannetHelm();
  expect(helm.faces.length).toBeGreaterThanOrEqual(250);
  expect(helm.faces.length).toBeLessThanOrEqual(500);
  expect(mirrorOf(helm)).not.toBeNull();
  const z = helm.vertices.map((v) => v.z);
  const height = Math.max(...z) - Math.min(...z);
  expect(height).toBeGreaterThan(250);
  expect(height).toBeLessThan(300);
  const { edges } = topologyOf(helm);
  expect(edges.filter((e) => (e.bend ?? 0) < -0.1).length).toBeGreaterThan(50);
  const brow = browEdges(helm);
  expect(brow.reduce((sum, e) => sum + edges[e]!.length, 0)).toBeCloseTo(gannetBrowGirth, 9);
  // A closed chain: each corner of the brow ring has two edges of it.
  const ends = brow.flatMap((e) => [edges[e]!.from, edges[e]!.to]).sort((a, b) => a - b);
  expect(new Set(ends).size).toBe(brow.length);
  // Convex, so a tape measures the ring itself; the section a hair above agrees.
  const above = levelSection(helm, 1e-6);
  expect(above.length).toBeCloseTo(gannetBrowGirth, 3);
  expect(above.tape).toBeCloseTo(gannetBrowGirth, 3);
});

test('the Bollard pauldron has 40 to 80 faces and no mirror symmetry', () => {
  const mesh = bollardPauldron();
  expect(mesh.faces.length).toBeGreaterThanOrEqual(40);
  expect(mesh.faces.length).toBeLessThanOrEqual(80);
  expect(mirrorOf(mesh)).toBeNull();
});

test("the bracer's bends are those of its folded copy", () => {
  const truth = keelPattern();
  const parts = bracerParts();
  const between = (p: number, q: number) =>
    topologyOf(truth.shell).edges.filter(
      (e) => e.right !== null && [parts[e.left]!, parts[e.right]!].sort().join() === [p, q].sort().join(),
    );
  const keel = truth.pieces[0]!;
  // Ridge between the flat flanks: the corners of the copy are rounded to 1e-6 mm on facets of 10 mm and more.
  const ridge = between(3, 4);
  expect(ridge.length).toBeGreaterThan(5);
  for (const e of ridge) expect(Math.abs(e.bend! - keel.folds[0]!.bend)).toBeLessThan(1e-5);
  // Feet: the cone's facets turn by 7.6 degrees or a little more each, so the last one is off by half of that.
  const foot = between(0, 3);
  expect(foot.length).toBeGreaterThan(5);
  const bend = keel.outline.find((e) => e.meshEdge === 1)!.bend!;
  for (const e of foot) {
    const off = ((e.bend! - bend) * 180) / Math.PI;
    expect(Math.abs(off)).toBeGreaterThan(2);
    expect(Math.abs(off)).toBeLessThan(5);
  }
  expect(bend).toBeLessThan(0);
});

test('the facetted bracer has the girth of the cone and keel that it copies', () => {
  const { shell } = keelPattern();
  // Half-way up: facets are chords, so the copy is a little short.
  const cosine = 190 / Math.hypot(190, 20);
  const wrist = (38 * Math.hypot(190, 20)) / 20;
  const height = 95;
  const girth = levelSection(shell, height).length;
  const exact = sleeveGirth(wrist + height / cosine);
  expect(girth).toBeLessThan(exact);
  expect(girth).toBeGreaterThan(0.995 * exact);
});

test.each([
  // Textbook dihedral angles of the regular solids; the bend is what is left to a straight angle.
  ['tetrahedron', 70.528779],
  ['cube', 90],
  ['octahedron', 109.471221],
  ['dodecahedron', 116.565051],
  ['icosahedron', 138.189685],
] as const)('the %s has its known dihedral angle', (name, degrees) => {
  for (const edge of topologyOf(solid(name, 50)).edges) {
    expect(edge.length).toBeCloseTo(50, 9);
    expect(((Math.PI - edge.bend!) * 180) / Math.PI).toBeCloseTo(degrees, 5);
  }
});
