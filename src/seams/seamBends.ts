/**
 * How much seams bend in a folded shell, from where the ends of edges lie: of two shells that keep all lengths equally
 * well, a maker means the smoother one.
 */
import { cross3, dot3, type Point, type Point3, polylineLength, subtract3 } from '../math';
import type { Pattern, Piece } from '../model';
import type { FoldedEdges } from './verifySeams';

/** Corners this close on the drawing are one corner of a piece, mm: far under any edge, far over rounding. */
const sameCorner = 1e-3;

/** Sum of squared bends over the seams, rad²; seams beside faces of which too little is known count nothing. */
export function bendOfSeams(
  pattern: Pattern,
  folded: FoldedEdges,
  seams: readonly { readonly a: string; readonly b: string }[],
): number {
  const normals = new Map<string, Point3>();
  const along = new Map<string, Point3>();
  for (const piece of pattern.pieces) {
    const at = cornersOf(piece, folded);
    for (const face of piece.faces) {
      const normal = normalOf(face.polygon.flatMap((p) => at(p) ?? []));
      if (normal) for (const side of face.sides) if (side.kind === 'edge') normals.set(side.id, normal);
    }
    for (const edge of [piece.outline, ...piece.holes].flat()) {
      const ends = folded.endsOf(edge.id);
      if (ends && polylineLength(edge.points) > 0) along.set(edge.id, subtract3(ends[1], ends[0]));
    }
  }
  return seams.reduce((sum, { a, b }) => {
    const [n, m, d] = [normals.get(a), normals.get(b), along.get(a)];
    if (!n || !m || !d) return sum;
    const bend = Math.atan2(dot3(cross3(n, m), d) / Math.hypot(d.x, d.y, d.z), dot3(n, m));
    return sum + bend * bend;
  }, 0);
}

/** Where the corners of a piece lie in the folded shell, by their place on the drawing. */
export function cornersOf(piece: Piece, folded: FoldedEdges): (p: Point) => Point3 | null {
  const known = new Map<string, Point3>();
  const cell = (v: number) => Math.round(v / sameCorner);
  for (const edge of [piece.outline, ...piece.holes].flat()) {
    const ends = folded.endsOf(edge.id);
    const [first, last] = [edge.points[0]!, edge.points[edge.points.length - 1]!];
    if (!ends) continue;
    known.set(`${cell(first.x)} ${cell(first.y)}`, ends[0]);
    known.set(`${cell(last.x)} ${cell(last.y)}`, ends[1]);
  }
  return (p) => {
    for (let dx = -1; dx <= 1; dx++)
      for (let dy = -1; dy <= 1; dy++) {
        const found = known.get(`${cell(p.x) + dx} ${cell(p.y) + dy}`);
        if (found) return found;
      }
    return null;
  };
}

/** Unit normal of a ring of corners (Newell's sum), counter-clockwise seen from its tip. */
function normalOf(ring: readonly Point3[]): Point3 | null {
  if (ring.length < 3) return null;
  const sum = { x: 0, y: 0, z: 0 };
  for (let i = 1; i + 1 < ring.length; i++) {
    const c = cross3(subtract3(ring[i]!, ring[0]!), subtract3(ring[i + 1]!, ring[0]!));
    sum.x += c.x;
    sum.y += c.y;
    sum.z += c.z;
  }
  const size = Math.hypot(sum.x, sum.y, sum.z);
  return size > 0 ? { x: sum.x / size, y: sum.y / size, z: sum.z / size } : null;
}
