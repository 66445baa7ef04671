/**
 * The paper's surface in space, as the foam stage reads it: which side of which face is a fold, a seam or a border, how
 * far the faces on both sides of it are bent, and the offset vector of every vertex.
 */
import { cross3, dot3, type Point3, subtract3, unitOf3 } from '../math';
import type { Pattern, Piece, Seams, Shell, ShellPatch } from '../model';
import { collapseDepths, faceNormals, offsetVectors, shellSides } from '../shell';
import type { Mm, Rad } from '../units';

/**
 * The folded pattern with its vertices where they are to be, at the final size. Faces of one piece may have been
 * gathered from several drawn ones, with seams inside it (darts), holes and closed rings of faces: only the ids and the
 * order of the corners have to be those of `pattern`, the flat corners serve for curves and for the pose alone.
 */
export interface FoamSurface {
  /** The pattern that the shell was folded from, at the size at which it was folded. */
  readonly pattern: Pattern;
  readonly shell: Shell;
  /** Where the vertices of the shell are on the paper's surface, in their order, mm. */
  readonly places: readonly Point3[];
}

/** A side of a face, from one corner to the next, counter-clockwise seen from outside. */
export interface NetSide {
  readonly face: number;
  readonly corner: number;
  readonly from: number;
  readonly to: number;
  /** `inner`: a fold, or a ruling of a bent face; the faces on both sides stay in one panel. */
  readonly kind: 'inner' | 'seam' | 'open';
  /** Fold or seam id; edge id of an open side; face id of a ruling. */
  readonly id: string;
  /** Edge of the pattern; null for folds and rulings. */
  readonly edge: string | null;
  /** Bend of the paper's surface here, + convex; null where nothing is on the other side. */
  readonly bend: Rad | null;
}

export interface FoamNet {
  readonly patches: readonly ShellPatch[];
  /** By face, in the order of its corners; empty for a face that the pattern no longer has. */
  readonly sides: readonly (readonly NetSide[])[];
  /** Faces by piece. */
  readonly facesOf: ReadonlyMap<string, readonly number[]>;
  /** The side that runs the other way along the same two vertices. */
  readonly twin: (side: NetSide) => NetSide | null;
  readonly places: readonly Point3[];
  /** Places of the shell as it was folded, at the size of the drawing. */
  readonly drawn: readonly Point3[];
  readonly vectors: readonly Point3[];
  readonly normals: readonly Point3[];
  /** Vertices of edges that vanish between the paper and this depth, + outward: no foam follows the offset shell there. */
  readonly goneBy: (depth: Mm) => ReadonlySet<number>;
  /** Depth at which the edge between two vertices of a face is gone; infinite where it keeps its length. */
  readonly goneAt: (from: number, to: number) => Mm;
  /** Mean bend by seam id, weighted by length, of the paper's surface. */
  readonly bends: Readonly<Record<string, Rad>>;
}

/** Reads the surface once for all panels. */
export function readNet(surface: FoamSurface, seams: Seams): FoamNet {
  const { shell, pattern, places } = surface;
  const placed = { vertices: places, faces: shell.faces };
  const normals = faceNormals(placed);
  const count = places.length;
  const at = new Map<number, number>();
  shell.faces.forEach(({ vertices }, face) => {
    vertices.forEach((v, i) => void at.set(v * count + vertices[(i + 1) % vertices.length]!, face));
  });
  const bendOf = (face: number, from: number, to: number): Rad | null => {
    const other = at.get(to * count + from);
    if (other === undefined) return null;
    const along = unitOf3(subtract3(places[to]!, places[from]!));
    const a = normals[face]!;
    const b = normals[other]!;
    return Math.atan2(dot3(cross3(a, b), along), dot3(a, b));
  };
  const sides: NetSide[][] = shell.faces.map(() => []);
  for (const side of shellSides(shell, pattern, seams)) {
    const { face, corner, from, to, id, edge } = side;
    const kind = side.kind === 'seam' ? 'seam' : side.kind === 'open' ? 'open' : 'inner';
    sides[face]!.push({ face, corner, from, to, kind, id, edge, bend: bendOf(face, from, to) });
  }
  const sideAt = new Map<number, NetSide>();
  for (const side of sides.flat()) sideAt.set(side.from * count + side.to, side);
  const facesOf = new Map<string, number[]>();
  shell.faces.forEach(({ piece }, face) => void facesOf.set(piece, [...(facesOf.get(piece) ?? []), face]));
  const vectors = offsetVectors(placed);
  const collapses = collapseDepths(placed, vectors);
  const gone = new Map(collapses.map(({ a, b, depth }) => [a * count + b, depth]));
  return {
    patches: shell.faces,
    sides,
    facesOf,
    twin: (side) => sideAt.get(side.to * count + side.from) ?? null,
    places,
    drawn: shell.vertices,
    vectors,
    goneBy: (depth) =>
      new Set(collapses.flatMap((edge) => (depth / edge.depth >= 1 ? [edge.a, edge.b] : []))),
    goneAt: (from, to) =>
      gone.get(Math.min(from, to) * count + Math.max(from, to)) ?? Number.POSITIVE_INFINITY,
    normals,
    bends: meanBends(sides.flat(), places),
  };
}

function meanBends(sides: readonly NetSide[], places: readonly Point3[]): Record<string, Rad> {
  const sums = new Map<string, { sum: number; length: number }>();
  for (const { kind, id, bend, from, to } of sides) {
    if (kind !== 'seam' || bend === null) continue;
    const d = subtract3(places[to]!, places[from]!);
    const length = Math.hypot(d.x, d.y, d.z);
    const so = sums.get(id) ?? { sum: 0, length: 0 };
    sums.set(id, { sum: so.sum + bend * length, length: so.length + length });
  }
  return Object.fromEntries([...sums].map(([id, s]) => [id, s.length > 0 ? s.sum / s.length : 0]));
}

/**
 * The faces of a piece when the surface holds all of it in one; null when a face is missing, or folds do not join them.
 * Such a piece is made the direct way.
 */
export function facesOfPiece(net: FoamNet, piece: Piece): readonly number[] | null {
  const faces = net.facesOf.get(piece.id) ?? [];
  const held = new Set(faces.map((f) => net.patches[f]!.face));
  if (faces.length === 0 || piece.faces.some((face) => !held.has(face.id))) return null;
  if (faces.some((f) => net.sides[f]!.length !== net.patches[f]!.vertices.length)) return null;
  const reached = new Set([faces[0]!]);
  for (const f of reached)
    for (const side of net.sides[f]!) {
      const other = innerNeighbour(net, side);
      if (other) reached.add(other.face);
    }
  return reached.size === faces.length ? faces : null;
}

/** The same fold or ruling as seen from the face across it; null for sides of the outline. */
export function innerNeighbour(net: FoamNet, side: NetSide): NetSide | null {
  if (side.kind !== 'inner') return null;
  const other = net.twin(side);
  const same = other && other.kind === 'inner' && other.id === side.id;
  return same && net.patches[other.face]!.piece === net.patches[side.face]!.piece ? other : null;
}
