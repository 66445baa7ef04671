import { describe, expect, it } from 'vitest';
import type { Shell } from '../../src/model';
import { foldPattern } from '../../src/shell';
import { seamsOfTruth } from '../foam/truthSeams';
import { openShell, patternFromTruth, prism, shellPattern, solid } from '../support/harbourWatch';

/** Largest change of an edge's length per mm of motion, to first order. */
function stretch(shell: Shell, mode: Shell['softModes'][number]): number {
  let most = 0;
  for (const { vertices } of shell.faces)
    vertices.forEach((a, i) => {
      const b = vertices[(i + 1) % vertices.length]!;
      const [p, q, u, v] = [shell.vertices[a]!, shell.vertices[b]!, mode[a]!, mode[b]!];
      const d = { x: q.x - p.x, y: q.y - p.y, z: q.z - p.z };
      const along = d.x * (v.x - u.x) + d.y * (v.y - u.y) + d.z * (v.z - u.z);
      most = Math.max(most, Math.abs(along) / Math.hypot(d.x, d.y, d.z));
    });
  return most;
}

describe('the softest motions of a shell', () => {
  it('are none for a solid', async () => {
    const truth = shellPattern(solid('icosahedron'), { maxBend: 2, maxFaces: 6 });
    expect((await foldPattern(patternFromTruth(truth), seamsOfTruth(truth))).softModes).toEqual([]);
  });

  it('are the one motion that an open box of four walls has', async () => {
    const truth = shellPattern(prism(4, 60, 80, true), { maxBend: 2, maxFaces: 4 });
    const shell = await foldPattern(patternFromTruth(truth), seamsOfTruth(truth));
    expect(shell.flexes).toBe(1);
    expect(shell.softModes.length).toBe(1);
    const mode = shell.softModes[0]!;
    expect(stretch(shell, mode)).toBeLessThan(1e-4);
    for (const d of mode) expect(Math.hypot(d.x, d.y, d.z)).toBeCloseTo(1, 3);
  });

  it('keep lengths and the mirror symmetry of an open shell', async () => {
    const truth = shellPattern(
      openShell({ seed: 6, faces: 80, symmetric: true, net: 'triangles', jitter: 0 }),
    );
    const shell = await foldPattern(patternFromTruth(truth), seamsOfTruth(truth));
    expect(shell.softModes.length).toBe(3);
    expect(shell.symmetry).not.toBeNull();
    for (const mode of shell.softModes) {
      const lengths = mode.map((d) => Math.hypot(d.x, d.y, d.z));
      expect(Math.max(...lengths)).toBeCloseTo(1, 9);
      expect(stretch(shell, mode)).toBeLessThan(2e-3);
      for (const [v, w] of shell.symmetry!.pairs) {
        expect(mode[v]!.x).toBeCloseTo(-mode[w]!.x, 9);
        expect(mode[v]!.z).toBeCloseTo(mode[w]!.z, 9);
      }
    }
  });
});
