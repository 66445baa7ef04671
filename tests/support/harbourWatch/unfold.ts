/**
 * Lays a set of faces flat: a first face, then each further face hinged to one already down. Reports whether the flat
 * pieces are simple: no faces overlap and the outline keeps clear of itself.
 */
import { cross, distance, dot, type Point, subtract } from '../../../src/math';
import { facePoints, type MeshTopology, type ShellMesh } from './shellMesh';
import { cross3, dot3, minus, unit3 } from './vec3';

/** Faces of one piece in the order of unfolding, with their flat corners and the mesh edges that stay folds. */
export interface FlatPiece {
  readonly faces: readonly number[];
  readonly corners: ReadonlyMap<number, readonly Point[]>;
  readonly folds: ReadonlySet<number>;
}

/** A side of a face on the outline. */
export interface OutlineSide {
  readonly face: number;
  readonly side: number;
  readonly meshEdge: number;
  readonly from: Point;
  readonly to: Point;
}

/** Flat faces may touch by this much before it counts as an overlap: rounding in a chain of 20 hinges, mm. */
const overlapSlack = 1e-6;
/** Parts of an outline that do not belong together stay at least this far apart, mm, so that a reader that joins
 *  ends within 0.1 mm can tell them apart. */
const outlineClearance = 0.5;

/** Cuts into a piece open at least this wide, mm: narrower ones would be lost under a blade. */
const narrowestDart = 0.8;

/** Corners of a face laid flat with its side `side` from p to q (p at the side's first corner). */
function layFace(mesh: ShellMesh, topology: MeshTopology, face: number, side: number, p: Point, q: Point) {
  const points = facePoints(mesh, face);
  const o = points[side]!;
  const along = unit3(minus(points[(side + 1) % points.length]!, o));
  const inward = cross3(topology.normals[face]!, along);
  const d = subtract(q, p);
  const k = Math.hypot(d.x, d.y);
  const ux = d.x / k;
  const uy = d.y / k;
  return points.map((v) => {
    const s = dot3(minus(v, o), along);
    const t = dot3(minus(v, o), inward);
    return { x: p.x + s * ux - t * uy, y: p.y + s * uy + t * ux };
  });
}

export function startPiece(mesh: ShellMesh, topology: MeshTopology, face: number): FlatPiece {
  const length = topology.edges[topology.sides[face]![0]!]!.length;
  const corners = layFace(mesh, topology, face, 0, { x: 0, y: 0 }, { x: length, y: 0 });
  return { faces: [face], corners: new Map([[face, corners]]), folds: new Set() };
}

/** The piece with one more face hinged on a mesh edge; null when it would not lie flat and simple. */
export function addFace(
  mesh: ShellMesh,
  topology: MeshTopology,
  piece: FlatPiece,
  hinge: number,
  face: number,
  darts: boolean,
): FlatPiece | null {
  const edge = topology.edges[hinge]!;
  const from = edge.left === face ? edge.right! : edge.left;
  const sideFrom = topology.sides[from]!.indexOf(hinge);
  const sideNew = topology.sides[face]!.indexOf(hinge);
  const old = piece.corners.get(from)!;
  const p = old[(sideFrom + 1) % old.length]!;
  const q = old[sideFrom]!;
  const flat = layFace(mesh, topology, face, sideNew, p, q);
  for (const other of piece.faces) if (convexOverlap(flat, piece.corners.get(other)!)) return null;
  const folds = new Set(piece.folds).add(hinge);
  // Other mesh edges shared with the piece: flat neighbours become folds too, else they are cuts (darts).
  const loop = topology.sides[face]!;
  for (let i = 0; i < loop.length; i++) {
    const e = topology.edges[loop[i]!]!;
    if (e.index === hinge) continue;
    const neighbour = e.left === face ? e.right : e.left;
    if (neighbour === null || !piece.corners.has(neighbour)) continue;
    const j = topology.sides[neighbour]!.indexOf(e.index);
    const there = piece.corners.get(neighbour)!;
    const gap = Math.max(
      distance(flat[i]!, there[(j + 1) % there.length]!),
      distance(flat[(i + 1) % flat.length]!, there[j]!),
    );
    if (gap < overlapSlack) folds.add(e.index);
    else if (!darts || gap < narrowestDart) return null;
  }
  const grown = {
    faces: [...piece.faces, face],
    corners: new Map(piece.corners).set(face, flat),
    folds,
  };
  const outline = outlineOf(mesh, topology, grown);
  return outline !== null && isClear(outline) ? grown : null;
}

/** Sides of the outline, counter-clockwise; null when there is more than one loop. */
export function outlineOf(mesh: ShellMesh, topology: MeshTopology, piece: FlatPiece): OutlineSide[] | null {
  const inPiece = new Set(piece.faces);
  const isFold = (e: number) => piece.folds.has(e);
  let total = 0;
  let start: [number, number] | null = null;
  for (const f of piece.faces)
    topology.sides[f]!.forEach((e, i) => {
      if (isFold(e)) return;
      total++;
      start ??= [f, i];
    });
  if (!start) return null;
  const outline: OutlineSide[] = [];
  let [f, i] = start as [number, number];
  do {
    const corners = piece.corners.get(f)!;
    const n = corners.length;
    outline.push({
      face: f,
      side: i,
      meshEdge: topology.sides[f]![i]!,
      from: corners[i]!,
      to: corners[(i + 1) % n]!,
    });
    i = (i + 1) % n;
    while (isFold(topology.sides[f]![i]!)) {
      const e = topology.edges[topology.sides[f]![i]!]!;
      const g: number = e.left === f ? e.right! : e.left;
      if (!inPiece.has(g)) throw new Error(`Fold ${e.index} of ${mesh.name} leaves its piece`);
      i = (topology.sides[g]!.indexOf(e.index) + 1) % topology.sides[g]!.length;
      f = g;
    }
  } while (f !== start[0] || i !== start[1]);
  return outline.length === total ? outline : null;
}

/** True when no corner of the outline comes near a side that it does not end. */
export function isClear(outline: readonly { readonly from: Point; readonly to: Point }[]): boolean {
  for (let i = 0; i < outline.length; i++) {
    const p = outline[i]!.from;
    const before = (i + outline.length - 1) % outline.length;
    for (let j = 0; j < outline.length; j++) {
      if (j === i || j === before) continue;
      const s = outline[j]!;
      if (segmentDistance(p, s.from, s.to) < outlineClearance) return false;
    }
  }
  return true;
}

export function segmentDistance(p: Point, a: Point, b: Point): number {
  const d = subtract(b, a);
  const t = Math.min(1, Math.max(0, dot(subtract(p, a), d) / dot(d, d)));
  return Math.hypot(p.x - a.x - t * d.x, p.y - a.y - t * d.y);
}

/** True when two convex counter-clockwise polygons share more than a sliver (separating lines along their sides). */
export function convexOverlap(a: readonly Point[], b: readonly Point[]): boolean {
  const separates = (m: readonly Point[], n: readonly Point[]) =>
    m.some((p, i) => {
      const d = subtract(m[(i + 1) % m.length]!, p);
      const k = Math.hypot(d.x, d.y);
      return n.every((q) => cross(d, subtract(q, p)) / k < overlapSlack);
    });
  return !separates(a, b) && !separates(b, a);
}
