/**
 * Shells held back: no weight, limit or rule of panels was chosen on them. They show what a choice made on the shells of
 * the corpus is worth on others. Several kinds and sizes, with seeds that nothing else uses.
 */
import { openShell, type ShellMesh, shellPattern, type Truth } from './harbourWatch';
import { type OtherKind, otherShell } from './otherShells';

interface Held {
  readonly name: string;
  readonly make: () => Truth;
}

const rows: readonly Parameters<typeof openShell>[0][] = [
  { seed: 9101, faces: 90, symmetric: true, net: 'quads', jitter: 0 },
  { seed: 9102, faces: 125, symmetric: false, net: 'triangles', jitter: 0.12 },
  { seed: 9103, faces: 240, symmetric: false, net: 'mixed', jitter: 0 },
  { seed: 9104, faces: 200, symmetric: true, net: 'triangles', jitter: 0.1 },
  { seed: 9105, faces: 500, symmetric: false, net: 'triangles', jitter: 0.1 },
  { seed: 9106, faces: 420, symmetric: true, net: 'quads', jitter: 0 },
];

const others: readonly (readonly [kind: OtherKind, seed: number, faces: number])[] = [
  ['dome with eyes', 9107, 180],
  ['symmetric dome', 9108, 240],
  ['decimated dome', 9109, 150],
  ['open body', 9110, 200],
  ['tube', 9111, 120],
  ['quad strip', 9112, 40],
];

const cut = (mesh: ShellMesh, seed: number) => shellPattern(mesh, { seed, darts: seed % 2 === 0 });

export const heldShells: readonly Held[] = [
  ...rows.map((options) => ({
    name: `held ${options.seed}: ${options.faces} faces, ${options.net}${options.symmetric ? ', symmetric' : ''}`,
    make: () => cut(openShell(options), options.seed),
  })),
  ...others.map(([kind, seed, faces]) => ({
    name: `held ${seed}: ${kind}, ${faces} faces`,
    make: () => cut(otherShell(kind, seed, faces), seed),
  })),
];
