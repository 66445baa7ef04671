import { drawPattern, openShell, shellPattern } from '../support/harbourWatch';

/** A clean, numbered drawing of a seeded open shell of about so many faces. */
export function benchPattern(faces: number): { svg: string; faces: number } {
  const mesh = openShell({ seed: 11, faces, symmetric: true, net: 'triangles', jitter: 0 });
  const { svg } = drawPattern(shellPattern(mesh), { manner: 'clean', numbers: 'edges' });
  return { svg, faces: mesh.faces.length };
}
