/**
 * Layers on the shell: chosen faces once more, or what a drawn line encloses, unfolded from the surface where the layer's
 * own neutral layer lies, with the edge kept within by a margin, and that edge drawn on whatever lies below.
 */
import { type Point, ringArea } from '../math';
import {
  extraPanelId,
  type FoamDecisions,
  type LaidOnShell,
  type LayerPart,
  type PanelGuide,
  type StencilPart,
} from '../model';
import { offsetRings } from '../plane';
import type { Mm } from '../units';
import type { FlatPart } from './asPanel';
import { insideParts } from './clip';
import { bareHeight, type Ground } from './ground';
import { type LaidFaces, layFlat } from './layFlat';
import { foldsOf, placement } from './onPanels';
import { finding, type MadePart, stuck } from './part';
import { type Drawing, faceByFace, type NoRegion, type Region, regionOf, regionOn } from './regions';
import { layerDepth, type SkinUnder, skinUnder } from './skins';
import { covering, type Laid, laidOn, reachOf } from './stack';
import { flatMisfit, mitreLimit, shaving } from './tolerance';

const wayOut = 'Pick its faces again under “Extra parts” in the Panels step, or take the layer out.';

/** What a layer is made of: faces that lie flat, and its edge on them before the margin. */
interface Groundwork {
  readonly groups: readonly { readonly group: LaidFaces; readonly edge: readonly (readonly Point[])[] }[];
  readonly skin: SkinUnder;
  readonly gone: number;
  readonly region: Region | null;
}

export function makeLayer(
  part: LayerPart,
  ground: Ground,
  drawing: Drawing,
  foam: FoamDecisions,
  laid: Laid,
): { made: MadePart; laid: Laid } {
  const thickness = part.thickness ?? foam.thickness;
  const depthOf = (skin: SkinUnder) => layerDepth(skin.height, part.side, thickness, foam.neutralRatio);
  const work = part.outline
    ? enclosed(part, ground, drawing, laid, depthOf)
    : ofFaces(part, ground, laid, depthOf);
  if ('refused' in work) return { made: stuck(part, work.refused, work.wayOut), laid };
  const { groups, skin, gone, region } = work;
  const issues = [...skin.uneven(part)];
  if (gone > 0)
    issues.push(
      finding(
        'extra-in-part',
        'warning',
        part,
        `“${part.name}” covers only what is left of its faces: ${gone} faces are gone.`,
        wayOut,
      ),
    );
  issues.push(...outlineFindings(part, region));
  const inset = groups.map(({ group, edge }) => ({ group, pieces: piecesWithin(edge, part.margin) }));
  const count = inset.reduce((n, { pieces }) => n + pieces.length, 0);
  if (count === 0)
    return {
      made: stuck(part, 'its margin leaves nothing of it', 'Give it a smaller margin or more faces.'),
      laid,
    };
  if (count > 1)
    issues.push(
      finding(
        'layer-in-parts',
        'note',
        part,
        `The faces of “${part.name}” do not lie flat as one, so it is cut in ${count} parts.`,
        'Pick fewer faces, or cut the parts as they are and butt them.',
      ),
    );
  const flats: FlatPart[] = [];
  const guides = new Map<string, PanelGuide[]>();
  const onShell: LaidOnShell[] = [];
  let now = laid;
  for (const { group, pieces } of inset)
    for (const rings of pieces) {
      const id = extraPanelId(part.id, flats.length);
      const name = count > 1 ? `${part.name} ${flats.length + 1}` : part.name;
      flats.push({ id, name, rings, quantity: 1, thickness, folds: foldsOf(group, rings, id), guides: [] });
      const below = covering(ground, laid, part.side, group, rings);
      for (const [panel, lines] of placement(part.name, ground, below, group, rings, id))
        guides.set(panel, [...(guides.get(panel) ?? []), ...lines]);
      const regions = faceByFace(group.faces, group.rings, rings, (f) => ground.patches[f]!.flat);
      now = laidOn(now, part.side, regions, (face) => ({
        reach: Math.abs(skin.height - bareHeight(ground, face, part.side)) + thickness,
        panel: id,
        ring: group.rings.get(face)!,
      }));
      onShell.push({
        ...{ part: part.id, panel: id, name, kind: part.kind, side: part.side, from: skin.height },
        to: part.side === 'outside' ? skin.height + thickness : skin.height - thickness,
        regions: regions.map(({ face, rings: covered }) => ({ patch: face, rings: covered })),
      });
    }
  return { made: { flats, guides, issues, stuck: false, onShell }, laid: now };
}

/** Whole faces. */
function ofFaces(
  part: LayerPart,
  ground: Ground,
  laid: Laid,
  depthOf: (skin: SkinUnder) => Mm,
): Groundwork | NoRegion {
  const wanted = new Set(part.faces);
  if (wanted.size === 0) return { refused: 'no faces are picked for it yet', wayOut };
  const faces = ground.patches.flatMap((p, i) => (wanted.has(p.face) && ground.seats[i] ? [i] : []));
  if (faces.length === 0) return { refused: 'none of its faces is there any more', wayOut };
  const there = new Set(faces.map((i) => ground.patches[i]!.face));
  const whole = faces.map((face) => ({ face, rings: [ground.patches[face]!.flat] }));
  const skin = skinUnder(ground, faces, part.side, reachOf(laid, part.side, whole))!;
  const groups = layFlat(ground, faces, depthOf(skin)).map((group) => ({ group, edge: group.outline }));
  return { groups, skin, gone: [...wanted].filter((id) => !there.has(id)).length, region: null };
}

/** What a line encloses: found on the bare surface, then again at the layer's own depth. */
function enclosed(
  part: LayerPart,
  ground: Ground,
  drawing: Drawing,
  laid: Laid,
  depthOf: (skin: SkinUnder) => Mm,
): Groundwork | NoRegion {
  const outline = part.outline!;
  const first = regionOf(ground, drawing, outline, 0);
  if ('refused' in first) return first;
  const skin = skinOf(ground, laid, part.side, first);
  if (!skin) return { refused: 'no panel under it is on the folded shell', wayOut };
  const region = regionOf(ground, drawing, outline, depthOf(skin));
  if ('refused' in region) return region;
  const groups =
    region.laid.misfit <= flatMisfit ? [region.laid] : layFlat(ground, region.laid.faces, depthOf(skin));
  return { groups: groups.map((group) => ({ group, edge: regionOn(region, group) })), skin, gone: 0, region };
}

/** The skin under a region, over what was laid there before. */
function skinOf(ground: Ground, laid: Laid, side: LayerPart['side'], region: Region): SkinUnder | null {
  const covered = faceByFace(
    region.laid.faces,
    region.laid.rings,
    region.rings,
    (f) => ground.patches[f]!.flat,
  );
  return skinUnder(
    ground,
    covered.map((c) => c.face),
    side,
    reachOf(laid, side, covered),
  );
}

/** What there is to say of a line on the shell. */
export function outlineFindings(part: LayerPart | StencilPart, region: Region | null) {
  if (!region) return [];
  return [
    ...(region.cutOff
      ? [
          finding(
            'outline-cut-off',
            'note',
            part,
            `“${part.name}” runs over the ${part.outline?.within === 'panel' ? 'edge of its panel' : 'rim of the shell'}, and is cut there.`,
            'Move it, make it smaller, or leave it so.',
          ),
        ]
      : []),
    ...(region.laid.misfit > flatMisfit
      ? [
          finding(
            'outline-stretched',
            'note',
            part,
            `The shell is curved both ways under “${part.name}”: its outline is off by up to ${region.laid.misfit.toFixed(1)} mm there.`,
            'Make it smaller where its shape matters.',
          ),
        ]
      : []),
  ];
}

/** The edge a margin within, as separate pieces: each outline with its holes. */
export function piecesWithin(
  edge: readonly (readonly Point[])[],
  margin: Mm,
): (readonly (readonly Point[])[])[] {
  const rings = margin > 0 ? offsetRings(edge, -margin, { kind: 'mitre', limit: mitreLimit }) : edge;
  const kept = rings.filter((r) => Math.abs(ringArea(r)) > shaving);
  const outer = kept.filter((r) => ringArea(r) > 0);
  const holes = kept.filter((r) => ringArea(r) < 0);
  return outer.map((ring) => [
    ring,
    ...holes.filter((hole) => outer.length === 1 || insideParts(hole[0]!, hole[1]!, [ring]).length > 0),
  ]);
}
