/**
 * How far apart the two notches of a pair come to lie along their seam once their panels are bent and put up on the
 * shell, at the depth where the seam is glued: by the places that the dry fit gives to the corners of the flat panels, not
 * by those that the notches were chosen with.
 */
import { cornerAt, moveAt, type PlacedPanel, placePanel } from '../../src/dryfit/placing';
import type { FoamSurface } from '../../src/foam';
import { markPanels } from '../../src/marks';
import {
  add,
  add3,
  distance,
  dot,
  dot3,
  lerp,
  type Point,
  type Point3,
  polylineLength,
  scaleBy3,
  subtract,
  subtract3,
  unitOf3,
} from '../../src/math';
import { type BendModel, defaultDecisions, type FoamResult, type Seams } from '../../src/model';
import { offsetVectors } from '../../src/shell';
import { testFont } from '../support/lettering';

export interface NotchPair {
  readonly seam: string;
  /** How far the second lies past the first along the seam, mm. */
  readonly apart: Readonly<Record<BendModel, number>>;
  /** How far the nearer corner of its edge is from the notch that is nearest to one; below zero beyond it. */
  readonly fromCorner: number;
  /** Whether the pair before it on the same edge comes before it on both sides. */
  readonly inOrder: boolean;
}

interface Lying {
  readonly at: Readonly<Record<BendModel, Point3>>;
  readonly along: number;
  readonly length: number;
  readonly way: Point3;
}

/** @param traced the skin that notches are drawn on */
export function notchPairs(
  foam: FoamResult,
  seams: Seams,
  surface: Pick<FoamSurface, 'shell' | 'places'>,
  traced: 'inside' | 'outside',
): NotchPair[] {
  const { shell, places } = surface;
  const on = {
    patches: shell.faces,
    places,
    vectors: offsetVectors({ vertices: places, faces: shell.faces }),
  };
  const rows = new Map(foam.rows.map((row) => [row.seam, row]));
  const found = new Map<string, Map<string, Lying[]>>();
  for (const { panel, notches } of markPanels(foam, seams, defaultDecisions.marks, testFont()).panels) {
    if (!panel.body) continue;
    const placed = placePanel(panel.id, panel.body, on);
    const lengths = new Map(panel.loops.flat().map((e) => [e.id, polylineLength(e.points)]));
    for (const notch of notches) {
      const edges = found.get(notch.seam) ?? new Map<string, Lying[]>();
      found.set(notch.seam, edges);
      const lying = {
        ...onShell(placed, notch.at, rows.get(notch.seam)!, traced, surface),
        along: notch.along,
        length: lengths.get(notch.edge)!,
      };
      edges.set(notch.edge, [...(edges.get(notch.edge) ?? []), lying]);
    }
  }
  return [...found].flatMap(([seam, edges]) => {
    const [one, two] = [...edges.values()];
    if (edges.size !== 2 || one!.length !== two!.length) throw new Error('a notch without its mate');
    return one!.map((own, i): NotchPair => {
      const other = two![i]!;
      const apart = (model: BendModel) => dot3(subtract3(other.at[model], own.at[model]), own.way);
      return {
        seam,
        apart: { rigid: apart('rigid'), mitre: apart('mitre') },
        fromCorner: Math.min(...[own, other].flatMap(({ along, length }) => [along, length - along])),
        inOrder: i === 0 || (own.along > one![i - 1]!.along && other.along > two![i - 1]!.along),
      };
    });
  });
}

type Line = readonly [Point, Point];

const partOf = (at: Point, [p, q]: Line): number =>
  dot(subtract(at, p), subtract(q, p)) / dot(subtract(q, p), subtract(q, p));

const offLine = (at: Point, [p, q]: Line): number =>
  distance(at, lerp(p, q, Math.min(1, Math.max(0, partOf(at, [p, q])))));

/** Where a place on the traced edge of a panel comes to lie, square through the foam, where the seam is glued. */
export function onShell(
  placed: PlacedPanel,
  place: Point,
  { seam: glued, touches }: FoamResult['rows'][number],
  traced: 'inside' | 'outside',
  { shell, places }: Pick<FoamSurface, 'shell' | 'places'>,
): Pick<Lying, 'at' | 'way'> {
  const { body } = placed;
  const line = (face: number, side: number, height: number): Line => {
    const { ring } = body.faces[face]!;
    const [p, q] = [0, 1].map((k) => {
      const node = ring[(side + k) % ring.length]!;
      return add(body.corners[node]!, moveAt(body, node, height));
    });
    return [p!, q!];
  };
  const near = body.outline
    .filter(({ seam }) => seam === glued)
    .map((o) => ({ ...o, off: offLine(place, line(o.face, o.side, body.heights[traced])) }))
    .sort((p, q) => p.off - q.off)[0]!;
  const height = body.heights[touches === 'both' ? traced : touches];
  const part = partOf(place, line(near.face, near.side, height));
  const at = (model: BendModel): Point3 => {
    const [from, to] = [0, 1].map((k) => cornerAt(placed, near.face, near.side + k, height, model));
    return add3(from!, scaleBy3(subtract3(to!, from!), part));
  };
  const { vertices } = shell.faces[body.faces[near.face]!.patch]!;
  const [from, to] = [0, 1].map((k) => places[vertices[(near.side + k) % vertices.length]!]!);
  return { at: { rigid: at('rigid'), mitre: at('mitre') }, way: unitOf3(subtract3(to!, from!)) };
}
