import { DisjointSets, type Point, polylineLength } from '../math';
import type { Pattern, Seam, Seams } from '../model';
import type { Rad } from '../units';
import { type Chain, type Ring, ringsOf } from './rings';
import { cutAlongRulings } from './ruledSheets';
import { edgesOf } from './sides';
import { divideEdges, partOn, type Span, seamOnEdge } from './spans';
import type { RuledStrip } from './stripRows';
import { cutCurvedFaces } from './strips';

/**
 * Glues the faces of a pattern along its folds and seams into one surface: corners that meet become one vertex. A
 * corner is only ever joined along a fold or a seam, so the faces round a vertex always form one fan. Seams that would
 * make no surface (an edge in two seams, a face folded onto itself, three faces on one edge) are left out, the least
 * certain first. Pieces that an `along` seam shows to be drawn from inside are turned over.
 */
export interface GluedFace {
  readonly piece: string;
  readonly face: string;
  /** Number of the part where the face was cut into several, see `stripsOf` and `cutRoundHole`. */
  readonly part?: number;
  /** A strip of a face that curves bound: it may bend against the other strips. */
  readonly bends?: boolean;
  /** Beside `bends`: cut along its rulings, see `cutAlongRulings`. */
  readonly strip?: RuledStrip;
  /** Counter-clockwise seen from outside. */
  readonly vertices: readonly number[];
  /** As folded: mirrored where the piece was drawn from inside. */
  readonly flat: readonly Point[];
  /** As drawn. */
  readonly drawn: readonly Point[];
  /** Fold or edge id of the side from corner i to corner i + 1; empty between strips of one face. */
  readonly sideIds: readonly string[];
  /** The seam that glues the side, null where it is a fold or open. */
  readonly seamIds: readonly (string | null)[];
}

export interface GluedSurface {
  readonly vertexCount: number;
  readonly faces: readonly GluedFace[];
  /** The same with every face in one and without holes, corners included that its curves are split at. */
  readonly whole: readonly GluedFace[];
  /** +1 mountain, −1 valley seen from outside, 0 unknown. */
  readonly foldSign: ReadonlyMap<string, number>;
  /** The bend that the file gives a fold, + convex seen from outside. */
  readonly givenBend: ReadonlyMap<string, Rad>;
  /** First and last vertex of each edge of a piece. */
  readonly endsOfEdge: ReadonlyMap<string, readonly [number, number]>;
  readonly leftOut: readonly { readonly seam: Seam; readonly why: 'edge-taken' | 'no-surface' | 'no-face' }[];
  readonly turnedOver: readonly string[];
  /** Faces that are no polygon: fewer than three corners. */
  readonly unusable: readonly string[];
}

/** Surest first: the person's word, then confidence, then sides that agree in length. */
function bySureness(
  seams: readonly Seam[],
  edges: ReadonlyMap<string, { points: readonly Point[] }>,
): Seam[] {
  const misfit = new Map(
    seams.map((seam) => {
      const a = edges.get(seam.a.edge);
      const b = edges.get(seam.b.edge);
      return [seam, a && b ? Math.abs(polylineLength(a.points) - polylineLength(b.points)) : 0];
    }),
  );
  return [...seams].sort(
    (a, b) =>
      Number(b.evidence === 'person') - Number(a.evidence === 'person') ||
      b.confidence - a.confidence ||
      misfit.get(a)! - misfit.get(b)! ||
      (a.id < b.id ? -1 : 1),
  );
}

export function glueFaces(pattern: Pattern, seams: Seams): GluedSurface {
  const edges = edgesOf(pattern);
  const divided = divideEdges(edges, bySureness(seams.seams, edges));
  const { spansOf } = divided;
  const leftOut: { seam: Seam; why: 'edge-taken' | 'no-surface' | 'no-face' }[] = [...divided.leftOut];
  let chosen = divided.chosen;

  const { rings, chains, joins, cornerCount, unusable } = ringsOf(pattern, edges, spansOf);
  const hasFace = (edge: string) => chains.has(edge);
  chosen = chosen.filter((seam) => {
    if (hasFace(seam.a.edge) && hasFace(seam.b.edge)) return true;
    leftOut.push({ seam, why: 'no-face' });
    return false;
  });

  const turned = turnPieces(pattern, edges, chosen);
  for (const seam of turned.against) leftOut.push({ seam, why: 'no-surface' });
  const against = new Set(turned.against);
  chosen = chosen.filter((seam) => !against.has(seam));

  let vertexOf = unite(chains, spansOf, joins, cornerCount, pattern, chosen);
  for (;;) {
    const bad = sorePoints(rings, vertexOf, turned.over);
    if (bad.size === 0) break;
    // The least certain seam at a sore point goes; without one there, the drawing itself is at fault.
    const worst = [...chosen]
      .reverse()
      .find((seam) =>
        chainsOfSeam(chains, spansOf, seam).some((chain) => chain.some((c) => bad.has(vertexOf[c]!))),
      );
    if (!worst) {
      const faces = rings.filter((r) => r.corners.some((c) => bad.has(vertexOf[c]!)));
      unusable.push(...faces.map((r) => r.face));
      for (const r of faces) rings.splice(rings.indexOf(r), 1);
      continue;
    }
    leftOut.push({ seam: worst, why: 'no-surface' });
    chosen = chosen.filter((seam) => seam !== worst);
    vertexOf = unite(chains, spansOf, joins, cornerCount, pattern, chosen);
  }

  const number = new Map<number, number>();
  const nameVertex = (corner: number) => {
    const root = vertexOf[corner]!;
    if (!number.has(root)) number.set(root, number.size);
    return number.get(root)!;
  };
  const glued = new Set(chosen.map((s) => s.id));
  const asFace = (ring: Ring): GluedFace & { readonly bends: boolean } => {
    const over = turned.over.has(ring.piece);
    const vertices = ring.corners.map(nameVertex);
    const flat = ring.points.map((p) => (over ? { x: -p.x, y: p.y } : p));
    const common = {
      piece: ring.piece,
      face: ring.face,
      ...(ring.part === undefined ? {} : { part: ring.part }),
      bends: ring.curved,
    };
    const seamIds = ring.seams.map((seam) => (seam && glued.has(seam.id) ? seam.id : null));
    if (!over) return { ...common, vertices, flat, drawn: ring.points, sideIds: ring.sideIds, seamIds };
    const n = vertices.length;
    return {
      ...common,
      vertices: vertices.reverse(),
      flat: flat.reverse(),
      drawn: [...ring.points].reverse(),
      sideIds: ring.sideIds.map((_, i) => ring.sideIds[(2 * n - 2 - i) % n]!),
      seamIds: seamIds.map((_, i) => seamIds[(2 * n - 2 - i) % n]!),
    };
  };
  const uncut = rings.map(asFace);
  const whole = rings.flatMap((ring): GluedFace[] => {
    if ((ring.part ?? 0) > 0) return [];
    const { bends: _, ...face } = asFace(ring.outline ?? ring);
    return [face];
  });
  const plain = new Set(pattern.pieces.flatMap((p) => p.folds.flatMap((f) => (f.plain ? [f.id] : []))));
  const ruled = cutAlongRulings(uncut, number.size, edges, plain);
  const faces = cutCurvedFaces(ruled.faces);
  const foldSign = new Map<string, number>();
  const givenBend = new Map<string, Rad>();
  for (const piece of pattern.pieces)
    for (const fold of piece.folds) {
      const drawn = fold.role === 'mountain' ? 1 : fold.role === 'valley' ? -1 : 0;
      const over = turned.over.has(piece.id) ? -1 : 1;
      foldSign.set(fold.id, over * drawn);
      if (fold.givenBend !== undefined) givenBend.set(fold.id, over * fold.givenBend);
    }
  const endsOfEdge = new Map<string, readonly [number, number]>();
  for (const id of edges.keys()) {
    const chain = chains.get(id)?.[0];
    if (chain && number.has(vertexOf[chain[0]!]!) && number.has(vertexOf[chain.at(-1)!]!))
      endsOfEdge.set(id, [nameVertex(chain[0]!), nameVertex(chain.at(-1)!)]);
  }
  return {
    vertexCount: ruled.vertexCount,
    faces,
    whole,
    foldSign,
    givenBend,
    endsOfEdge,
    leftOut,
    turnedOver: [...turned.over],
    unusable,
  };
}

/** The corners of a seam's two sides, each along its own edge. */
function chainsOfSeam(
  chains: ReadonlyMap<string, Chain[]>,
  spansOf: ReadonlyMap<string, readonly Span[]>,
  seam: Seam,
): [Chain, Chain] {
  const same = seam.a.edge === seam.b.edge;
  // Two sides on one edge stand there in the order of their parts.
  const later = same && (partOn(seam, seam.a)?.[0] ?? 0) > (partOn(seam, seam.b)?.[0] ?? 0) ? seam.a : seam.b;
  const chainOf = (side: Seam['a']): Chain => {
    const range = seamOnEdge(spansOf.get(side.edge)!, seam, same && side === later);
    return range ? chains.get(side.edge)![0]!.slice(range[0], range[1] + 1) : [];
  };
  return [chainOf(seam.a), chainOf(seam.b)];
}

/** The vertex (by its lowest corner) of each corner. */
function unite(
  chains: ReadonlyMap<string, Chain[]>,
  spansOf: ReadonlyMap<string, readonly Span[]>,
  joins: readonly (readonly [number, number])[],
  cornerCount: number,
  pattern: Pattern,
  seams: readonly Seam[],
): Int32Array {
  const union = new DisjointSets(cornerCount);
  for (const [c, d] of joins) union.join(c, d);
  for (const piece of pattern.pieces)
    for (const fold of piece.folds) {
      const [left, right] = chains.get(fold.id) ?? [];
      if (left && right && fold.left !== fold.right)
        for (const [i, c] of left.entries()) union.join(c, right[i]!);
    }
  for (const seam of seams) {
    const [a, b] = chainsOfSeam(chains, spansOf, seam);
    for (const [i, c] of a.entries())
      union.join(c, seam.direction === 'opposed' ? b[b.length - 1 - i]! : b[i]!);
  }
  return Int32Array.from({ length: cornerCount }, (_, c) => union.find(c));
}

/** Vertices where the faces make no surface: a face twice at one vertex, or more than two faces at a side. */
function sorePoints(
  rings: readonly Ring[],
  vertexOf: Int32Array,
  over: ReadonlySet<string>,
): ReadonlySet<number> {
  const bad = new Set<number>();
  const used = new Map<number, number>();
  for (const ring of rings) {
    const n = ring.corners.length;
    const seen = new Set<number>();
    for (let i = 0; i < n; i++) {
      const v = vertexOf[ring.corners[i]!]!;
      if (seen.has(v)) bad.add(v);
      seen.add(v);
      const w = vertexOf[ring.corners[(i + 1) % n]!]!;
      const [a, b] = over.has(ring.piece) ? [w, v] : [v, w];
      // Each directed side may be used once.
      const key = a * vertexOf.length + b;
      if (used.has(key)) {
        bad.add(v);
        bad.add(w);
      }
      used.set(key, 1);
    }
  }
  return bad;
}

/**
 * Which pieces must be turned over so that every seam joins outside to outside. The larger part of each connected
 * group of pieces stays as drawn.
 */
function turnPieces(
  pattern: Pattern,
  edges: ReadonlyMap<string, { piece: string }>,
  seams: readonly Seam[],
): { over: ReadonlySet<string>; against: Seam[] } {
  const parent = new Map(pattern.pieces.map((p) => [p.id, { up: p.id, odd: false }]));
  const find = (id: string): { root: string; odd: boolean } => {
    let odd = false;
    let at = id;
    for (let link = parent.get(at)!; link.up !== at; link = parent.get(at)!) {
      odd = odd !== link.odd;
      at = link.up;
    }
    return { root: at, odd };
  };
  const against: Seam[] = [];
  for (const seam of seams) {
    const a = find(edges.get(seam.a.edge)!.piece);
    const b = find(edges.get(seam.b.edge)!.piece);
    const differ = seam.direction === 'along';
    if (a.root === b.root) {
      if ((a.odd !== b.odd) !== differ) against.push(seam);
    } else parent.set(b.root, { up: a.root, odd: (a.odd !== b.odd) !== differ });
  }
  const size = new Map<string, { odd: number; even: number }>();
  for (const piece of pattern.pieces) {
    const { root, odd } = find(piece.id);
    const s = size.get(root) ?? { odd: 0, even: 0 };
    s[odd ? 'odd' : 'even'] += piece.faces.length;
    size.set(root, s);
  }
  const over = new Set<string>();
  for (const piece of pattern.pieces) {
    const { root, odd } = find(piece.id);
    const s = size.get(root)!;
    if (odd === s.odd <= s.even) over.add(piece.id);
  }
  return { over, against };
}
