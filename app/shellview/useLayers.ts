/** Keeps the stage's layers at the state of the view: each layer is made again only when something of it changed. */
import { useEffect } from 'react';
import { type Point3, point3 } from '../../src/math';
import type { BrowSection, Clearances, Headform } from '../../src/model';
import type { Opening } from '../../src/shell';
import type { Mm } from '../../src/units';
import { gapSizes } from './gapSizes';
import { type GapStretch, gapLines } from './gaps';
import type { ShellModel } from './model';
import { partLines, standingTriangles } from './onFaces';
import type { Sight } from './orbit';
import {
  bendMarksOf,
  chainOf,
  linesOf,
  normalOfRing,
  outlineOf,
  tightHatch,
  trianglesOf,
  wholeLines,
} from './painting';
import type { PartsOnShell } from './shown';
import type { Stage } from './stage';
import type { Rgb, ShellTheme } from './theme';

export interface Layers {
  readonly stage: Stage | null;
  readonly model: ShellModel;
  readonly theme: ShellTheme;
  readonly places: Float64Array;
  readonly sight: Sight;
  /** Enlarged: lines at their full weight. */
  readonly full: boolean;
  readonly folded: boolean;
  readonly bends: boolean;
  /** Stretches of seams that gape or press in the dry fit. */
  readonly gaps: readonly GapStretch[];
  readonly hovered: string | null;
  readonly selection: readonly string[];
  readonly opening: Opening | null;
  readonly brow: { readonly section: BrowSection; readonly reach: Mm } | null;
  /** The line of an outline that is being drawn. */
  readonly outline: readonly number[];
  /** Parts that lie and stand on the shell. */
  readonly laid: PartsOnShell | null;
  readonly head: {
    readonly form: Headform;
    readonly clearances: Clearances | null;
    readonly wanted: Mm;
  } | null;
}

/** Dashes are lengthened in steps, so that zooming makes lines anew only now and then. */
const stretchStep = 1.5;
/** Dashes keep their true length from this many pixels per mm on, as on the bench. */
const dashScale = 1.7;

const none = new Float32Array(0);
const off = { places: none, colours: none };
const noLines: readonly number[] = [];

export function useLayers(layers: Layers): void {
  const { stage, model, theme, places, sight, full, folded, bends } = layers;
  const { hovered, selection, opening, brow, head, gaps } = layers;
  const { outline, laid } = layers;
  const wanted = Math.max(0, Math.log(dashScale / sight.scale) / Math.log(stretchStep));
  const stretch = stretchStep ** Math.round(wanted);
  const weight = full ? 1 : 0.75;
  const clear = head !== null;

  useEffect(() => {
    if (!stage) return;
    const all = model.shell.faces.keys();
    const out = trianglesOf(model, places, all, (f) => theme.tints[model.tintOf[f]!]!);
    stage.mesh('outside', out.places, out.colours, { opacity: clear ? 0.45 : 1, side: 'out' });
    const inside = trianglesOf(model, places, model.shell.faces.keys(), () => theme.inside);
    stage.mesh('inside', inside.places, inside.colours, { opacity: clear ? 0.3 : 1, side: 'in' });
    stage.request();
  }, [stage, model, theme, places, clear]);

  useEffect(() => {
    if (!stage) return;
    const lines = linesOf(model, places, stretch);
    const { ink, soft } = theme;
    stage.lines('rim', lines.rim, { width: 2.4 * weight, colour: ink });
    stage.lines('ticks', full ? lines.ticks : noLines, { width: 1.1, colour: ink });
    stage.lines('seam', lines.seam, { width: 1.7 * weight, colour: ink });
    const fold = { width: full ? 1.1 : 0.8, colour: full ? ink : soft };
    stage.lines('mountain', lines.mountain, fold);
    stage.lines('valley', lines.valley, fold);
    stage.lines('flat', lines.flat, { ...fold, width: 1.2 * weight });
    stage.request();
  }, [stage, model, theme, places, stretch, weight, full]);

  useEffect(() => {
    if (!stage) return;
    const marks = bends ? bendMarksOf(model, places, Math.min(5, 3 * stretch)) : noLines;
    stage.lines('bends', marks, { width: 1, colour: theme.accent });
    stage.request();
  }, [stage, model, theme, places, bends, stretch]);

  useEffect(() => {
    if (!stage) return;
    const lines = gapLines(model, places, gaps, stretch);
    for (const { name, width } of gapSizes)
      stage.lines(`gap ${name}`, lines[name], { width: width * weight, colour: theme.look });
    stage.lines('gap bars', lines.bars, { width: 2 * weight, colour: theme.look });
    stage.request();
  }, [stage, model, theme, places, gaps, stretch, weight]);

  useEffect(() => {
    if (!stage) return;
    const show = (layer: string, ids: readonly string[], width: number, fill: Rgb) => {
      const faces = ids.flatMap((id) => model.facesOf(id));
      const sides = ids.flatMap((id) => model.linesOf(id));
      const area = faces.length > 0 ? trianglesOf(model, places, faces, () => fill) : off;
      stage.mesh(layer, area.places, area.colours, { opacity: 1, above: true });
      const outline = [...outlineOf(model, places, faces), ...wholeLines(model, places, sides)];
      stage.lines(layer, outline, { width: width * weight, colour: theme.accent, through: true });
    };
    show('selected', selection, 3, theme.accentSoft);
    show('hovered', hovered === null ? [] : [hovered], 4.5, theme.accentSoft);
    stage.request();
  }, [stage, model, theme, places, hovered, selection, weight]);

  useEffect(() => {
    if (!stage) return;
    const rim = opening && folded && !clear ? chainOf(opening.points, true) : noLines;
    stage.lines('opening', rim, { width: 5 * weight, colour: theme.accent, through: true });
    stage.request();
  }, [stage, theme, opening, folded, clear, weight]);

  useEffect(() => {
    if (!stage) return;
    stage.lines('outline', outline, { width: 3 * weight, colour: theme.accent, through: true });
    stage.request();
  }, [stage, theme, outline, weight]);

  useEffect(() => {
    if (!stage) return;
    const lines = laid ? partLines(model, places, laid) : null;
    stage.lines('laidEdges', lines?.edges ?? noLines, { width: 2.2 * weight, colour: theme.ink });
    stage.lines('laidHatch', full ? (lines?.hatch ?? noLines) : noLines, { width: 1, colour: theme.soft });
    const sheet = standingTriangles(laid?.standing ?? []);
    stage.mesh(
      'standing',
      sheet,
      sheet.map((_, i) => theme.inside[(i % 3) as 0 | 1 | 2]),
      { opacity: 0.6 },
    );
    stage.request();
  }, [stage, model, theme, places, laid, weight, full]);

  useEffect(() => {
    if (!stage) return;
    if (!brow) {
      stage.mesh('brow', none, none, { opacity: 0.3 });
      stage.lines('brow', noLines, { width: 3, colour: theme.accent });
      stage.lines('browFrame', noLines, { width: 1, colour: theme.accent });
    } else {
      const { section, reach } = brow;
      stage.lines('brow', chainOf(section.loop.points, true), {
        width: 3.4 * weight,
        colour: theme.accent,
        through: true,
      });
      const corners = planeCorners(section, reach);
      const [a, b, c, d] = corners;
      const fill = [a, b, c, a, c, d].flatMap((p) => [p.x, p.y, p.z]);
      const colours = fill.map((_, i) => theme.accent[(i % 3) as 0 | 1 | 2]);
      stage.mesh('brow', new Float32Array(fill), new Float32Array(colours), { opacity: 0.12 });
      stage.lines('browFrame', chainOf(corners, true), { width: 1, colour: theme.accent });
    }
    stage.request();
  }, [stage, theme, brow, weight]);

  useEffect(() => {
    if (!stage) return;
    if (!head) {
      stage.mesh('head', none, none, { opacity: 1 });
      stage.lines('tight', noLines, { width: 1, colour: theme.look });
    } else {
      const solid = solidOf(head.form, theme.head);
      stage.mesh('head', solid.places, solid.colours, { opacity: 1 });
      const room = head.clearances?.ofVertex;
      const hatch = room ? tightHatch(model, places, room, head.wanted, 5) : noLines;
      stage.lines('tight', hatch, { width: 1.4, colour: theme.look });
    }
    stage.request();
  }, [stage, model, theme, places, head]);

  useEffect(() => {
    if (!stage || sight.width === 0) return;
    stage.look(sight);
    stage.request();
  }, [stage, sight]);
}

/** How much the shown plane is larger than the section. */
const planeMargin = 1.14;

/** Corners of the piece of the brow plane that is shown: front right, front left, back left, back right. */
export function planeCorners(section: BrowSection, reach: Mm): readonly [Point3, Point3, Point3, Point3] {
  const { normal } = section.plane;
  const front = point3(0, normal.z, -normal.y);
  const middle = middleOf(section);
  const along = (planeMargin * Math.max(section.length, reach)) / 2;
  const across = (planeMargin * section.breadth) / 2;
  const at = (x: number, y: number) =>
    point3(middle.x + x * across, middle.y + y * along * front.y, middle.z + y * along * front.z);
  return [at(1, 1), at(-1, 1), at(-1, -1), at(1, -1)];
}

/** Middle of the section's bounds. */
function middleOf({ loop, plane }: BrowSection): Point3 {
  const xs = loop.points.map((p) => p.x);
  const ys = loop.points.map((p) => p.y);
  const x = (Math.min(...xs) + Math.max(...xs)) / 2;
  const y = (Math.min(...ys) + Math.max(...ys)) / 2;
  // On the plane, over the middle of the bounds; the plane never stands upright.
  const { normal, offset } = plane;
  return point3(x, y, (offset - normal.x * x - normal.y * y) / normal.z);
}

/** A solid shaded by its own normals. */
function solidOf(form: Headform, [r, g, b]: Rgb): { places: Float32Array; colours: Float32Array } {
  const at: number[] = [];
  const colours: number[] = [];
  for (const corners of form.triangles) {
    const ring = corners.map((v) => form.vertices[v]!);
    const n = normalOfRing(ring);
    const lit = 0.72 + 0.28 * Math.abs(0.35 * n.x + 0.6 * n.y + 0.72 * n.z);
    for (const p of ring) {
      at.push(p.x, p.y, p.z);
      colours.push(r * lit, g * lit, b * lit);
    }
  }
  return { places: new Float32Array(at), colours: new Float32Array(colours) };
}
