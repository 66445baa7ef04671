/**
 * Stencils for painting: what an outline encloses, true to size on the skin that is painted, in parts that end at seams
 * and at the edges of layers. Each part has a letter; ticks where two parts meet carry the letter of the part beyond;
 * crosses are on the part and on the panel.
 */
import type { Point } from '../math';
import { extraPanelId, type LaidOnShell, type PanelGuide, type StencilPart } from '../model';
import { intersectRings, offsetRings, subtractRings } from '../plane';
import type { Mm } from '../units';
import type { FlatPart } from './asPanel';
import { carriersOf, openOn, regionOnCarrier } from './carriers';
import { carry } from './clip';
import type { Ground } from './ground';
import { outlineFindings, piecesWithin } from './layers';
import { connected, layFlat } from './layFlat';
import { foldsOf, placement } from './onPanels';
import { finding, type MadePart, stuck } from './part';
import { type Drawing, faceByFace, type NoRegion, type Region, regionOf } from './regions';
import type { Laid } from './stack';
import { crossAt, crossesBelow, crossSpots, meetingTicks, type StencilPiece } from './stencilMarks';
import { flatMisfit, sagitta, stencilThickness } from './tolerance';

type Rings = readonly (readonly Point[])[];

export function makeStencil(part: StencilPart, ground: Ground, drawing: Drawing, laid: Laid): MadePart {
  const first = regionOf(ground, drawing, part.outline, 0);
  if ('refused' in first) return stuck(part, first.refused, first.wayOut);
  const covered = faceByFace(
    first.laid.faces,
    first.laid.rings,
    first.rings,
    (f) => first.laid.rings.get(f)!,
  );
  // On each height the shape is as large as it was asked for.
  const regions = new Map<Mm, Region | NoRegion>();
  const found: { region: Region; piece: Omit<StencilPiece, 'letter' | 'id'> }[] = [];
  for (const carrier of carriersOf(ground, laid, part.side)) {
    const faces = covered.flatMap(({ face }) => (carrier.faces.has(face) ? [face] : []));
    if (faces.length === 0) continue;
    const region = regions.get(carrier.height) ?? regionOf(ground, drawing, part.outline, carrier.height);
    regions.set(carrier.height, region);
    if ('refused' in region) return stuck(part, region.refused, region.wayOut);
    for (const group of layFlat(ground, faces, carrier.height))
      for (const shape of piecesWithin(regionOnCarrier(region, group, ground, carrier), 0))
        found.push({ region, piece: { carrier, group, shape } });
  }
  if (found.length === 0)
    return stuck(part, 'no panel under it is on the folded shell', 'Place it on a panel of the shell.');
  const pieces = found.map(
    ({ piece }, k): StencilPiece => ({
      ...piece,
      letter: found.length > 1 ? lettered(k) : '',
      id: extraPanelId(part.id, k),
    }),
  );
  const ticks = meetingTicks(ground, pieces);
  const worst = found.reduce((r, { region }) => (region.laid.misfit > r.laid.misfit ? region : r), first);
  const issues = [...outlineFindings(part, { ...worst, cutOff: first.cutOff })];
  const guides = new Map<string, PanelGuide[]>();
  const onShell: LaidOnShell[] = [];
  const flats = pieces.map((piece, k): FlatPart => {
    const { carrier, group, shape, letter, id } = piece;
    const name = letter === '' ? part.name : `${part.name} ${letter}`;
    const add = (panel: string, lines: readonly PanelGuide[]) =>
      guides.set(panel, [...(guides.get(panel) ?? []), ...lines]);
    const below = new Map(
      group.faces.map((f) => [f, { panel: carrier.panel, ring: carrier.faces.get(f)!.ring }] as const),
    );
    for (const [panel, lines] of placement(name, ground, below, group, shape, id)) add(panel, lines);
    const window = part.way === 'window' ? windowOf(piece, ground, found[k]!.region, part.border) : null;
    if (window && window.length > 1)
      issues.push(
        finding(
          'stencil-islands',
          'note',
          part,
          `The sheet of “${name}” falls into ${window.length} parts: the shape runs right across it, or what is inside a ring of the shape comes loose.`,
          'Lay the loose parts by their crosses, leave bridges when you cut, or make it a mask.',
        ),
      );
    const rings = window?.flat() ?? shape;
    const crosses = crossSpots(rings);
    const own = crosses.flatMap((at, k) => crossAt(at, `${id}:cross-${k}`));
    for (const [panel, lines] of crossesBelow(crosses, piece, id)) add(panel, lines);
    const regions = faceByFace(group.faces, group.rings, shape, (f) => ground.patches[f]!.flat);
    onShell.push({
      ...{ part: part.id, panel: id, name, kind: part.kind, side: part.side },
      ...{ from: carrier.height, to: carrier.height },
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

/** The sheet round the shape, as far as what carries it goes where it lies flat with it; several when islands come loose. */
function windowOf(
  { carrier, group, shape }: StencilPiece,
  ground: Ground,
  region: Region,
  border: Mm,
): Rings[] {
  const around = connected(ground, [...carrier.faces.keys()]).find((g) => g.includes(group.faces[0]!))!;
  const [whole, ...rest] = layFlat(ground, around, carrier.height);
  const flat = whole && rest.length === 0 && whole.misfit <= flatMisfit ? whole : group;
  // The shape on the larger copy, cut there, and back to its own.
  const there = flat === group ? shape : regionOnCarrier(region, flat, ground, carrier);
  const grown = offsetRings(there, border, { kind: 'round', sagitta });
  const sheet = subtractRings(intersectRings(grown, openOn(flat, ground, carrier)), there);
  if (flat === group) return piecesWithin(sheet, 0);
  const face = group.faces[0]!;
  const back = carry(flat.rings.get(face)!, group.rings.get(face)!);
  return piecesWithin(
    sheet.map((r) => r.map(back)),
    0,
  );
}
