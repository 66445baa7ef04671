/** What the generator knows about a sample: edges with their places, which two meet, which stay open. */
import {
  bollardPattern,
  drawPattern,
  gannetPattern,
  keelPattern,
  type TruthEdge,
} from '../../tests/support/harbourWatch';
import type { Place } from './bench';
import type { Manner, SampleId } from './work';

const patterns = {
  'gannet-helm': gannetPattern,
  'bollard-pauldron': bollardPattern,
  'keel-bracer': keelPattern,
} as const;

export interface KnownEdge {
  readonly id: string;
  readonly piece: string;
  /** Along the outline, material to the left, mm, y up. */
  readonly points: readonly Place[];
  readonly length: number;
  readonly middle: Place;
  readonly mate: string | null;
}

export interface Known {
  readonly edges: readonly KnownEdge[];
  readonly seams: number;
  readonly edge: (id: string) => KnownEdge;
}

export function knownOf(id: SampleId, manner: Manner): Known {
  const { truth } = drawPattern(patterns[id](), { manner });
  const edges = truth.pieces.flatMap((piece) => piece.outline.map((edge) => know(edge, piece.name)));
  const byId = new Map(edges.map((e) => [e.id, e]));
  return { edges, seams: truth.mates.length, edge: (wanted) => byId.get(wanted)! };
}

function know(edge: TruthEdge, piece: string): KnownEdge {
  const length = lengthOf(edge.points);
  return {
    id: edge.id,
    piece,
    points: edge.points,
    length,
    middle: placeAlong(edge.points, length / 2),
    mate: edge.mate,
  };
}

export const apart = (a: Place, b: Place): number => Math.hypot(a.x - b.x, a.y - b.y);

export const lengthOf = (points: readonly Place[]): number =>
  points.slice(1).reduce((sum, p, i) => sum + apart(points[i]!, p), 0);

function placeAlong(points: readonly Place[], s: number): Place {
  let left = s;
  for (let i = 1; i < points.length; i++) {
    const [a, b] = [points[i - 1]!, points[i]!];
    const d = apart(a, b);
    if (left <= d && d > 0) return { x: a.x + ((b.x - a.x) * left) / d, y: a.y + ((b.y - a.y) * left) / d };
    left -= d;
  }
  return points.at(-1)!;
}

/** Nearest place of a line to a point: how far it is, and how far along the line. */
export function nearestOn(points: readonly Place[], at: Place): { off: number; along: number } {
  let best = { off: Number.POSITIVE_INFINITY, along: 0 };
  let before = 0;
  for (let i = 1; i < points.length; i++) {
    const [a, b] = [points[i - 1]!, points[i]!];
    const d = apart(a, b);
    if (d === 0) continue;
    const t = Math.min(1, Math.max(0, ((at.x - a.x) * (b.x - a.x) + (at.y - a.y) * (b.y - a.y)) / (d * d)));
    const off = apart(at, { x: a.x + (b.x - a.x) * t, y: a.y + (b.y - a.y) * t });
    if (off < best.off) best = { off, along: before + t * d };
    before += d;
  }
  return best;
}
