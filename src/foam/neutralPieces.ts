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
  dot,
  type Point,
  type Point3,
  point,
  rotate,
  scaleBy,
  subtract,
} from '../math';
import type { Piece } from '../model';
import { offsetPlaces } from '../shell';
import type { Mm } from '../units';
import { flatPiece } from './flatDrawing';
import { flatAxes, flatMisfit, framesOf } from './flatFaces';
import { meansOf, nodesOf, placeAcrossFolds } from './flatNodes';
import { type DrawnStretch, type NeutralStretch, stretchesOf } from './neutralOutline';
import { dartSides, dartsRound, type FoundDart, openDarts } from './openDarts';
import { nearest, settleFlat } from './settleFlat';
import { ringSlack } from './tolerance';
import { isCurve, missOf, type UnfoldInput, wantedLengths } from './wantedLengths';

/** A corner of a face at a flat corner, with the face's flat axes in space. */
export interface FanFace {
  readonly face: number;
  readonly x: Point3;
  readonly y: Point3;
  readonly normal: Point3;
  /** How far the flat face, laid on its place in space, has the corner from there: what spreading a ring did to it. */
  readonly off: Point3;
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

/** Seen from outside: rings drawn from inside are turned over. */
function outward(ring: readonly Point[]): readonly Point[] {
  return twiceArea(ring) < 0 ? ring.map((p) => point(-p.x, p.y)) : ring;
}

const twiceArea = (ring: readonly Point[]): number =>
  ring.reduce((sum, p, i) => sum + cross(p, ring[(i + 1) % ring.length]!), 0);

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
