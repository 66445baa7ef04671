import { beforeAll, describe, expect, it } from 'vitest';
import { type Folding, foldingOf } from '../../app/shellview/folding';
import { cubeFolded, type Folded, keelFolded, pauldronFolded } from './fixture';

const cases = [
  ['a cube', cubeFolded],
  ['the pauldron of many pieces', pauldronFolded],
  ['the bracer with its curved faces', keelFolded],
] as const;

describe.each(cases)('folding %s', (_name, make) => {
  let known: Folded;
  let folding: Folding;
  beforeAll(async () => {
    known = await make();
    folding = foldingOf(known.shell, known.sides);
  });

  const corner = (places: Float64Array, face: number, i: number) => {
    const at = 3 * (folding.starts[face]! + i);
    return [places[at]!, places[at + 1]!, places[at + 2]!] as const;
  };
  const apart = (p: readonly number[], q: readonly number[]) =>
    Math.hypot(p[0]! - q[0]!, p[1]! - q[1]!, p[2]! - q[2]!);

  it('begins with the drawing, upright and seen from the front', () => {
    const places = folding.at(0);
    const [x0, , z0] = corner(places, 0, 0);
    const first = known.shell.faces[0]!.flat[0]!;
    known.shell.faces.forEach((f, face) => {
      f.flat.forEach((p, i) => {
        const [x, y, z] = corner(places, face, i);
        expect(x - x0).toBeCloseTo(-(p.x - first.x), 9);
        expect(z - z0).toBeCloseTo(p.y - first.y, 9);
        expect(y).toBe(corner(places, 0, 0)[1]);
      });
    });
  });

  it('ends with the shell, to the last bit', () => {
    const places = folding.at(1);
    known.shell.faces.forEach((f, face) => {
      f.vertices.forEach((v, i) => {
        const p = known.shell.vertices[v]!;
        expect(corner(places, face, i)).toEqual([p.x, p.y, p.z]);
      });
    });
  });

  it('keeps pieces whole and faces in shape on the way', () => {
    const folds = known.sides.filter((s) => s.edge === null);
    expect(folds.length).toBeGreaterThanOrEqual(4);
    let largest = 0;
    for (const part of [0.2, 0.5, 0.8, 0.99]) {
      const places = folding.at(part);
      for (const side of folds) {
        const other = folds.find((s) => s.id === side.id && s.from === side.to && s.to === side.from);
        if (!other) continue;
        const n = known.shell.faces[other.face]!.vertices.length;
        const here = corner(places, side.face, side.corner);
        const there = corner(places, other.face, (other.corner + 1) % n);
        expect(apart(here, there)).toBeLessThan(1e-9);
      }
      known.shell.faces.forEach((f, face) => {
        f.flat.forEach((p, i) => {
          const j = (i + 1) % f.flat.length;
          const q = f.flat[j]!;
          const now = apart(corner(places, face, i), corner(places, face, j));
          largest = Math.max(largest, Math.abs(now - Math.hypot(p.x - q.x, p.y - q.y)));
        });
      });
    }
    // Faces of a tree of folds are rigid; what is left is the residual of the fold-up.
    expect(largest).toBeLessThan(0.05);
  });

  it('goes there without jumps', () => {
    let before = folding.at(0);
    const whole = Math.max(...[...folding.at(1)].map((v, i) => Math.abs(v - before[i]!)), 1);
    for (let step = 1; step <= 50; step++) {
      const now = folding.at(step / 50);
      const most = Math.max(...[...now].map((v, i) => Math.abs(v - before[i]!)));
      expect(most).toBeLessThan(0.2 * whole);
      before = now;
    }
  });
});
