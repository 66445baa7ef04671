/** Open tubes with flat walls, whose developed lengths have closed forms. */
import { makeExtras } from '../../src/extras';
import type { ExtraPart, FoamDecisions, FoamResult } from '../../src/model';
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

export const cut = (mesh: ShellMesh, maxFaces: number): Truth =>
  shellPattern(mesh, { maxFaces, maxBend: 3, maxSize: 5000 });

export function extrasOf(
  truth: Truth,
  parts: readonly ExtraPart[],
  changes: Partial<FoamDecisions> = {},
): FoamResult {
  const surface = surfaceOfTruth(truth);
  const given = panelsOfTruth(truth, changes);
  const foam = { ...defaultDecisions.foam, ...changes };
  return makeExtras(given, { parts }, { ...surface, seams: seamsOfTruth(truth) }, foam);
}

/** Panels of the extra parts alone. */
export const partsOf = (foam: FoamResult) => foam.panels.filter((p) => p.extra);
