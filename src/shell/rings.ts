import type { Point } from '../math';
import type { FaceSide, Pattern, Piece, Seam } from '../model';
import { cutRoundHole, halvesOf, isInside } from './holeFaces';
import { splitLine, stretchesOf } from './sides';
import { cornersOfEdge, type Span } from './spans';

/** The faces of a pattern as rings of corners. A face with a hole whose rim is glued is cut into faces without. */
export interface Ring {
  readonly piece: string;
  readonly face: string;
  /** Number of the part where a hole made several of one face. */
  readonly part?: number;
  /** Beside part 0: the outer ring, as if there were no hole. */
  readonly outline?: Ring;
  readonly points: Point[];
  /** Empty along a bridge between parts of one face. */
  readonly sideIds: string[];
  /** Seam of each side, if any. */
  readonly seams: (Seam | null)[];
  /** A curve bounds it, or is sewn to one of its sides. */
  readonly curved: boolean;
  /** Corner numbers, one per point. */
  readonly corners: number[];
}

/** A chain of corners in the direction of its fold or edge. */
export type Chain = readonly number[];

export interface Rings {
  readonly rings: Ring[];
  /** The chains of corners along every fold and edge. */
  readonly chains: ReadonlyMap<string, Chain[]>;
  /** Corners of two parts of one face that are the same corner. */
  readonly joins: readonly (readonly [number, number])[];
  readonly cornerCount: number;
  /** Faces of fewer than three corners. */
  readonly unusable: string[];
}

type Edges = ReadonlyMap<string, { readonly points: readonly Point[]; readonly flat?: true }>;
type Spans = ReadonlyMap<string, readonly Span[]>;

export function ringsOf(pattern: Pattern, edges: Edges, spansOf: Spans): Rings {
  const rings: Ring[] = [];
  const chains = new Map<string, Chain[]>();
  const joins: (readonly [number, number])[] = [];
  const unusable: string[] = [];
  let cornerCount = 0;
  /** The walk as a ring, its corners numbered. */
  const ringOf = (piece: Piece, face: string, walk: Walk): Ring => {
    const corners = walk.points.map((_, i) => cornerCount + i);
    cornerCount += corners.length;
    const { points, sideIds, seams, curved } = walk;
    return { piece: piece.id, face, points, sideIds, seams, curved, corners };
  };
  const keepChains = ({ runs }: Walk, { corners }: Ring) => {
    for (const { id, from, count, forward } of runs) {
      const chain = Array.from({ length: count + 1 }, (_, i) => corners[(from + i) % corners.length]!);
      if (!forward) chain.reverse();
      chains.set(id, [...(chains.get(id) ?? []), chain]);
    }
  };
  for (const piece of pattern.pieces) {
    const sewn = gluedHoles(piece, spansOf);
    for (const face of piece.faces) {
      const walk = walkSides(withoutSpurs(face.sides), piece, edges, spansOf);
      if (walk.points.length < 3) {
        unusable.push(face.id);
        continue;
      }
      const ring = ringOf(piece, face.id, walk);
      keepChains(walk, ring);
      let parts: Ring[] = [ring];
      const holes = sewn
        .map((sides) => walkSides(sides, piece, edges, spansOf))
        .filter((hole) => hole.points.length > 2 && isInside(hole.points[0]!, ring.points));
      holes.forEach((hole, h) => {
        const at = parts.findIndex((part) => isInside(hole.points[0]!, part.points));
        const later = holes.slice(h + 1).map((other) => other.points);
        const cut = at < 0 ? null : cutRoundHole(parts[at]!.points, hole.points, later);
        // A rim that no bridge reaches stays without a face: its seams are left out with a finding.
        if (!cut) return;
        const rim = ringOf(piece, face.id, hole);
        keepChains(hole, rim);
        const halves = halvesOf(cut, parts[at]!.points.length, rim.points.length).map((half) =>
          joined(parts[at]!, half.outer, rim, half.hole),
        );
        // The ends of the bridges are corners of both halves.
        const again = new Map<number, number>();
        const both = new Set(halves[0]!.corners);
        for (const c of halves[1]!.corners) if (both.has(c)) again.set(c, cornerCount++);
        joins.push(...again);
        const other = { ...halves[1]!, corners: halves[1]!.corners.map((c) => again.get(c) ?? c) };
        parts = parts.flatMap((part, k) => (k === at ? [halves[0]!, other] : [part]));
      });
      // What curves bound may bend, and all parts of one face alike.
      const curved = parts.some((part) => part.curved);
      if (parts.length > 1)
        parts = parts.map((part, k) => ({ ...part, part: k, curved, ...(k === 0 ? { outline: ring } : {}) }));
      rings.push(...parts);
    }
  }
  return { rings, chains, joins, cornerCount, unusable };
}

interface Walk {
  readonly points: Point[];
  readonly sideIds: string[];
  readonly seams: (Seam | null)[];
  readonly curved: boolean;
  readonly runs: readonly {
    readonly id: string;
    readonly from: number;
    readonly count: number;
    readonly forward: boolean;
  }[];
}

function walkSides(sides: readonly FaceSide[], piece: Piece, edges: Edges, spansOf: Spans): Walk {
  const folds = new Map(piece.folds.map((f) => [f.id, f]));
  const points: Point[] = [];
  const sideIds: string[] = [];
  const seams: (Seam | null)[] = [];
  let curved = false;
  const runs: { id: string; from: number; count: number; forward: boolean }[] = [];
  for (const side of sides) {
    const line = side.kind === 'edge' ? edges.get(side.id)?.points : folds.get(side.id)?.points;
    if (!line || line.length < 2) continue;
    const spans = side.kind === 'edge' ? spansOf.get(side.id)! : null;
    const flat = (side.kind === 'edge' ? edges : folds).get(side.id)?.flat === true;
    const ends = spans ? cornersOfEdge(line, spans) : splitLine(line, flat ? 1 : stretchesOf(line));
    const count = ends.length - 1;
    // A straight edge that is sewn to a curve bends as well.
    if ((!flat && stretchesOf(line) > 1) || spans?.some((s) => s.stretches > 1)) curved = true;
    const seamOf = spans ? spans.flatMap((s) => new Array<Seam | null>(s.stretches).fill(s.seam)) : [];
    if (!side.forward) {
      ends.reverse();
      seamOf.reverse();
    }
    runs.push({ id: side.id, from: points.length, count, forward: side.forward });
    for (let i = 0; i < count; i++) {
      points.push(ends[i]!);
      sideIds.push(side.id);
      seams.push(seamOf[i] ?? null);
    }
  }
  return { points, sideIds, seams, curved, runs };
}

/** Rims of holes inside one face that a seam is on; a rim that folds run into belongs to the sides of faces already. */
function gluedHoles(piece: Piece, spansOf: Spans): FaceSide[][] {
  if (piece.holes.length === 0) return [];
  const bordered = new Set(piece.faces.flatMap((f) => f.sides.map((s) => s.id)));
  return piece.holes
    .filter(
      (hole) =>
        hole.every((edge) => !bordered.has(edge.id)) &&
        hole.some((edge) => spansOf.get(edge.id)?.some((s) => s.seam !== null)),
    )
    .map((hole) => hole.map((edge) => ({ kind: 'edge', id: edge.id, forward: true })));
}

/** One half of a face round a hole, with a bridge at the end of each walk. */
function joined(outer: Ring, along: readonly number[], hole: Ring, back: readonly number[]): Ring {
  const both = <T>(pick: (ring: Ring) => readonly T[], bridge: T): T[] =>
    (
      [
        [outer, along],
        [hole, back],
      ] as const
    ).flatMap(([ring, walk]) => walk.map((i, k) => (k + 1 < walk.length ? pick(ring)[i]! : bridge)));
  return {
    piece: outer.piece,
    face: outer.face,
    points: [...along.map((i) => outer.points[i]!), ...back.map((i) => hole.points[i]!)],
    corners: [...along.map((i) => outer.corners[i]!), ...back.map((i) => hole.corners[i]!)],
    sideIds: both((ring) => ring.sideIds, ''),
    seams: both<Seam | null>((ring) => ring.seams, null),
    curved: outer.curved || hole.curved,
  };
}

/** The ring without folds that end inside the face: it passes them to and fro, and they bend nothing. */
function withoutSpurs(sides: readonly FaceSide[]): readonly FaceSide[] {
  const out: FaceSide[] = [];
  for (const side of sides) {
    if (side.kind === 'fold' && out.at(-1)?.id === side.id) out.pop();
    else out.push(side);
  }
  while (out.length > 1 && out[0]!.kind === 'fold' && out[0]!.id === out.at(-1)!.id) {
    out.shift();
    out.pop();
  }
  return out;
}
