/** Open tubes with flat walls, whose developed lengths have closed forms. */
import { makeExtras } from '../../src/extras';
import type { ExtraPart, FoamDecisions, FoamResult, Plane3 } from '../../src/model';
import { defaultDecisions } from '../../src/model';
import { panelsOfTruth, surfaceOfTruth } from '../foam/shellFigures';
import { seamsOfTruth } from '../foam/truthSeams';
import { type ShellMesh, shellPattern, type Truth } from '../support/harbourWatch';

/** A right prism or a frustum over a regular n-gon, open at both ends; radii to the corners, outward seen from outside. */
export function tube(n: number, below: number, above: number, height: number): ShellMesh {
  const ring = (radius: number, z: number) =>
    Array.from({ length: n }, (_, i) => {
      const a = (2 * Math.PI * i) / n;
      return { x: radius * Math.cos(a), y: radius * Math.sin(a), z };
    });
  const faces = Array.from({ length: n }, (_, i) => [i, (i + 1) % n, n + ((i + 1) % n), n + i]);
  return { name: 'tube', vertices: [...ring(below, 0), ...ring(above, height)], faces };
}

/** Three rows of walls over a regular n-gon; of the middle row the walls `gap` are left out. Radii to the corners, per height. */
export function windowed(
  n: number,
  radii: readonly number[],
  heights: readonly number[],
  gap: readonly number[],
): ShellMesh {
  const at = (row: number, i: number) => row * n + (((i % n) + n) % n);
  // Turned so that the walls of the gap are about the front, y.
  const turn = Math.PI / 2 - (Math.PI * gap.length) / n;
  return {
    name: 'windowed',
    vertices: radii.flatMap((radius, row) =>
      Array.from({ length: n }, (_, i) => {
        const a = turn + (2 * Math.PI * i) / n;
        return { x: radius * Math.cos(a), y: radius * Math.sin(a), z: heights[row]! };
      }),
    ),
    faces: [0, 1, 2].flatMap((row) =>
      Array.from({ length: n }, (_, i) => i).flatMap((i) =>
        row === 1 && gap.includes(i)
          ? []
          : [[at(row, i), at(row, i + 1), at(row + 1, i + 1), at(row + 1, i)]],
      ),
    ),
  };
}

export const cut = (mesh: ShellMesh, maxFaces: number): Truth =>
  shellPattern(mesh, { maxFaces, maxBend: 3, maxSize: 5000 });

/** Panels of a truth with nothing changed, made once. */
const plain = new WeakMap<Truth, FoamResult>();
function panelsOf(truth: Truth, changes: Partial<FoamDecisions>): FoamResult {
  if (Object.keys(changes).length > 0) return panelsOfTruth(truth, changes);
  const made = plain.get(truth) ?? panelsOfTruth(truth);
  plain.set(truth, made);
  return made;
}

export function extrasOf(
  truth: Truth,
  parts: readonly ExtraPart[],
  changes: Partial<FoamDecisions> = {},
  brow: Plane3 | null = null,
): FoamResult {
  const surface = surfaceOfTruth(truth);
  const given = panelsOf(truth, changes);
  const foam = { ...defaultDecisions.foam, ...changes };
  return makeExtras(
    given,
    { parts },
    { ...surface, seams: seamsOfTruth(truth), drawn: surface.pattern, laid: {}, brow },
    foam,
  );
}

/** Panels of the extra parts alone. */
export const partsOf = (foam: FoamResult) => foam.panels.filter((p) => p.extra);
