/** Marks on the parts of a stencil: crosses, and ticks where two parts meet. */
import { add, lerp, type Point, ringArea, scaleBy, subtract, turnLeft, unitOf } from '../math';
import type { PanelGuide } from '../model';
import { offsetRings } from '../plane';
import type { Mm } from '../units';
import type { Carrier } from './carriers';
import { carry, insideParts, isInside } from './clip';
import type { Ground } from './ground';
import type { LaidFaces } from './layFlat';
import { crossArm, crossClear, seamTick } from './tolerance';

type Rings = readonly (readonly Point[])[];

/** A part of the stencil before it is cut: the shape on one panel or layer. */
export interface StencilPiece {
  readonly carrier: Carrier;
  readonly group: LaidFaces;
  readonly shape: Rings;
  readonly letter: string;
  readonly id: string;
}

/** Lines are looked at this far within a part: on its very border, rounding decides. */
const within: Mm = 0.2;
/** Parts that meet along less have no tick. */
const shortest: Mm = 1.5;

/** Where two parts meet, at a seam or at the edge of a layer: a tick on each, which meet, with the other's letter. */
export function meetingTicks(ground: Ground, pieces: readonly StencilPiece[]): Map<string, PanelGuide[]> {
  const found = new Map<string, PanelGuide[]>();
  const tick = (own: Spot, other: Spot, id: string) =>
    found.set(own.piece.id, [
      ...(found.get(own.piece.id) ?? []),
      { id: `${own.piece.id}:${id}`, points: own.points, closed: false, label: other.piece.letter },
    ]);
  const meet = (here: Spot | null, there: Spot | null, id: string) => {
    if (!here || !there) return;
    tick(here, there, id);
    tick(there, here, id);
  };
  const homes = new Map<number, StencilPiece[]>();
  for (const piece of pieces)
    for (const f of piece.group.faces) homes.set(f, [...(homes.get(f) ?? []), piece]);
  for (const [face, own] of homes) {
    const { vertices } = ground.patches[face]!;
    vertices.forEach((v, i) => {
      const twin = ground.sideAt(vertices[(i + 1) % vertices.length]!, v);
      if (!twin || twin.face < face) return;
      for (const p of own)
        for (const q of homes.get(twin.face) ?? []) {
          if (p.carrier.panel === q.carrier.panel) continue;
          for (const [from, to] of shared(alongSide(p, face, i), alongSide(q, twin.face, twin.corner)))
            meet(
              spotOn(p, ...sideOf(p, face, i), (from + to) / 2),
              spotOn(q, ...sideOf(q, twin.face, twin.corner), 1 - (from + to) / 2),
              `seam-${face}-${i}`,
            );
        }
    });
  }
  for (const [k, p] of pieces.entries())
    for (const q of pieces.slice(k + 1)) {
      const edge = longestCommon(ground, p, q);
      if (edge) meet(spotOn(p, edge[0], edge[1], 0.5), spotOn(q, edge[3], edge[2], 0.5), `edge-${q.id}`);
    }
  return found;
}

interface Spot {
  readonly piece: StencilPiece;
  readonly points: readonly Point[];
}

const sideOf = ({ group }: StencilPiece, face: number, corner: number): [Point, Point] => {
  const ring = group.rings.get(face)!;
  return [ring[corner]!, ring[(corner + 1) % ring.length]!];
};

/** Stretches of a side of a face that the piece reaches, as parts of the side. */
function alongSide(piece: StencilPiece, face: number, corner: number): [number, number][] {
  const [a, b] = sideOf(piece, face, corner);
  const long = Math.hypot(b.x - a.x, b.y - a.y);
  // The face is to the left of its side.
  const off = scaleBy(turnLeft(unitOf(subtract(b, a))), within);
  const part = (p: Point) => Math.hypot(p.x - a.x - off.x, p.y - a.y - off.y) / long;
  return insideParts(add(a, off), add(b, off), piece.shape)
    .map(([p, q]): [number, number] => [part(p), part(q)])
    .filter(([from, to]) => (to - from) * long > shortest);
}

/** Stretches in both, the other told from the other end. */
const shared = (one: readonly [number, number][], other: readonly [number, number][]): [number, number][] =>
  one.flatMap(([a, b]) =>
    other.flatMap(([c, d]): [number, number][] => {
      const [from, to] = [Math.max(a, 1 - d), Math.min(b, 1 - c)];
      return to - from > 0.02 ? [[from, to]] : [];
    }),
  );

/** A tick from a place of a line into the piece on its left. */
function spotOn(piece: StencilPiece, a: Point, b: Point, t: number): Spot | null {
  const at = lerp(a, b, t);
  const end = add(at, scaleBy(turnLeft(unitOf(subtract(b, a))), seamTick));
  const [own] = insideParts(at, end, piece.shape);
  return own && Math.hypot(own[0].x - at.x, own[0].y - at.y) < 2 * within ? { piece, points: own } : null;
}

/** The longest stretch of outline that two pieces share within a face, on the one (it on the left) and on the other. */
function longestCommon(
  ground: Ground,
  p: StencilPiece,
  q: StencilPiece,
): readonly [Point, Point, Point, Point] | null {
  let best: readonly [Point, Point, Point, Point] | null = null;
  let most = shortest;
  for (const face of p.group.faces) {
    const [here, there] = [p.group.rings.get(face)!, q.group.rings.get(face)];
    if (!there || !ground.patches[face]) continue;
    const across = carry(here, there);
    for (const ring of p.shape)
      ring.forEach((from, i) => {
        const to = ring[(i + 1) % ring.length]!;
        for (const [a, b] of insideParts(from, to, [here])) {
          const long = Math.hypot(b.x - a.x, b.y - a.y);
          if (long <= most) continue;
          const [c, d] = [across(a), across(b)];
          if (!spotOn(q, d, c, 0.5) || !spotOn(p, a, b, 0.5)) continue;
          most = long;
          best = [a, b, c, d];
        }
      });
  }
  return best;
}

/** Two places for crosses, far apart and clear of the edge; one or none on a narrow part. */
export function crossSpots(rings: Rings): Point[] {
  const clear = offsetRings(rings, -crossClear, { kind: 'mitre', limit: 2 }).filter((r) => ringArea(r) > 0);
  const inside = clear.flat().filter((p) => isInside(p, rings));
  const [first] = inside;
  if (!first) return [];
  const farFrom = (p: Point) =>
    inside.reduce(
      (best, q) => (Math.hypot(q.x - p.x, q.y - p.y) > Math.hypot(best.x - p.x, best.y - p.y) ? q : best),
      p,
    );
  const one = farFrom(first);
  const other = farFrom(one);
  return Math.hypot(one.x - other.x, one.y - other.y) > 4 * crossArm ? [one, other] : [one];
}

const arms = ({ x, y }: Point): [Point, Point][] => [
  [
    { x: x - crossArm, y },
    { x: x + crossArm, y },
  ],
  [
    { x, y: y - crossArm },
    { x, y: y + crossArm },
  ],
];

export const crossAt = (at: Point, id: string): PanelGuide[] =>
  arms(at).map((points, k) => ({ id: `${id}-${k}`, points, closed: false, label: '' }));

export function crossesBelow(
  spots: readonly Point[],
  { group, carrier }: StencilPiece,
  id: string,
): [string, PanelGuide[]][] {
  return spots.flatMap((at, k): [string, PanelGuide[]][] => {
    const face = group.faces.find((f) => isInside(at, [group.rings.get(f)!]));
    if (face === undefined) return [];
    const { panel } = carrier;
    const carried = carry(group.rings.get(face)!, carrier.faces.get(face)!.ring);
    const lines = arms(at).map(
      (points, j): PanelGuide => ({
        ...{ id: `${id}:cross-${k}-${j}:on:${panel}`, closed: false, label: '' },
        points: points.map(carried),
      }),
    );
    return [[panel, lines]];
  });
}
