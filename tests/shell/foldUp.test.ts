import { describe, expect, it } from 'vitest';
import { foldUp } from '../../src/shell';
import { gannetHelm, type SolidName, solid } from '../support/harbourWatch';
import { alignedRms, topologyFromMesh } from '../support/meshShell';

/** Dihedral angles in degrees: exact forms in standard geometry tables, e.g. tetrahedron arccos(1/3). */
const dihedral: Record<SolidName, number> = {
  tetrahedron: (Math.acos(1 / 3) * 180) / Math.PI,
  cube: 90,
  octahedron: (Math.acos(-1 / 3) * 180) / Math.PI,
  dodecahedron: (Math.acos(-1 / Math.sqrt(5)) * 180) / Math.PI,
  icosahedron: (Math.acos(-Math.sqrt(5) / 3) * 180) / Math.PI,
};

describe('folding up', () => {
  it.each(Object.keys(dihedral) as SolidName[])(
    'finds the dihedral angle of the %s without fold signs',
    async (name) => {
      const topology = topologyFromMesh(solid(name));
      const folded = await foldUp({ topology, signOfEdge: new Int8Array(topology.edges.length) });
      expect(folded.bends.length).toBeGreaterThan(5);
      for (const bend of folded.bends) expect(180 - (bend * 180) / Math.PI).toBeCloseTo(dihedral[name], 5);
    },
  );

  it('folds the open helm within 0.4 % of its size without a single fold sign', async () => {
    const mesh = gannetHelm();
    const topology = topologyFromMesh(mesh);
    const folded = await foldUp({ topology, signOfEdge: new Int8Array(topology.edges.length) });
    const truth = Float64Array.from(mesh.vertices.flatMap((v) => [v.x, v.y, v.z]));
    let size = 0;
    for (let k = 0; k < 3; k++) {
      const along = truth.filter((_, i) => i % 3 === k);
      size += (Math.max(...along) - Math.min(...along)) ** 2;
    }
    expect(alignedRms(folded.positions, truth) / Math.sqrt(size)).toBeLessThan(0.004);
    expect(folded.residual.rms).toBeLessThan(1e-3);
    expect(folded.rho).toBeLessThan(1.1);
  });
});
