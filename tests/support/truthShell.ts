/** The folded shell of a generated pattern, straight from its mesh: what folding up should find. */
import type { Shell } from '../../src/model';
import { bendsOfTruth } from '../foam/truthSeams';
import { mirrorOf, type ShellMesh, type Truth } from './harbourWatch';

/** A mesh as a shell of one part, each face a piece of its own; no bends. */
export function shellOfMesh(mesh: ShellMesh): Shell {
  const mirror = mirrorOf(mesh);
  return {
    vertices: mesh.vertices,
    faces: mesh.faces.map((vertices, f) => ({ piece: `p${f}`, face: `f${f}`, flat: [], vertices })),
    bends: {},
    bendSpread: {},
    residual: { rms: 0, max: 0 },
    rho: 1,
    unsure: { rms: 0, part: 0 },
    wrongSigns: [],
    flexes: 0,
    components: [
      {
        vertices: mesh.vertices.map((_, v) => v),
        faces: mesh.faces.map((_, f) => f),
        flexes: 0,
        openings: 0,
        residual: { rms: 0, max: 0 },
        rho: 1,
        unsure: { rms: 0, part: 0 },
      },
    ],
    quality: 'good',
    worst: null,
    symmetry: mirror
      ? {
          plane: { normal: { x: 1, y: 0, z: 0 }, offset: 0 },
          pairs: mirror.vertices.flatMap((m, v) => (m >= v ? [[v, m] as const] : [])),
        }
      : null,
    softModes: [],
    known: [],
    leftOut: [],
    issues: [],
  };
}

/** The shell of a pattern cut from a mesh whose faces are all drawn (none left out, none curved). */
export function shellOfTruth(truth: Truth): Shell {
  const shell = shellOfMesh(truth.shell);
  const drawn = truth.pieces.flatMap((piece) =>
    piece.faces.map((face) => ({ piece: piece.id, face: face.id, flat: face.polygon, mesh: face.meshFaces })),
  );
  return {
    ...shell,
    faces: drawn.map(({ piece, face, flat, mesh }) => ({
      piece,
      face,
      flat,
      vertices: truth.shell.faces[mesh[0]!]!,
    })),
    bends: bendsOfTruth(truth),
  };
}
