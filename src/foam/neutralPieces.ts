/**
 * The faces of one piece or panel laid flat from its neutral surface, at its final size: face by face across its folds,
 * exact where no ring of faces closes round an inner corner. Where one does, or where faces are not quite flat, the
 * misfit is spread by least squares in which outline edges are stiff, so that mates keep equal lengths.
 */
import {
  add,
  alongMovedSide,
  cross,
  distance,
  distance3,
  dot,
  type Point,
  type Point3,
  point,
  polylineLength,
  rotate,
  scaleBy,
  subtract,
} from '../math';
import type { Edge, Pattern, Piece, Seam, Seams } from '../model';
import { offsetPlaces } from '../shell';
import type { Mm } from '../units';
import { drawnPart, orderAlong } from './drawnLines';
import { type FaceFrame, flatAxes, flatMisfit, framesOf } from './flatFaces';
import { dartSides, dartsRound, type FoundDart, openDarts } from './openDarts';
import { nearest, settleFlat, type WantedLength } from './settleFlat';
import { type FoamNet, innerNeighbour, type NetSide } from './surface';
import { outlineStiffness, ringSlack } from './tolerance';

/** A corner of a face at a flat corner, with the face's flat axes in space. */
export interface FanFace {
  readonly face: number;
  readonly x: Point3;
  readonly y: Point3;
  readonly normal: Point3;
  /** How far the flat face, laid on its place in space, has the corner from there: what spreading a ring did to it. */
  readonly off: Point3;
}

/** A stretch of the outline along one side of a face, in the direction of the drawn outline. */
export interface NeutralStretch {
  readonly edge: string;
  readonly side: NetSide;
  readonly startVertex: number;
  readonly endVertex: number;
  readonly startNode: number;
  readonly endNode: number;
  /** Both ends included; points between the ends where the edge is a curve. */
  readonly points: readonly Point[];
}

export interface NeutralPiece {
  readonly id: string;
  /** Height of the neutral surface above the paper, + outward. */
  readonly depth: Mm;
  /** Places of the shell's vertices on that surface. */
  readonly places: readonly Point3[];
  /** Outline first, then the holes, in the order of the drawn loops. */
  readonly loops: readonly (readonly NeutralStretch[])[];
  /** Flat corners, as drawn (mirrored when `over`). */
  readonly corners: readonly Point[];
  /** Which corners each face has, in the order of its vertices. */
  readonly faces: readonly { readonly patch: number; readonly ring: readonly number[] }[];
  /** Faces round each flat corner. */
  readonly fans: readonly (readonly FanFace[])[];
  /** The piece with its edges, folds and faces where they lie now; ids unchanged. */
  readonly flat: Piece;
  /** Darts that were given a width, with the flat corners before they were opened. */
  readonly darts: readonly FoundDart[];
  /** Drawn from inside: flat it is the mirror image of what is seen from outside. */
  readonly over: boolean;
  /** Largest change of a length inside the panel that spreading a ring took; 0 where everything lies flat by itself. */
  readonly spread: Mm;
  /** Largest change of the length of an outline edge. */
  readonly misfit: Mm;
}

/** What all pieces of a run share. */
export interface UnfoldInput {
  readonly net: FoamNet;
  /** The pattern that the shell was folded from. */
  readonly drawn: Pattern;
  readonly seams: Seams;
}

/**
 * Unfolds one piece.
 * @param faces its faces in the net (`facesOfPiece`)
 * @param target the piece as it lies on the scaled drawing: a hint where and how to lay the result
 */
export function neutralPiece(
  { net, drawn, seams }: UnfoldInput,
  faces: readonly number[],
  target: Piece,
  depth: Mm,
): NeutralPiece {
  const places = offsetPlaces(net.places, net.vectors, depth);
  const frames = framesOf(net, faces, places);
  const nodes = nodesOf(net, faces);
  const piece = drawn.pieces.find((p) => p.id === target.id) ?? target;
  const edges = new Map([...piece.outline, ...piece.holes.flat()].map((e) => [e.id, e]));
  const bent = faces.some((f) => net.patches[f]!.part !== undefined) || [...edges.values()].some(isCurve);
  const rings = faces.map((f) => nodes.of.get(f)!);
  const wanted = wantedLengths({ net, drawn, seams }, faces, frames, nodes, places, bent);
  const placed = placeAcrossFolds(net, faces, frames);
  let start: readonly Point[] = meansOf(nodes.count, rings, placed);
  let gap = 0;
  rings.forEach((ring, k) => {
    ring.forEach((node, i) => {
      gap = Math.max(gap, distance(start[node]!, placed[k]![i]!));
    });
  });
  if (bent) {
    const drawnFaces = faces.map((f) => outward(net.patches[f]!.flat));
    // Strips between rulings lie flat from space as exactly as straight faces do. From the drawing the first step is
    // millimetres long, and turns a shorter side round for good: one of 0.15 mm on the Keel bracer.
    start = nearest([start, meansOf(nodes.count, rings, drawnFaces)], wanted);
  }
  const rough = missOf(start, wanted, (w) => w.weight > 1);
  const settled = bent || gap > ringSlack || rough > ringSlack ? settleFlat(start, wanted) : start;
  const over = faces.reduce((sum, f) => sum + twiceArea(net.patches[f]!.flat), 0) < 0;
  const stretches = stretchesOf(net, faces, nodes, edges, over);
  const posed = pose(over ? settled.map((p) => point(-p.x, p.y)) : settled, stretches, target);
  const sides = dartSides(seams);
  const darts = [piece.outline, ...piece.holes].flatMap((loop) =>
    dartsRound(
      loop.flatMap((edge) => stretches.get(edge.id) ?? []),
      sides,
    ),
  );
  const flat = openDarts(posed, darts);
  const shapes = faces.map((f, k) => ({ f, ring: rings[k]!.map((n) => flat[n]!), frame: frames[k]! }));
  const fans: FanFace[][] = Array.from({ length: nodes.count }, () => []);
  shapes.forEach(({ f, ring, frame }, k) => {
    const axes = flatAxes(frame, ring, over);
    const off = flatMisfit(
      frame,
      rings[k]!.map((n) => posed[n]!),
      over,
    );
    rings[k]!.forEach(
      (node, i) => void fans[node]!.push({ face: f, ...axes, normal: frame.normal, off: off[i]! }),
    );
  });
  const laid = (list: readonly DrawnStretch[]) =>
    list.map((s): NeutralStretch => {
      const ends = { a: s.from, b: s.to, newA: flat[s.startNode]!, newB: flat[s.endNode]! };
      return {
        edge: s.edge,
        side: s.side,
        startVertex: s.startVertex,
        endVertex: s.endVertex,
        startNode: s.startNode,
        endNode: s.endNode,
        points: [ends.newA, ...s.between.map((p) => alongMovedSide(p, ends)), ends.newB],
      };
    });
  const loops = [piece.outline, ...piece.holes].map((loop) =>
    loop.flatMap((edge) => laid(stretches.get(edge.id) ?? [])),
  );
  return {
    id: target.id,
    depth,
    places,
    loops,
    corners: flat,
    faces: faces.map((patch, k) => ({ patch, ring: rings[k]! })),
    fans,
    flat: flatPiece(net, faces, nodes, flat, piece, target, loops, over),
    over,
    darts: darts.map((dart) => ({ dart, corners: posed })),
    spread: settled === start ? 0 : missOf(settled, wanted, () => true),
    misfit: missOf(settled, wanted, (w) => w.weight > 1),
  };
}

export const isCurve = (edge: Edge): boolean => edge.points.length > 2;

/** Seen from outside: rings drawn from inside are turned over. */
function outward(ring: readonly Point[]): readonly Point[] {
  return twiceArea(ring) < 0 ? ring.map((p) => point(-p.x, p.y)) : ring;
}

const twiceArea = (ring: readonly Point[]): number =>
  ring.reduce((sum, p, i) => sum + cross(p, ring[(i + 1) % ring.length]!), 0);

/** Corners of the faces that are one corner of the flat panel share a number. */
interface Nodes {
  readonly count: number;
  readonly of: ReadonlyMap<number, readonly number[]>;
}

function nodesOf(net: FoamNet, faces: readonly number[]): Nodes {
  const first = new Map<number, number>();
  let corners = 0;
  for (const f of faces) {
    first.set(f, corners);
    corners += net.patches[f]!.vertices.length;
  }
  const root = Array.from({ length: corners }, (_, i) => i);
  const find = (i: number): number => {
    let r = i;
    while (root[r] !== r) r = root[r]!;
    root[i] = r;
    return r;
  };
  const join = (a: number, b: number) => {
    const [p, q] = [find(a), find(b)];
    if (p !== q) root[Math.max(p, q)] = Math.min(p, q);
  };
  const corner = (f: number, i: number) => first.get(f)! + (i % net.patches[f]!.vertices.length);
  for (const f of faces)
    for (const side of net.sides[f]!) {
      const other = innerNeighbour(net, side);
      if (!other) continue;
      join(corner(f, side.corner), corner(other.face, other.corner + 1));
      join(corner(f, side.corner + 1), corner(other.face, other.corner));
    }
  const number = new Map<number, number>();
  const of = new Map<number, number[]>();
  for (const f of faces)
    of.set(
      f,
      net.patches[f]!.vertices.map((_, i) => {
        const r = find(corner(f, i));
        if (!number.has(r)) number.set(r, number.size);
        return number.get(r)!;
      }),
    );
  return { count: number.size, of };
}

/** Breadth first from the first face, each laid against the face it was reached from. */
function placeAcrossFolds(net: FoamNet, faces: readonly number[], frames: readonly FaceFrame[]): Point[][] {
  const order = new Map(faces.map((f, k) => [f, k]));
  const placed: (Point[] | null)[] = faces.map(() => null);
  placed[0] = [...frames[0]!.local];
  const queue = [0];
  for (const k of queue) {
    const own = placed[k]!;
    for (const side of net.sides[faces[k]!]!) {
      const other = innerNeighbour(net, side);
      const m = other ? order.get(other.face)! : -1;
      if (!other || placed[m]) continue;
      const shape = frames[m]!.local;
      const a = shape[other.corner]!;
      const b = shape[(other.corner + 1) % shape.length]!;
      const newA = own[(side.corner + 1) % own.length]!;
      const newB = own[side.corner]!;
      const turn = Math.atan2(newB.y - newA.y, newB.x - newA.x) - Math.atan2(b.y - a.y, b.x - a.x);
      const middle = scaleBy(add(a, b), 0.5);
      const goal = scaleBy(add(newA, newB), 0.5);
      placed[m] = shape.map((p) => add(goal, rotate(subtract(p, middle), turn)));
      queue.push(m);
    }
  }
  return placed.map((ring) => ring!);
}

function meansOf(
  count: number,
  rings: readonly (readonly number[])[],
  poses: readonly (readonly Point[])[],
): Point[] {
  const sums = Array.from({ length: count }, () => ({ x: 0, y: 0, n: 0 }));
  rings.forEach((ring, k) => {
    ring.forEach((node, i) => {
      const s = sums[node]!;
      const p = poses[k]![i]!;
      s.x += p.x;
      s.y += p.y;
      s.n += 1;
    });
  });
  return sums.map(({ x, y, n }) => point(x / n, y / n));
}

const missOf = (
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
function wantedLengths(
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

/** A stretch of the outline as drawn. */
interface DrawnStretch extends Omit<NeutralStretch, 'points'> {
  readonly from: Point;
  readonly to: Point;
  readonly between: readonly Point[];
}

/** The stretches of each outline edge in drawn order. */
function stretchesOf(
  net: FoamNet,
  faces: readonly number[],
  nodes: Nodes,
  edges: ReadonlyMap<string, Edge>,
  over: boolean,
): Map<string, DrawnStretch[]> {
  const byEdge = new Map<string, DrawnStretch[]>();
  for (const f of faces) {
    const { flat, vertices } = net.patches[f]!;
    const ring = nodes.of.get(f)!;
    for (const side of net.sides[f]!) {
      if (side.edge === null) continue;
      const i = side.corner;
      const j = (i + 1) % vertices.length;
      const [s, e] = over ? [j, i] : [i, j];
      const stretch = {
        edge: side.edge,
        side,
        startVertex: vertices[s]!,
        endVertex: vertices[e]!,
        startNode: ring[s]!,
        endNode: ring[e]!,
        from: flat[s]!,
        to: flat[e]!,
        between: [],
      };
      byEdge.set(side.edge, [...(byEdge.get(side.edge) ?? []), stretch]);
    }
  }
  return new Map(
    [...byEdge].map(([id, list]) => {
      const line = edges.get(id)?.points ?? [];
      const ordered = list.length > 1 ? orderAlong(line, list) : list;
      return [
        id,
        ordered.map((s) => ({ ...s, between: line.length > 2 ? drawnPart(line, s.from, s.to) : [] })),
      ];
    }),
  );
}

/** Turned and moved as a whole to lie where the piece lies on the drawing: least squares over the starts of its edges. */
function pose(
  at: readonly Point[],
  stretches: ReadonlyMap<string, readonly DrawnStretch[]>,
  target: Piece,
): Point[] {
  const pairs = [...target.outline, ...target.holes.flat()].flatMap((edge) => {
    const first = stretches.get(edge.id)?.[0];
    return first ? [{ from: at[first.startNode]!, to: edge.points[0]! }] : [];
  });
  if (pairs.length === 0) return [...at];
  const middle = (of: 'from' | 'to') =>
    scaleBy(
      pairs.reduce((sum, pair) => add(sum, pair[of]), point(0, 0)),
      1 / pairs.length,
    );
  const from = middle('from');
  const to = middle('to');
  let c = 0;
  let s = 0;
  for (const pair of pairs) {
    const a = subtract(pair.from, from);
    const b = subtract(pair.to, to);
    c += dot(a, b);
    s += cross(a, b);
  }
  const angle = Math.atan2(s, c);
  return at.map((p) => add(to, rotate(subtract(p, from), angle)));
}

/** The piece where it lies now; what has no place in the net (a fold that ends inside a face) goes with its ends. */
function flatPiece(
  net: FoamNet,
  faces: readonly number[],
  nodes: Nodes,
  flat: readonly Point[],
  drawn: Piece,
  target: Piece,
  loops: readonly (readonly NeutralStretch[])[],
  over: boolean,
): Piece {
  const byEdge = new Map<string, Point[]>();
  for (const { edge, points } of loops.flat()) {
    const line = byEdge.get(edge);
    if (line) line.push(...points.slice(1));
    else byEdge.set(edge, [...points]);
  }
  const edge = (e: Edge): Edge => ({ ...e, points: byEdge.get(e.id) ?? e.points });
  const foldLines = new Map<string, DrawnStretch[]>();
  for (const f of faces) {
    const { flat: drawnRing, vertices } = net.patches[f]!;
    const ring = nodes.of.get(f)!;
    for (const side of net.sides[f]!) {
      const other = innerNeighbour(net, side);
      if (!other || other.face < f || drawn.folds.every((fold) => fold.id !== side.id)) continue;
      const i = side.corner;
      const j = (i + 1) % vertices.length;
      const one = {
        edge: side.id,
        side,
        startVertex: vertices[i]!,
        endVertex: vertices[j]!,
        startNode: ring[i]!,
        endNode: ring[j]!,
        from: drawnRing[i]!,
        to: drawnRing[j]!,
        between: [],
      };
      foldLines.set(side.id, [...(foldLines.get(side.id) ?? []), one]);
    }
  }
  const mapFold = (id: string, points: readonly Point[]): readonly Point[] => {
    const list = foldLines.get(id);
    if (!list) return points;
    const forward = list.map((s) => {
      const ahead = dot(subtract(s.to, s.from), subtract(points.at(-1)!, points[0]!)) >= 0;
      return ahead
        ? { ...s, newA: flat[s.startNode]!, newB: flat[s.endNode]! }
        : { ...s, from: s.to, to: s.from, newA: flat[s.endNode]!, newB: flat[s.startNode]! };
    });
    return orderAlong(points, forward).flatMap((s, k) => {
      const ends = { a: s.from, b: s.to, newA: s.newA, newB: s.newB };
      const between = points.length > 2 ? drawnPart(points, s.from, s.to) : [];
      return [...(k === 0 ? [s.newA] : []), ...between.map((p) => alongMovedSide(p, ends)), s.newB];
    });
  };
  const ringsOfFace = new Map<string, Point[]>();
  for (const f of faces) {
    const { face } = net.patches[f]!;
    const ring = nodes.of.get(f)!.map((n) => flat[n]!);
    ringsOfFace.set(face, [...(ringsOfFace.get(face) ?? []), ...(over ? [...ring].reverse() : ring)]);
  }
  return {
    ...target,
    outline: drawn.outline.map(edge),
    holes: drawn.holes.map((hole) => hole.map(edge)),
    folds: drawn.folds.map((fold) => ({ ...fold, points: mapFold(fold.id, fold.points) })),
    faces: drawn.faces.map((face) => ({
      ...face,
      polygon: ringsOfFace.get(face.id) ?? face.polygon,
      holes: [],
    })),
  };
}
