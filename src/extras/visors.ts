/**
 * Blanks for visors. The rim of an opening, where the visor's own neutral layer lies over it, is laid on the sheet that
 * bends one way and comes nearest to it; that sheet unrolls without stretch. How far the rim is from the sheet says how
 * far the opening is from what a flat blank can cover.
 */
import { add3, type Point3, point3, ringArea, scaleBy3 } from '../math';
import {
  extraPanelId,
  type FoamDecisions,
  type PanelGuide,
  type Plane3,
  type Seams,
  type Shell,
  type VisorPart,
} from '../model';
import { offsetRings, uniteRings } from '../plane';
import { ribbon } from './course';
import type { Ground } from './ground';
import { acrossSheet } from './inSpace';
import { openingWith } from './openings';
import { finding, type MadePart, stuck } from './part';
import { intoShell, rimOf, sidesOf } from './rims';
import { layerDepth, skinUnder } from './skins';
import { mitreLimit, shaving } from './tolerance';
import { fitOf, standing } from './visorFit';
import { eyeLine, foldsIn, placement, seamTicks } from './visorMarks';
import { sheetOver } from './visorSheet';

const wayOut = 'Choose its opening again under “Extra parts” in the Panels step, or take the visor out.';
const nearer =
  'Cover a part of the rim instead (select those edges), build it of several parts with raised layers, or leave the opening free and use a smaller margin.';

/** @param brow plane of the brow at the final size; null where it is not known */
export function makeVisor(
  part: VisorPart,
  ground: Ground,
  shell: Shell,
  seams: Seams,
  foam: FoamDecisions,
  brow: Plane3 | null,
): MadePart {
  const opening = openingWith(shell, ground.sides, part.edges);
  if (!opening) return stuck(part, 'its opening is not there any more', wayOut);
  const rim = rimOf(part, ground, opening.vertices);
  const stretches = sidesOf(rim);
  const faces = stretches.flatMap(([a, b]) => ground.sideAt(a, b)?.face ?? []);
  const skin = skinUnder(ground, faces, part.side);
  if (!skin) return stuck(part, 'no panel at its opening is on the folded shell', wayOut);
  if (rim.vertices.length < 4) return stuck(part, 'its rim has too few corners', wayOut);
  const thickness = part.thickness ?? foam.thickness;
  const places = ground.at(layerDepth(skin.height, part.side, thickness, foam.neutralRatio));
  const points = rim.vertices.map((v) => places[v]!);
  const into = intoShell(rim, ground, places);
  const covering = sheetOver(points, into, middleOf(places), rim.closed);
  if ('refused' in covering) return stuck(part, covering.refused, nearer);
  const { sheet, bentOff } = covering;
  const line = rim.closed ? [...sheet.flat, sheet.flat[0]!] : sheet.flat;
  const ring = ringArea(sheet.flat) < 0 ? [...sheet.flat].reverse() : sheet.flat;
  const clean = uniteRings([ring]).filter((r) => Math.abs(ringArea(r)) > shaving);
  const grown =
    part.margin > 0 ? offsetRings(clean, part.margin, { kind: 'mitre', limit: mitreLimit }) : clean;
  // A part of a rim that is straight when laid flat encloses nothing: there is its margin alone.
  const rings = rim.closed ? grown : uniteRings([...grown, ...ribbon(line, part.margin, part.margin)]);
  const outer = rings.filter((r) => ringArea(r) > shaving);
  if (outer.length !== 1)
    return stuck(
      part,
      outer.length === 0
        ? 'its outline encloses nothing: give it a margin'
        : 'the outline of its opening crosses itself when laid flat',
      nearer,
    );
  const id = extraPanelId(part.id);
  const issues = [...skin.uneven(part), fitOf(part, rim, sheet, bentOff, points, standing(into, sheet))];
  if (rim.inPart)
    issues.push(
      finding(
        'extra-in-part',
        'warning',
        part,
        `“${part.name}” covers the longest of several stretches of rim that are chosen for it.`,
        'Choose edges that follow each other.',
      ),
    );
  const eyes = eyeLine(part, sheet, brow, outer, id, issues);
  const guides: PanelGuide[] = [
    ...(part.margin > 0
      ? [{ id: `${id}:rim`, points: sheet.flat, closed: rim.closed, label: 'rim of the opening' }]
      : []),
    ...seamTicks(part, ground, seams, rim, line, id),
    ...eyes,
  ];
  const folds = foldsIn(sheet, ring, id);
  return {
    flats: [{ id, name: part.name, rings: outer, quantity: 1, thickness, folds, guides }],
    guides: part.margin > 0 ? placement(part, ground, rim, id) : new Map(),
    issues,
    stuck: false,
    standing: [
      {
        ...{ part: part.id, panel: id, name: part.name, kind: part.kind, side: part.side },
        ...acrossSheet(
          sheet,
          outer,
          folds.map((f) => f.points),
        ),
      },
    ],
  };
}

function middleOf(places: readonly Point3[]): Point3 {
  return places.reduce((sum, p) => add3(sum, scaleBy3(p, 1 / places.length)), point3(0, 0, 0));
}
