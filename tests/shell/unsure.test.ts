import { describe, expect, it } from 'vitest';
import { nothingKnown, type Shell, type ShellKnown } from '../../src/model';
import { foldPattern } from '../../src/shell';
import { seamsOfTruth } from '../foam/truthSeams';
import {
  bollardPauldron,
  openShell,
  patternFromTruth,
  type ShellMesh,
  shellPattern,
  solid,
} from '../support/harbourWatch';
import { alignedRms } from '../support/meshShell';
import { otherShell } from '../support/otherShells';

const flat = (points: readonly { readonly x: number; readonly y: number; readonly z: number }[]) =>
  Float64Array.from(points.flatMap((p) => [p.x, p.y, p.z]));

/** Corners face by face, so that both shells have them in one order. */
const corners = (vertices: Shell['vertices'], faces: readonly (readonly number[])[]) =>
  flat(faces.flatMap((ring) => ring.map((v) => vertices[v]!)));

async function folded(mesh: ShellMesh, knowing: (bends: Record<string, number>) => Partial<ShellKnown>) {
  const truth = shellPattern(mesh);
  const bends = Object.fromEntries(truth.pieces.flatMap((p) => p.folds.map((f) => [f.id, f.bend])));
  const known = { ...nothingKnown, ...knowing(bends) };
  const shell = await foldPattern(patternFromTruth(truth), seamsOfTruth(truth), known);
  const meshFace = new Map(truth.pieces.flatMap((p) => p.faces.map((f) => [f.id, f.meshFaces[0]!])));
  const rings = shell.faces.map((f) => mesh.faces[meshFace.get(f.face)!]!);
  const own = shell.faces.map((f) => f.vertices);
  const error = alignedRms(corners(shell.vertices, own), corners(mesh.vertices, rings));
  return { shell, error };
}

const nothing = () => ({});

describe('how sure the shape of a shell is', () => {
  it('is sure of a solid', async () => {
    const { shell } = await folded(solid('dodecahedron'), nothing);
    expect(shell.unsure.part).toBeLessThan(1e-4);
    expect(shell.quality).toBe('good');
  });

  it('doubts a shell that closes but is left open by its lengths, and says what would help', async () => {
    const { shell, error } = await folded(bollardPauldron(), nothing);
    expect(shell.residual.max).toBeLessThan(0.01);
    // The doubt is right: it is far from the truth.
    expect(error / shell.unsure.rms).toBeGreaterThan(1);
    expect(shell.quality).toBe('doubtful');
    const finding = shell.issues.find((i) => i.code === 'shell-unsure');
    expect(finding?.severity).toBe('warning');
    expect(finding?.remedy).toMatch(/girth/);
  });

  it('grows surer with every bend that is typed', async () => {
    const { shell: none } = await folded(bollardPauldron(), nothing);
    const { shell: some, error } = await folded(bollardPauldron(), (bends) => ({ bends }));
    expect(some.unsure.rms).toBeLessThan(none.unsure.rms / 2);
    expect(error).toBeLessThan(2 * some.unsure.rms + 0.5);
  });

  it.each([
    ['rows of triangles', openShell({ seed: 31, faces: 120, symmetric: false, net: 'triangles', jitter: 0 })],
    ['a random net', otherShell('dome', 31, 120)],
  ])('is near the true error of %s', async (_, mesh) => {
    const { shell, error } = await folded(mesh, nothing);
    expect(shell.quality).toBe('good');
    expect(error / shell.unsure.rms).toBeLessThan(3);
    expect(error / shell.unsure.rms).toBeGreaterThan(1 / 6);
  });
});
