/** Patterns for property tests: every kind of member once or more, with figures small enough for a quick run. */
import { openShell, prism, solid } from './family';
import { bollardPattern, gannetPattern, keelPattern, shellPattern } from './patterns';
import type { Truth } from './truth';

/** Name and maker of each member; made on demand, since the large ones take a while. */
export const corpus: readonly { readonly name: string; readonly make: () => Truth }[] = [
  { name: 'Gannet helm', make: gannetPattern },
  { name: 'Bollard pauldron', make: bollardPattern },
  { name: 'Keel bracer', make: keelPattern },
  ...(['tetrahedron', 'cube', 'octahedron', 'dodecahedron', 'icosahedron'] as const).map((name) => ({
    name,
    make: () => shellPattern(solid(name), { maxBend: 2, maxFaces: 6 }),
  })),
  { name: 'prism of 7', make: () => shellPattern(prism(7), { maxBend: 2 }) },
  {
    name: 'open prism of 12',
    make: () => shellPattern(prism(12, 90, 60, true), { maxFaces: 5, maxSize: 260 }),
  },
  ...[
    { seed: 1, faces: 40, symmetric: true, net: 'quads', jitter: 0 },
    { seed: 2, faces: 60, symmetric: false, net: 'triangles', jitter: 0.12 },
    { seed: 3, faces: 160, symmetric: true, net: 'mixed', jitter: 0 },
    { seed: 4, faces: 160, symmetric: false, net: 'mixed', jitter: 0 },
    { seed: 5, faces: 320, symmetric: true, net: 'triangles', jitter: 0.1 },
    { seed: 6, faces: 320, symmetric: false, net: 'quads', jitter: 0 },
    { seed: 7, faces: 900, symmetric: false, net: 'triangles', jitter: 0.1 },
  ].map((options) => {
    const full = options as Parameters<typeof openShell>[0];
    return {
      name: `shell ${full.seed}: ${full.faces} faces, ${full.net}${full.symmetric ? ', symmetric' : ''}`,
      make: () => shellPattern(openShell(full), { seed: full.seed, darts: full.seed % 2 === 0 }),
    };
  }),
];
