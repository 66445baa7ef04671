/** The lengths that make a flat panel, and by how much it misses them. */
import { distance, distance3, type Point, type Point3, polylineLength } from '../math';
import type { Edge, Pattern, Seam, Seams } from '../model';
import type { Mm } from '../units';
import type { FaceFrame } from './flatFaces';
import type { Nodes } from './flatNodes';
import type { WantedLength } from './settleFlat';
import { type FoamNet, innerNeighbour } from './surface';
import { outlineStiffness } from './tolerance';

/** What all pieces of a run share. */
export interface UnfoldInput {
  readonly net: FoamNet;
  /** The pattern that the shell was folded from. */
  readonly drawn: Pattern;
  readonly seams: Seams;
}

export const isCurve = (edge: Edge): boolean => edge.points.length > 2;

/** The largest miss of the lengths that are asked for. */
export const missOf = (
  at: readonly Point[],
  wanted: readonly WantedLength[],
  which: (w: WantedLength) => boolean,
): Mm =>
  wanted.reduce(
    (most, w) => (which(w) ? Math.max(most, Math.abs(distance(at[w.a]!, at[w.b]!) - w.length)) : most),
    0,
  );

/** Faces with more corners are held by nearby and opposite corners instead of all pairs. */
const allPairsUpTo = 8;

/**
 * The distances that make the panel: sides and diagonals of every face. Straight faces take them from space. A bent
 * face is known by its flat shape, so there its drawn distances count, each stretched as it is in space; sides of a
 * seam with a curve in it are as long as the mean of both drawn sides, so that mates agree.
 */
export function wantedLengths(
  { net, drawn, seams }: UnfoldInput,
  faces: readonly number[],
  frames: readonly FaceFrame[],
  nodes: Nodes,
  places: readonly Point3[],
  bent: boolean,
): WantedLength[] {
  const edges = new Map(drawn.pieces.flatMap((p) => [p.outline, ...p.holes].flat()).map((e) => [e.id, e]));
  const seamOf = new Map(seams.seams.map((s) => [s.id, s]));
  const found: WantedLength[] = [];
  faces.forEach((f, k) => {
    const { vertices, flat } = net.patches[f]!;
    const ring = nodes.of.get(f)!;
    const n = vertices.length;
    const growth = (i: number, j: number) =>
      distance3(places[vertices[i]!]!, places[vertices[j]!]!) /
      distance3(net.drawn[vertices[i]!]!, net.drawn[vertices[j]!]!);
    const drawnLength = (i: number, j: number) => distance(flat[i]!, flat[j]!) * growth(i, j);
    for (let i = 0; i < n; i++)
      for (let j = i + 1; j < n; j++) {
        const around = Math.min(j - i, n - j + i);
        if (n > allPairsUpTo && around > 2 && around < Math.floor(n / 2)) continue;
        const beside = around === 1;
        const corner = j - i === 1 ? i : j;
        const side = beside ? net.sides[f]![corner]! : null;
        const outline = side !== null && innerNeighbour(net, side) === null;
        let length = distance(frames[k]!.local[i]!, frames[k]!.local[j]!);
        if (bent) length = drawnLength(i, j);
        if (outline) {
          const seam = side.kind === 'seam' ? seamOf.get(side.id) : undefined;
          const share = seam && side.edge !== null ? curvedShare(seam, side.edge, edges) : null;
          if (share !== null) length = drawnLength(i, j) * share;
          else if (!bent) length = distance3(places[vertices[i]!]!, places[vertices[j]!]!);
        }
        found.push({ a: ring[i]!, b: ring[j]!, length, weight: outline ? outlineStiffness : 1 });
      }
  });
  return found;
}

/** How much longer the mean of both sides of a seam is than this side; null where both sides are straight. */
function curvedShare(seam: Seam, edge: string, edges: ReadonlyMap<string, Edge>): number | null {
  const a = edges.get(seam.a.edge);
  const b = edges.get(seam.b.edge);
  if (!a || !b || (!isCurve(a) && !isCurve(b))) return null;
  const lengthOf = (e: Edge, part: readonly [Mm, Mm] | undefined) =>
    part ? part[1] - part[0] : polylineLength(e.points);
  const la = lengthOf(a, seam.partA);
  const lb = lengthOf(b, seam.partB);
  return (la + lb) / 2 / (edge === seam.a.edge ? la : lb);
}
