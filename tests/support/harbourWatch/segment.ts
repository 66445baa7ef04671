/**
 * Cuts a shell into pieces that lie flat: pieces grow face by face over the mildest bends, within a size, never over a
 * barrier. A mirror-symmetric shell is cut into mirror-image pairs of pieces and pieces across the middle.
 */
import { seededRandom } from '../../../src/base';
import { distance, type Point } from '../../../src/math';
import { mirrorOf, type ShellMesh, topologyOf } from './shellMesh';
import { addFace, type FlatPiece, startPiece } from './unfold';
import { distance3 } from './vec3';

export interface CutOptions {
  /** Most faces in a piece. */
  readonly maxFaces: number;
  /** Longest side of a piece's flat box, mm. */
  readonly maxSize: number;
  /** Sharper folds are cut, rad. */
  readonly maxBend: number;
  /** Allow cuts that run into a piece, so that two edges of one piece meet. */
  readonly darts: boolean;
  /** Varies where pieces start. */
  readonly seed: number;
  /** Mesh edges that no piece may cross. */
  readonly barriers: readonly number[];
  /** Name of the part of the shell that each face belongs to; pieces stay within one part. Empty: one part. */
  readonly parts: readonly string[];
  /** Cut a mirror-symmetric shell into mirror images; else its pieces cross the middle as they come. */
  readonly mirrored: boolean;
}

export const usualCut: CutOptions = {
  maxFaces: 12,
  maxSize: 190,
  maxBend: 1.15,
  darts: false,
  seed: 1,
  barriers: [],
  parts: [],
  mirrored: true,
};

/** Flat pieces in a fixed order; `mirror[i]` is the number of the piece that mirrors piece i, or null. */
export interface CutShell {
  readonly pieces: readonly FlatPiece[];
  readonly mirror: readonly (number | null)[];
}

export function cutShell(mesh: ShellMesh, options: CutOptions): CutShell {
  const topology = topologyOf(mesh);
  const mirror = options.mirrored ? mirrorOf(mesh) : null;
  const barriers = new Set(options.barriers);
  const random = seededRandom(options.seed);
  const taken = new Set<number>();
  const size = averageLength(topology.edges.map((e) => e.length));

  const neighbours = (face: number) =>
    topology.sides[face]!.flatMap((e) => {
      const edge = topology.edges[e]!;
      const other = edge.left === face ? edge.right : edge.left;
      return other === null || barriers.has(e) || options.parts[face] !== options.parts[other]
        ? []
        : [{ edge: e, other, bend: Math.abs(edge.bend!) }];
    });

  const grow = (seed: number, allowed: (face: number) => boolean): FlatPiece => {
    let piece = startPiece(mesh, topology, seed);
    taken.add(seed);
    const refused = new Set<string>();
    while (piece.faces.length < options.maxFaces) {
      const choices = piece.faces
        .flatMap((f) => neighbours(f))
        .filter(
          (n) =>
            !taken.has(n.other) && allowed(n.other) && n.bend <= options.maxBend && !refused.has(`${n.edge}`),
        )
        .map((n) => ({
          ...n,
          // Mild bends first; then faces that keep the piece round, and that would be left alone otherwise.
          cost:
            n.bend * 1.5 +
            (0.25 * distance3(topology.centroids[n.other]!, topology.centroids[seed]!)) / size +
            0.15 * neighbours(n.other).filter((m) => !taken.has(m.other)).length -
            0.3 * neighbours(n.other).filter((m) => piece.corners.has(m.other)).length,
        }))
        .sort((a, b) => a.cost - b.cost || a.edge - b.edge);
      let next: FlatPiece | null = null;
      for (const choice of choices) {
        next = addFace(mesh, topology, piece, choice.edge, choice.other, options.darts);
        if (next && sizeOf(next) > options.maxSize) next = null;
        if (next) {
          taken.add(choice.other);
          break;
        }
        refused.add(`${choice.edge}`);
      }
      if (!next) break;
      piece = next;
    }
    return piece;
  };

  const cover = (faces: readonly number[]): FlatPiece[] => {
    const own = new Set(faces);
    const found: FlatPiece[] = [];
    for (;;) {
      const free = faces.filter((f) => !taken.has(f));
      if (free.length === 0) return found;
      // Start where fewest neighbours are left, so that corners are not stranded.
      let seed = free[0]!;
      let least = Number.POSITIVE_INFINITY;
      for (const f of free) {
        const score =
          neighbours(f).filter((n) => !taken.has(n.other) && own.has(n.other)).length + 0.5 * random();
        if (score < least) {
          least = score;
          seed = f;
        }
      }
      found.push(grow(seed, (f) => own.has(f)));
    }
  };

  const all = mesh.faces.map((_, f) => f);
  if (!mirror) {
    const pieces = cover(all);
    return { pieces, mirror: pieces.map(() => null) };
  }
  const middle = cover(all.filter((f) => mirror.faces[f] === f));
  const half = cover(all.filter((f) => mirror.faces[f] !== f && topology.centroids[f]!.x > 0));
  const flipped = half.map((piece) => mirrorPiece(mesh, piece, mirror));
  return {
    pieces: [...middle, ...half.flatMap((p, i) => [p, flipped[i]!])],
    mirror: [
      ...middle.map(() => null),
      ...half.flatMap((_, i) => [middle.length + 2 * i + 1, middle.length + 2 * i]),
    ],
  };
}

function mirrorPiece(
  mesh: ShellMesh,
  piece: FlatPiece,
  mirror: { vertices: readonly number[]; faces: readonly number[] },
): FlatPiece {
  const { edges } = topologyOf(mesh);
  const corners = new Map<number, Point[]>();
  for (const f of piece.faces) {
    const at = new Map(mesh.faces[f]!.map((v, i) => [mirror.vertices[v]!, piece.corners.get(f)![i]!]));
    const g = mirror.faces[f]!;
    corners.set(
      g,
      mesh.faces[g]!.map((v) => ({ x: -at.get(v)!.x, y: at.get(v)!.y })),
    );
  }
  const keyOf = (a: number, b: number) => `${Math.min(a, b)},${Math.max(a, b)}`;
  const edgeAt = new Map(edges.map((e) => [keyOf(e.from, e.to), e.index]));
  const folds = new Set(
    [...piece.folds].map((i) => {
      const e = edges[i]!;
      return edgeAt.get(keyOf(mirror.vertices[e.from]!, mirror.vertices[e.to]!))!;
    }),
  );
  return { faces: piece.faces.map((f) => mirror.faces[f]!), corners, folds };
}

const averageLength = (lengths: readonly number[]) => lengths.reduce((a, b) => a + b, 0) / lengths.length;

function sizeOf(piece: FlatPiece): number {
  const points = [...piece.corners.values()].flat();
  let longest = 0;
  for (const p of points) for (const q of points) longest = Math.max(longest, distance(p, q));
  return longest;
}
