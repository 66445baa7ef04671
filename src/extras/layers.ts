/**
 * Layers on the shell: chosen faces once more, unfolded from the surface where the layer's own neutral layer lies, with
 * the outline kept within by a margin, and that outline drawn on whatever lies below.
 */
import { type Point, ringArea } from '../math';
import { extraPanelId, type FoamDecisions, type LayerPart, type PanelFold, type PanelGuide } from '../model';
import { offsetRings } from '../plane';
import type { Mm } from '../units';
import type { FlatPart } from './asPanel';
import { carry, insideParts, joined } from './clip';
import type { Ground, Seat } from './ground';
import { type LaidFaces, layFlat } from './layFlat';
import { finding, type MadePart, stuck } from './part';
import { layerDepth, skinUnder } from './skins';
import { mitreLimit, shaving, visibleBend } from './tolerance';

/** What lies on the shell's skins already, side by side of the foam. */
export interface Laid {
  readonly outside: SideLaid;
  readonly inside: SideLaid;
}
interface SideLaid {
  /** How far it reaches beyond the skin, by face. */
  readonly grown: ReadonlyMap<number, Mm>;
  /** Which panel is on top now, and where on it the face is. */
  readonly top: ReadonlyMap<number, Pick<Seat, 'panel' | 'ring'>>;
}

const bare: SideLaid = { grown: new Map(), top: new Map() };
export const noLayers: Laid = { outside: bare, inside: bare };

const wayOut = 'Pick its faces again under “Extra parts” in the Panels step, or take the layer out.';

export function makeLayer(
  part: LayerPart,
  ground: Ground,
  foam: FoamDecisions,
  laid: Laid,
): { made: MadePart; laid: Laid } {
  const wanted = new Set(part.faces);
  const faces = ground.patches.flatMap((p, i) => (wanted.has(p.face) && ground.seats[i] ? [i] : []));
  const there = new Set(faces.map((i) => ground.patches[i]!.face));
  const gone = [...wanted].filter((id) => !there.has(id)).length;
  const fail = (why: string) => ({ made: stuck(part, why, wayOut), laid });
  if (wanted.size === 0) return fail('no faces are picked for it yet');
  if (faces.length === 0) return fail('none of its faces is there any more');
  const before = laid[part.side];
  const thickness = part.thickness ?? foam.thickness;
  const skin = skinUnder(ground, faces, part.side, before.grown)!;
  const depth = layerDepth(skin.height, part.side, thickness, foam.neutralRatio);
  const groups = layFlat(ground, faces, depth);
  const issues = [...skin.uneven(part)];
  if (gone > 0)
    issues.push(
      finding(
        'extra-in-part',
        'warning',
        part,
        `“${part.name}” covers only what is left of its faces: ${gone} of ${wanted.size} are gone.`,
        wayOut,
      ),
    );
  const inset = groups.map((g) => ({ group: g, pieces: piecesWithin(g, part.margin) }));
  const count = inset.reduce((n, { pieces }) => n + pieces.length, 0);
  if (count === 0) return fail('its margin leaves nothing of its faces');
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
  const top = new Map(before.top);
  const grown = new Map(before.grown);
  for (const { group, pieces } of inset)
    for (const rings of pieces) {
      const id = extraPanelId(part.id, flats.length);
      const name = count > 1 ? `${part.name} ${flats.length + 1}` : part.name;
      flats.push({ id, name, rings, quantity: 1, thickness, folds: foldsOf(group, rings, id), guides: [] });
      for (const [panel, lines] of placement(part, ground, before, group, rings, id))
        guides.set(panel, [...(guides.get(panel) ?? []), ...lines]);
      for (const face of group.faces) {
        top.set(face, { panel: id, ring: group.rings.get(face)! });
        grown.set(face, Math.abs(skin.height - bareHeight(ground, face, part.side)) + thickness);
      }
    }
  return {
    made: { flats, guides, issues, stuck: false },
    laid: { ...laid, [part.side]: { grown, top } },
  };
}

const bareHeight = (ground: Ground, face: number, side: LayerPart['side']): Mm => {
  const seat = ground.seats[face]!;
  return side === 'outside' ? seat.outside : seat.inside;
};

/** The outline a margin within, as separate pieces: each outline with its holes. */
function piecesWithin({ outline }: LaidFaces, margin: Mm): (readonly (readonly Point[])[])[] {
  const rings = margin > 0 ? offsetRings(outline, -margin, { kind: 'mitre', limit: mitreLimit }) : outline;
  const kept = rings.filter((r) => Math.abs(ringArea(r)) > shaving);
  const outer = kept.filter((r) => ringArea(r) > 0);
  const holes = kept.filter((r) => ringArea(r) < 0);
  return outer.map((ring) => [
    ring,
    ...holes.filter((hole) => outer.length === 1 || insideParts(hole[0]!, hole[1]!, [ring]).length > 0),
  ]);
}

/** Folds of the layer, as far as they are within its outline. */
function foldsOf({ folds }: LaidFaces, rings: readonly (readonly Point[])[], id: string): PanelFold[] {
  return folds.flatMap(({ points: [a, b], bend }, k) =>
    Math.abs(bend) < visibleBend
      ? []
      : insideParts(a, b, rings).map(
          (points, j): PanelFold => ({
            id: `${id}:fold-${k}-${j}`,
            points,
            role: bend > 0 ? 'mountain' : 'valley',
            bend,
            bendFrom: 'shell',
          }),
        ),
  );
}

/** The outline as it lies on the panels below, face by face. */
function placement(
  part: LayerPart,
  ground: Ground,
  before: SideLaid,
  group: LaidFaces,
  rings: readonly (readonly Point[])[],
  id: string,
): Map<string, PanelGuide[]> {
  const seats = group.faces.map((face) => {
    const ring = group.rings.get(face)!;
    const seat = before.top.get(face) ?? ground.seats[face]!;
    return { ring, panel: seat.panel, carried: carry(ring, seat.ring) };
  });
  const found = new Map<string, PanelGuide[]>();
  for (const [r, ring] of rings.entries()) {
    const stretches = new Map<string, [Point, Point][]>();
    ring.forEach((a, i) => {
      const b = ring[(i + 1) % ring.length]!;
      // In the order along the side, so that stretches of neighbouring faces join.
      const parts = seats.flatMap((seat) =>
        insideParts(a, b, [seat.ring]).map((p) => ({ seat, p, at: Math.hypot(p[0].x - a.x, p[0].y - a.y) })),
      );
      for (const { seat, p } of parts.sort((x, y) => x.at - y.at)) {
        const list = stretches.get(seat.panel) ?? [];
        stretches.set(seat.panel, list);
        list.push([seat.carried(p[0]), seat.carried(p[1])]);
      }
    });
    for (const [panel, list] of stretches) {
      const lines = joined(list).map(
        (line, k): PanelGuide => ({
          id: `${id}:on:${panel}:${r}-${k}`,
          ...line,
          label: part.name,
        }),
      );
      found.set(panel, [...(found.get(panel) ?? []), ...lines]);
    }
  }
  return found;
}
