/**
 * Outlines as arrays for matching by geometry: lengths, neighbours and inside angles of all edges, by number in reading
 * order. Only lengths and angles are kept, so nothing here depends on where a piece lies or how it is turned.
 */

import type { Rad } from '../units';
import type { EdgeTable } from './edgeTable';
import { slitTip } from './matchTolerance';
import { turnBetween } from './numberedRun';

export interface HalfEdges {
  readonly count: number;
  readonly ids: readonly string[];
  readonly indexOf: ReadonlyMap<string, number>;
  /** mm. */
  readonly length: Float64Array;
  /** Next and previous edge of the same outline. */
  readonly next: Int32Array;
  readonly before: Int32Array;
  /** Inside angle of the piece at the start of each edge, rad. */
  readonly angle: Float64Array;
  /** 1 for edges that are drawn straight. */
  readonly straight: Uint8Array;
  /** Number of the piece of each edge. */
  readonly piece: Int32Array;
}

export function halfEdgesOf(edges: EdgeTable): HalfEdges {
  const { inOrder } = edges;
  const count = inOrder.length;
  const indexOf = new Map(inOrder.map((p, i) => [p.id, i]));
  const pieces = new Map<string, number>();
  const next = new Int32Array(count);
  const before = new Int32Array(count);
  const angle = new Float64Array(count);
  const piece = new Int32Array(count);
  inOrder.forEach((place, i) => {
    const follower = edges.neighbour(place.id, 1);
    const j = indexOf.get(follower.id)!;
    next[i] = j;
    before[j] = i;
    angle[j] = insideAngle(turnBetween(place, follower));
    if (!pieces.has(place.piece)) pieces.set(place.piece, pieces.size);
    piece[i] = pieces.get(place.piece)!;
  });
  return {
    count,
    ids: inOrder.map((p) => p.id),
    indexOf,
    length: Float64Array.from(inOrder, (p) => p.length),
    next,
    before,
    angle,
    straight: Uint8Array.from(inOrder, (p) => (p.edge.curved ? 0 : 1)),
    piece,
  };
}

/**
 * Inside angle where the outline turns by so much, rad. A turn back on itself is the tip of a slit: no piece has a
 * spike without width, but rounding may give the turn either sign.
 */
const insideAngle = (turn: Rad): Rad => (Math.PI - turn < slitTip ? 3 * Math.PI - turn : Math.PI - turn);

/** Inside angle at the end of an edge, rad. */
export const endAngle = (h: HalfEdges, edge: number): number => h.angle[h.next[edge]!]!;
