/**
 * The dry fit of bodies whose foam has a closed form. Dihedral angles and inradii of the cube and the dodecahedron after
 * Coxeter, Regular Polytopes (table I, from memory); the regular prism by plane trigonometry. Paper outside, so the
 * outer body is the drawn one and the inner one has every face plane moved in by t.
 */
import { describe, expect, it } from 'vitest';
import type { FoamDecisions } from '../../src/model';
import { dryFitOfTruth } from '../dryfit/truthFit';
import { prism, type ShellMesh, shellPattern, solid } from '../support/harbourWatch';

const t = 5;
/** One panel for each face. */
const facesOf = (mesh: ShellMesh) => shellPattern(mesh, { maxFaces: 1 });
const fit = (mesh: ShellMesh, foam: Partial<FoamDecisions>, level: number | null = null) =>
  dryFitOfTruth(
    facesOf(mesh),
    { thickness: t, standsFor: 'outside', ...foam },
    level === null ? null : { normal: { x: 0, y: 0, z: 1 }, offset: level },
  );
const edgeOf = ({ vertices, faces }: ShellMesh) => {
  const [p, q] = [vertices[faces[0]![0]!]!, vertices[faces[0]![1]!]!];
  return Math.hypot(p.x - q.x, p.y - q.y, p.z - q.z);
};

const cube = solid('cube');
const s = edgeOf(cube);
const ball = solid('dodecahedron');
const a = edgeOf(ball);
const golden = (1 + Math.sqrt(5)) / 2;
/** Inradius, volume and surface of the dodecahedron with edge a. */
const r = (a * golden ** 2) / (2 * Math.sqrt(3 - golden));
const surface = 3 * Math.sqrt(25 + 10 * Math.sqrt(5)) * a * a;
const volume = (surface * r) / 3;
const tube = prism(7, 90, 60);
const heights = tube.vertices.map((p) => p.z);
const h = Math.max(...heights) - Math.min(...heights);
const apothem = edgeOfBase(tube) / 2 / Math.tan(Math.PI / 7);
const base = (reach: number) => 7 * reach ** 2 * Math.tan(Math.PI / 7);
const wall = (reach: number) => 14 * reach * Math.tan(Math.PI / 7);

function edgeOfBase({ vertices }: ShellMesh): number {
  const low = Math.min(...vertices.map((p) => p.z));
  const ring = vertices.filter((p) => p.z < low + 1e-6);
  return Math.min(...ring.slice(1).map((p) => Math.hypot(p.x - ring[0]!.x, p.y - ring[0]!.y)));
}

const bodies = [
  {
    name: 'cube',
    mesh: cube,
    bevelled: s ** 3 - (s - 2 * t) ** 3,
    square: 6 * (s - 2 * t) ** 2 * t,
    bends: [Math.PI / 2],
    /** Paper pieces: each of the 12 edges is taken twice, t × t × s. */
    paper: (12 * t * t * s) / (6 * s * s * t),
  },
  {
    name: 'dodecahedron',
    mesh: ball,
    bevelled: volume * (1 - ((r - t) / r) ** 3),
    square: surface * ((r - t) / r) ** 2 * t,
    bends: [Math.PI - Math.acos(-1 / Math.sqrt(5))],
    paper: null,
  },
  {
    name: 'prism of 7',
    mesh: tube,
    bevelled: base(apothem) * h - base(apothem - t) * (h - 2 * t),
    square: (2 * base(apothem - t) + wall(apothem - t) * (h - 2 * t)) * t,
    bends: [(2 * Math.PI) / 7, Math.PI / 2],
    paper: null,
  },
];

describe.each(bodies)('foam on a $name', ({ mesh, bevelled, square, bends, paper }) => {
  it('has its volume and no gap with bevels', async () => {
    const { designed, foamVolume, uncompensated, clashes, leftOut } = await fit(mesh, {
      preparation: 'bevel',
    });
    expect(leftOut).toEqual([]);
    expect(clashes).toEqual([]);
    expect(foamVolume / bevelled).toBeCloseTo(1, 5);
    expect(designed.bevelled!.max).toBeLessThan(1e-9);
    expect(designed.overlapShare).toBeLessThan(1e-5);
    // The same panels without any allowance run into each other.
    expect(uncompensated!.overlapShare).toBeGreaterThan(0.05);
    if (paper !== null) expect(uncompensated!.overlapShare).toBeCloseTo(paper, 5);
  });

  it('touches inside and opens by 2 t sin(φ/2) outside with square cuts', async () => {
    const { designed, foamVolume, seams } = await fit(mesh, { preparation: 'square' });
    expect(foamVolume / square).toBeCloseTo(1, 5);
    expect(designed.square!.max).toBeLessThan(1e-9);
    expect(designed.overlapShare).toBeLessThan(1e-5);
    const wedges = bends.map((bend) => 2 * t * Math.sin(bend / 2));
    const seen = new Set<number>();
    for (const { inside, outside } of seams) {
      expect(Math.abs(inside.mean)).toBeLessThan(1e-9);
      const wedge = wedges.findIndex((w) => Math.abs(outside.mean - w) < 1e-9);
      expect(wedge, `${outside.mean}`).toBeGreaterThanOrEqual(0);
      seen.add(wedge);
    }
    expect(seen.size).toBe(bends.length);
  });

  it('does not ask where the neutral layer is when no panel has a fold', async () => {
    const { otherNeutral } = await fit(mesh, { preparation: 'bevel' });
    expect(otherNeutral.map(({ neutralRatio }) => neutralRatio)).toEqual([0.35, 0.65]);
    for (const { way } of otherNeutral) expect(way.bevelled!.max).toBeLessThan(1e-9);
  });
});

it('measures the inside girth of a prism', async () => {
  const mid = (Math.max(...heights) + Math.min(...heights)) / 2;
  const { insideGirth } = await fit(tube, { preparation: 'bevel' }, mid);
  expect(insideGirth).toBeCloseTo(wall(apothem - t), 6);
});

it('a sharp fold inside a panel of a tetrahedron: no corner pleases stiff faces and stretching skins, half way is best', async () => {
  // Two faces to a panel, folded by the outside angle of the dihedral angle arccos(1/3). At height d over the neutral
  // layer a vertex of the offset body stands 3 d from the vertex (circumradius 3 times the inradius, Coxeter as above),
  // √6 d of it along the fold; where faces stay stiff the edges beside the fold move by √2 d and meet (120° between
  // them) √2 d / sin 60° along it. What is left, seen square to the edge and to the plane that halves the bend:
  const d = t / 2;
  const apart =
    (Math.sqrt(6) - Math.SQRT2 / Math.sin(Math.PI / 3)) * Math.sin(Math.PI / 3) * Math.sqrt(1 / 3) * d;
  const truth = shellPattern(solid('tetrahedron'), { maxBend: 3, maxFaces: 2 });
  const { seams } = await dryFitOfTruth(truth, { thickness: t, standsFor: 'outside', preparation: 'bevel' });
  expect(seams.length).toBe(4);
  for (const { worstBy } of seams) {
    expect(worstBy.rigid + worstBy.mitre).toBeGreaterThan(apart - 1e-9);
    // A little off half way, since what overlaps counts for more than what stays open.
    expect(Math.max(worstBy.rigid, worstBy.mitre)).toBeLessThan(1.08 * (apart / 2));
  }
});
