/**
 * What `make` reports: format "girthwise-report", version 1. Positions and lengths flat on the traced outline, in mm
 * of the scaled drawing from its page's top-left corner, y down.
 */
import type { Issue } from '../base';
import { type Point3, ringArea } from '../math';
import type {
  DryFit,
  Fit,
  FoamResult,
  FoamSeamRow,
  PagePlan,
  Panel,
  PanelEdge,
  Results,
  Seam,
  Sheet,
  SheetPlan,
} from '../model';
import { endsOf, notesOf, plainly, round } from './inspection';

const orNull = (value: number | null) => (value === null ? null : round(value));

/** Everything that a report needs; absent when the work stopped before. */
export type Made = Pick<Results, 'seams'> & {
  readonly fit: Fit;
  readonly foam: FoamResult;
  readonly pages: PagePlan;
  /** Null when nothing was laid on sheets. */
  readonly sheets: SheetPlan | null;
  /** Null without a shell to put the panels on. */
  readonly dryFit: DryFit | null;
};

export function reportOf(made: Made, issues: readonly Issue[]) {
  const { fit, foam, pages, dryFit } = made;
  const seams = new Map((made.seams?.seams ?? []).map((s) => [s.id, s] as const));
  const edges = new Map<string, { panel: Panel; edge: PanelEdge }>();
  for (const panel of foam.panels) {
    for (const edge of panel.loops.flat()) edges.set(edge.id, { panel, edge });
  }
  return {
    format: 'girthwise-report',
    version: 1,
    fit: {
      scale: scaleEntry(fit),
      patternGirth: orNull(fit.patternGirth),
      insideGirthWanted: orNull(fit.insideGirthWanted),
      insideGirth: orNull(fit.insideGirth),
      outside: fit.shell && spaceEntry(fit.shell.outsideExtent),
    },
    panels: foam.panels.map(panelEntry),
    seams: foam.rows.flatMap((row) => {
      const seam = seams.get(row.seam);
      return seam ? seamEntry(row, seam, edges) : [];
    }),
    dryFit: dryFit && dryFitEntry(dryFit),
    pages: { count: pages.pages.length, width: round(pages.width), height: round(pages.height) },
    sheets: (made.sheets?.sheets ?? []).map(sheetEntry),
    notes: notesOf(issues),
  };
}

/** Distances of cut faces where they are meant to meet, and the volume that is in two panels as a part of the foam. */
function dryFitEntry({ designed: { gap, overlapShare } }: DryFit) {
  return {
    gap: gap && { mean: round(gap.mean), p95: round(gap.p95), max: round(gap.max) },
    overlapShare: round(overlapShare),
  };
}

/**
 * A sheet of foam with what lies on it. Like the outlines, from the top-left corner with y down: mirrored about the y
 * axis first, turned by `turn` (positive: clockwise as seen), then moved by (x, y).
 */
function sheetEntry(sheet: Sheet) {
  return {
    width: round(sheet.width),
    height: round(sheet.height),
    density: round(sheet.density ?? 0),
    name: sheet.name,
    thickness: round(sheet.thickness),
    material: sheet.material ?? null,
    offcut: sheet.outline !== undefined,
    usedWidth: round(sheet.usedWidth ?? sheet.width),
    panels: sheet.placements.map((p) => ({
      panel: p.panel,
      copy: p.copy,
      mirrored: p.mirrored,
      turn: round(-p.turn),
      x: round(p.x),
      y: round(sheet.height - p.y),
      locked: p.locked ?? false,
    })),
  };
}

/** One factor, or three for length, breadth and height. */
function scaleEntry({ scale, reshaped, shell }: Fit): number | readonly [number, number, number] {
  if (!reshaped || !shell) return round(scale);
  const { length, breadth, height } = shell.scales;
  return [round(length), round(breadth), round(height)];
}

const spaceEntry = (p: Point3) => [round(p.x), round(p.y), round(p.z)] as const;

function panelEntry(panel: Panel) {
  const faces = {
    inside: panel.outlines.inside,
    traced: panel.outlines.traced,
    outside: panel.outlines.outside,
  };
  const each = <T>(of: (rings: Panel['outlines']['traced']) => T) => ({
    inside: of(faces.inside),
    traced: of(faces.traced),
    outside: of(faces.outside),
  });
  return {
    id: panel.id,
    pieces: panel.pieces,
    quantity: panel.quantity,
    mirrored: panel.mirrored,
    thickness: round(panel.thickness),
    outlines: each((rings) => (outer(rings) ?? []).map(plainly)),
    /** Further rings: holes, and parts that the shifted outline fell apart into. */
    holes: each((rings) => rings.filter((r) => r !== outer(rings)).map((r) => r.map(plainly))),
    edges: panel.loops.flat().map((e) => ({
      id: e.id,
      seam: e.seam,
      shift: round(e.shift),
      bevel: round(e.bevel),
    })),
  };
}

/** The ring round the largest area. */
function outer(rings: Panel['outlines']['traced']): Panel['outlines']['traced'][number] | undefined {
  return [...rings].sort((a, b) => ringArea(b) - ringArea(a))[0];
}

function seamEntry(
  row: FoamSeamRow,
  seam: Seam,
  edges: ReadonlyMap<string, { readonly panel: Panel; readonly edge: PanelEdge }>,
) {
  const a = edges.get(seam.a.edge);
  const b = edges.get(seam.b.edge);
  if (!a || !b) return [];
  const side = (
    place: { panel: Panel; edge: PanelEdge },
    length: number,
    neutralLength: number,
    turned: boolean,
  ) => {
    const { points } = place.edge;
    // An edge that vanished under its shift has no place left.
    const ends = points.length > 1 ? endsOf(points, turned, plainly) : { from: null, to: null };
    return { panel: place.panel.id, ...ends, length: round(length), neutral: round(neutralLength) };
  };
  return [
    {
      id: row.seam,
      a: side(a, row.lengthA, row.neutralA, false),
      b: side(b, row.lengthB, row.neutralB, seam.direction === 'opposed'),
      mismatch: round(row.mismatch),
      openWedge: round(row.openWedge),
      bevel: round(row.bevel),
      bend: orNull(row.bend),
    },
  ];
}
