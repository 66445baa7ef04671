/**
 * Parts beside the shell's panels, made from whatever the shell is now. They stand in columns to the right of the
 * panels. See README.
 */
import type { Issue } from '../base';
import { boxOf, joinBoxes, type Point, type Point3 } from '../math';
import type {
  ExtraDecisions,
  ExtraPart,
  FoamDecisions,
  FoamResult,
  LaidOnShell,
  Panel,
  PanelGuide,
  Pattern,
  Plane3,
  Recut,
  Seams,
  Shell,
  StandingOnShell,
} from '../model';
import type { Mm } from '../units';
import { asPanel, type FlatPart } from './asPanel';
import { makeBand } from './bands';
import { makeBar, makeDisc } from './discs';
import { type Ground, readGround } from './ground';
import { toFolded } from './inSpace';
import { makeLayer } from './layers';
import { type MadePart, stuck } from './part';
import { makeSeamStrip } from './seamStrips';
import { type Laid, noLayers } from './stack';
import { makeStencil } from './stencils';
import { standApart } from './tolerance';
import { makeVisor } from './visors';

/** The shell that parts lie on: null for any part that needs one and has none. */
export interface ExtraSurface {
  readonly pattern: Pattern;
  /** The pattern as drawn: points of a drawn line are told on its faces. */
  readonly drawn: Pattern;
  /** Where the faces of changed panels are drawn and where they lie. */
  readonly laid: Recut['laid'];
  readonly seams: Seams;
  readonly shell: Shell;
  /** The shell's vertices on the paper's surface at the final size, mm. */
  readonly places: readonly Point3[];
  /** Plane of the brow at that size; null where it is not known. */
  readonly brow: Plane3 | null;
}

/**
 * Adds the parts to the panels.
 * @param given the panels of the shell, smoothed or not
 * @param surface the folded shell at its final size; null when there is none that can be trusted
 * @returns `given` itself without parts; else with a panel for every part, placement lines on the panels below, the
 * ids of parts that could not be made, and a finding for each of them
 */
export function makeExtras(
  given: FoamResult,
  { parts }: ExtraDecisions,
  surface: ExtraSurface | null,
  foam: FoamDecisions,
): FoamResult {
  if (parts.length === 0) return given;
  const ground = surface ? readGround({ ...surface, panels: given.panels }) : null;
  const issues: Issue[] = [];
  const guides = new Map<string, PanelGuide[]>();
  const stuckParts: string[] = [];
  const onShell: LaidOnShell[] = [];
  const standing: StandingOnShell[] = [];
  const flats: { part: ExtraPart; flat: FlatPart }[] = [];
  let laid: Laid = noLayers;
  for (const part of parts) {
    const one = makeOne(part, ground, surface, foam, laid);
    laid = one.laid;
    issues.push(...one.made.issues);
    onShell.push(...(one.made.onShell ?? []));
    standing.push(...(one.made.standing ?? []));
    if (one.made.stuck) stuckParts.push(part.id);
    for (const flat of one.made.flats) flats.push({ part, flat });
    for (const [panel, lines] of one.made.guides) guides.set(panel, [...(guides.get(panel) ?? []), ...lines]);
  }
  const own = flats.map(({ part, flat }) => asPanel(part, flat, foam));
  const withGuides = [...given.panels, ...own].map((panel): Panel => {
    const more = guides.get(panel.id);
    return more ? { ...panel, guides: [...(panel.guides ?? []), ...more] } : panel;
  });
  const shells = withGuides.slice(0, given.panels.length);
  return {
    ...given,
    panels: [...shells, ...inColumns(withGuides.slice(given.panels.length), shells)],
    ...(stuckParts.length > 0 ? { stuckExtras: stuckParts } : {}),
    ...(onShell.length > 0 ? { onShell } : {}),
    ...(surface && standing.length > 0
      ? { standing: standing.map(toFolded(surface.places, surface.shell.vertices)) }
      : {}),
    issues: [...given.issues, ...issues],
  };
}

function makeOne(
  part: ExtraPart,
  ground: Ground | null,
  surface: ExtraSurface | null,
  foam: FoamDecisions,
  laid: Laid,
): { made: MadePart; laid: Laid } {
  switch (part.kind) {
    case 'disc':
      return { made: makeDisc(part, foam), laid };
    case 'bar':
      return { made: makeBar(part, foam), laid };
    default:
      if (!ground || !surface)
        return {
          made: stuck(
            part,
            'it is measured on the folded shell, and there is none that can be trusted',
            'Pair the open edges until the pattern folds up, or say in the Seams step that the shell may be taken as it is.',
          ),
          laid,
        };
      if (part.kind === 'band')
        return { made: makeBand(part, ground, surface.shell, surface.seams, foam), laid };
      if (part.kind === 'visor')
        return { made: makeVisor(part, ground, surface.shell, surface.seams, foam, surface.brow), laid };
      if (part.kind === 'seamStrip') return { made: makeSeamStrip(part, ground, foam), laid };
      if (part.kind === 'stencil') return { made: makeStencil(part, ground, surface, laid), laid };
      return makeLayer(part, ground, surface, foam, laid);
  }
}

/** Each part below the one before, in columns as tall as the panels of the shell. */
function inColumns(parts: readonly Panel[], shells: readonly Panel[]): Panel[] {
  const boxes = shells.flatMap((p) =>
    p.outlines.traced.length > 0 ? [boxOf(p.outlines.traced.flat())] : [],
  );
  const all = boxes.length > 0 ? boxes.reduce(joinBoxes) : { minX: 0, minY: -400, maxX: 0, maxY: 0 };
  let left = all.maxX + 2 * standApart;
  let top = all.maxY;
  let widest = 0;
  return parts.map((panel) => {
    const box = boxOf(panel.outlines.traced.flat());
    const [width, height] = [box.maxX - box.minX, box.maxY - box.minY];
    if (top - height < all.minY && top < all.maxY) {
      left += widest + standApart;
      top = all.maxY;
      widest = 0;
    }
    const moved = movedPanel(panel, left - box.minX, top - box.maxY);
    top -= height + standApart;
    widest = Math.max(widest, width);
    return moved;
  });
}

function movedPanel(panel: Panel, x: Mm, y: Mm): Panel {
  const line = (points: readonly Point[]) => points.map((p) => ({ x: p.x + x, y: p.y + y }));
  const { inside, traced, outside } = panel.outlines;
  return {
    ...panel,
    loops: panel.loops.map((loop) => loop.map((e) => ({ ...e, points: line(e.points) }))),
    folds: panel.folds.map((f) => ({ ...f, points: line(f.points) })),
    outlines: { inside: inside.map(line), traced: traced.map(line), outside: outside.map(line) },
    ...(panel.guides ? { guides: panel.guides.map((g) => ({ ...g, points: line(g.points) })) } : {}),
  };
}
