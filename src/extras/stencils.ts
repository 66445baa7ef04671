/**
 * Stencils for painting: what an outline encloses, true to size on the skin that is painted, in parts that end at seams.
 * Each part has a letter; ticks at seams carry the letter of the part beyond, and meet it; crosses are on the part and on
 * the panel.
 */
import { lerp, type Point, ringArea } from '../math';
import { extraPanelId, type LaidOnShell, type PanelGuide, type StencilPart } from '../model';
import { intersectRings, offsetRings, subtractRings } from '../plane';
import type { Mm } from '../units';
import type { FlatPart } from './asPanel';
import { carry, insideParts, isInside } from './clip';
import type { Ground, Seat } from './ground';
import { outlineFindings, piecesWithin, skinOf } from './layers';
import { connected, type LaidFaces, layFlat } from './layFlat';
import { foldsOf, placement } from './onPanels';
import { finding, type MadePart, stuck } from './part';
import { type Drawing, faceByFace, type Region, regionOf, regionOn } from './regions';
import { covering, type Laid } from './stack';
import { crossArm, crossClear, flatMisfit, sagitta, seamTick, stencilThickness } from './tolerance';

type Rings = readonly (readonly Point[])[];

/** A part of the stencil before it is cut: the shape on one panel. */
interface Piece {
  readonly panel: string;
  readonly group: LaidFaces;
  readonly shape: Rings;
  readonly letter: string;
  readonly id: string;
  readonly below: ReadonlyMap<number, Pick<Seat, 'panel' | 'ring'>>;
}

export function makeStencil(part: StencilPart, ground: Ground, drawing: Drawing, laid: Laid): MadePart {
  const first = regionOf(ground, drawing, part.outline, 0);
  if ('refused' in first) return stuck(part, first.refused, first.wayOut);
  const skin = skinOf(ground, laid, part.side, first);
  if (!skin)
    return stuck(part, 'no panel under it is on the folded shell', 'Place it on a panel of the shell.');
  const region = regionOf(ground, drawing, part.outline, skin.height);
  if ('refused' in region) return stuck(part, region.refused, region.wayOut);
  const found: Omit<Piece, 'letter' | 'id'>[] = byPanel(ground, region).flatMap(({ panel, faces }) =>
    layFlat(ground, faces, skin.height).flatMap((group) =>
      piecesWithin(regionOn(region, group), 0).map((shape) => ({
        panel,
        group,
        shape,
        below: covering(ground, laid, part.side, group, shape),
      })),
    ),
  );
  const pieces = found.map(
    (piece, k): Piece => ({
      ...piece,
      letter: found.length > 1 ? lettered(k) : '',
      id: extraPanelId(part.id, k),
    }),
  );
  const ticks = seamTicks(ground, region, pieces);
  const issues = [...skin.uneven(part), ...outlineFindings(part, region)];
  const guides = new Map<string, PanelGuide[]>();
  const onShell: LaidOnShell[] = [];
  const flats = pieces.map((piece): FlatPart => {
    const { group, shape, letter, id, below } = piece;
    const name = letter === '' ? part.name : `${part.name} ${letter}`;
    const add = (panel: string, lines: readonly PanelGuide[]) =>
      guides.set(panel, [...(guides.get(panel) ?? []), ...lines]);
    for (const [panel, lines] of placement(name, ground, below, group, shape, id)) add(panel, lines);
    const window = part.way === 'window' ? windowOf(piece, ground, region, part.border, skin.height) : null;
    if (window && window.length > 1)
      issues.push(
        finding(
          'stencil-islands',
          'note',
          part,
          `The sheet of “${name}” falls into ${window.length} parts: what is inside a ring of the shape comes loose.`,
          'Lay the loose parts by their crosses, leave bridges when you cut, or make it a mask.',
        ),
      );
    const rings = window?.flat() ?? shape;
    const crosses = crossSpots(rings);
    const own = crosses.flatMap((at, k) => crossAt(at, `${id}:cross-${k}`));
    for (const [panel, lines] of crossesBelow(crosses, ground, piece, id)) add(panel, lines);
    const regions = faceByFace(group.faces, group.rings, shape, (f) => ground.patches[f]!.flat);
    onShell.push({
      ...{ part: part.id, panel: id, name, kind: part.kind, side: part.side },
      ...{ from: skin.height, to: skin.height },
      regions: regions.map(({ face, rings: covered }) => ({ patch: face, rings: covered })),
    });
    return {
      ...{ id, name, rings, quantity: 1, thickness: part.thickness ?? stencilThickness },
      folds: foldsOf(group, rings, id),
      guides: [...own, ...(ticks.get(id) ?? [])],
    };
  });
  return { flats, guides, issues, stuck: false, onShell };
}

/** A, B, … Z, AA, AB … */
function lettered(k: number): string {
  const last = String.fromCharCode(65 + (k % 26));
  return k < 26 ? last : lettered(Math.floor(k / 26) - 1) + last;
}

function byPanel(ground: Ground, { laid, rings }: Region): { panel: string; faces: number[] }[] {
  const found = new Map<string, number[]>();
  for (const { face } of faceByFace(laid.faces, laid.rings, rings, (f) => laid.rings.get(f)!)) {
    const { panel } = ground.seats[face]!;
    found.set(panel, [...(found.get(panel) ?? []), face]);
  }
  return [...found].map(([panel, faces]) => ({ panel, faces }));
}

/** The sheet round the shape, as far as the panel goes where it lies flat with it; several when islands come loose. */
function windowOf(
  { panel, group, shape }: Piece,
  ground: Ground,
  region: Region,
  border: Mm,
  depth: Mm,
): Rings[] {
  const all = ground.patches.flatMap((_, f) => (ground.seats[f]?.panel === panel ? [f] : []));
  const around = connected(ground, all).find((g) => g.includes(group.faces[0]!)) ?? [...group.faces];
  const [whole, ...rest] = layFlat(ground, around, depth);
  const flat = whole && rest.length === 0 && whole.misfit <= flatMisfit ? whole : group;
  // The shape on the larger copy, cut there, and back to its own.
  const there = flat === group ? shape : regionOn(region, flat);
  const grown = offsetRings(there, border, { kind: 'round', sagitta });
  const sheet = subtractRings(intersectRings(grown, flat.outline), there);
  if (flat === group) return piecesWithin(sheet, 0);
  const face = group.faces[0]!;
  const back = carry(flat.rings.get(face)!, group.rings.get(face)!);
  return piecesWithin(
    sheet.map((r) => r.map(back)),
    0,
  );
}

/** Where the shape crosses a seam between two of its parts: a tick on each, which meet, with the other's letter. */
function seamTicks(
  ground: Ground,
  { laid, rings }: Region,
  pieces: readonly Piece[],
): Map<string, PanelGuide[]> {
  const found = new Map<string, PanelGuide[]>();
  const homes = new Map<number, Piece[]>();
  for (const piece of pieces)
    for (const f of piece.group.faces) homes.set(f, [...(homes.get(f) ?? []), piece]);
  for (const face of laid.faces) {
    const { vertices } = ground.patches[face]!;
    vertices.forEach((v, i) => {
      const next = (i + 1) % vertices.length;
      const twin = ground.sideAt(vertices[next]!, v);
      if (!twin || twin.face < face || !laid.rings.has(twin.face)) return;
      if (ground.seats[twin.face]?.panel === ground.seats[face]?.panel) return;
      const [a, b] = [laid.rings.get(face)![i]!, laid.rings.get(face)![next]!];
      const long = Math.hypot(b.x - a.x, b.y - a.y);
      for (const [p, q] of insideParts(a, b, rings)) {
        const t = (Math.hypot(p.x - a.x, p.y - a.y) + Math.hypot(q.x - a.x, q.y - a.y)) / 2 / long;
        const here = tickOn(homes.get(face) ?? [], face, i, t);
        const there = tickOn(homes.get(twin.face) ?? [], twin.face, twin.corner, 1 - t);
        if (!here || !there) continue;
        for (const [own, other] of [
          [here, there],
          [there, here],
        ] as const)
          found.set(own.piece.id, [
            ...(found.get(own.piece.id) ?? []),
            {
              id: `${own.piece.id}:seam-${face}-${i}`,
              points: own.points,
              closed: false,
              label: other.piece.letter,
            },
          ]);
      }
    });
  }
  return found;
}

function tickOn(
  pieces: readonly Piece[],
  face: number,
  corner: number,
  t: number,
): { piece: Piece; points: Point[] } | null {
  for (const piece of pieces) {
    const ring = piece.group.rings.get(face)!;
    const [a, b] = [ring[corner]!, ring[(corner + 1) % ring.length]!];
    const long = Math.hypot(b.x - a.x, b.y - a.y);
    const at = lerp(a, b, t);
    // The face is to the left of its side.
    const end = { x: at.x - ((b.y - a.y) / long) * seamTick, y: at.y + ((b.x - a.x) / long) * seamTick };
    const [own] = insideParts(at, end, piece.shape);
    if (own && Math.hypot(own[0].x - at.x, own[0].y - at.y) < 0.5) return { piece, points: [own[0], own[1]] };
  }
  return null;
}

/** Two places for crosses, far apart and clear of the edge; one or none on a narrow part. */
function crossSpots(rings: Rings): Point[] {
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

const crossAt = (at: Point, id: string): PanelGuide[] =>
  arms(at).map((points, k) => ({ id: `${id}-${k}`, points, closed: false, label: '' }));

function crossesBelow(
  spots: readonly Point[],
  ground: Ground,
  { group, below }: Piece,
  id: string,
): [string, PanelGuide[]][] {
  return spots.flatMap((at, k): [string, PanelGuide[]][] => {
    const face = group.faces.find((f) => isInside(at, [group.rings.get(f)!]));
    if (face === undefined) return [];
    const seat = below.get(face) ?? ground.seats[face]!;
    const carried = carry(group.rings.get(face)!, seat.ring);
    const lines = arms(at).map(
      (points, j): PanelGuide => ({
        ...{ id: `${id}:cross-${k}-${j}:on:${seat.panel}`, closed: false, label: '' },
        points: points.map(carried),
      }),
    );
    return [[seat.panel, lines]];
  });
}
