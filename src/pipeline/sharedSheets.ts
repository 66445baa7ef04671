/** Panels of several wearers nested together, thickness by thickness, as cut files. */
import type { Issue, Work } from '../base';
import type { MarkedPanels, Panel, ProjectDocument, Sheet } from '../model';
import { type NestSheet, nestPanels, nestPanelsOf, twinId } from '../nest';
import type { NamedFile } from './archive';
import { cutMeta } from './files';

/** One wearer's panels; `place` is their folder and tells their panels from those of others. */
export interface WearerPanels {
  readonly place: string;
  readonly marked: MarkedPanels;
  readonly panels: readonly Panel[];
}

/** Free foam between panels besides the kerf, and along the rim of a sheet: common practice, no source. */
const gap = 3;
const rim = 5;
/**
 * Effort of the search for one panel, in evaluations and not in seconds, so that the same troupe gives the same sheets
 * on every machine.
 */
const effortPerPanel = 2_000;

/**
 * Nests all panels on sheets of the size that is bought.
 * @returns a DXF and an SVG for each sheet, named by thickness and number; panels that no sheet can hold are findings
 * @throws Cancelled through `work`
 */
export async function sharedSheets(
  wearers: readonly WearerPanels[],
  document: Pick<ProjectDocument, 'title' | 'decisions' | 'lengthUnit'>,
  work: Work,
): Promise<{
  readonly files: readonly NamedFile[];
  readonly issues: readonly Issue[];
  readonly sheets: readonly Sheet[];
}> {
  const named = wearers.flatMap(({ place, panels }) => panels.map((p) => ({ ...p, id: `${place}/${p.id}` })));
  const marked: MarkedPanels = {
    ...wearers[0]!.marked,
    panels: wearers.flatMap(({ place, marked: its }) =>
      its.panels.map((m) => ({ ...m, panel: { ...m.panel, id: `${place}/${m.panel.id}` } })),
    ),
  };
  const { sheet } = document.decisions.build;
  const { kerf } = document.decisions.foam;
  const panels = nestPanelsOf(named, { turns: 'free', turnsOf: {}, facesAlike: false, locked: {} });
  const copies = panels.reduce((sum, p) => sum + p.quantity, 0);
  const thicknesses = [...new Set(panels.map((p) => p.thickness))].sort((a, b) => a - b);
  const stock = thicknesses.map(
    (thickness): NestSheet => ({
      id: `${thickness}mm`,
      thickness,
      // No panel needs more than a sheet of its own.
      count: copies,
      shape: { kind: 'rectangle', ...sheet },
    }),
  );
  const layout = await nestPanels(
    panels,
    stock,
    {
      gap: gap + kerf,
      margin: rim,
      seed: 1,
      effort: { kind: 'evaluations', evaluations: effortPerPanel * copies },
      clock: () => 0,
    },
    work,
  );
  const twins = new Map(named.filter((p) => p.mirrored).map((p) => [twinId(p.id), p]));
  const quantity = new Map(named.map((p) => [p.id, p.quantity]));
  const inside = document.decisions.foam.traced === 'inside';
  const sheets = layout.sheets.map((used): Sheet => {
    const { thickness } = stock.find((s) => s.id === used.sheet)!;
    return {
      name: `Sheet ${used.copy + 1}, ${thickness} mm`,
      thickness,
      ...sheet,
      placements: layout.placed
        .filter((p) => p.sheet === used.sheet && p.sheetCopy === used.copy)
        .map((p) => {
          const twin = twins.get(p.panel);
          // A twin's outline is the panel's mirrored already; its copies count on after the panel's own.
          const mirrored = p.mirrored !== (twin !== undefined);
          return {
            panel: twin ? twin.id : p.panel,
            copy: twin ? p.copy + quantity.get(twin.id)! : p.copy,
            y: p.y,
            // Where the inside face is drawn, the sheet is seen from behind: turned over about its upright middle.
            ...(inside
              ? { x: sheet.width - p.x, turn: -p.turn, mirrored: !mirrored }
              : { x: p.x, turn: p.turn, mirrored }),
          };
        }),
    };
  });
  const { writeSheetDxf, writeSheetSvg } = await import('../output');
  const meta = cutMeta(document);
  const files = layout.sheets.flatMap((used, i) => {
    const name = `${used.sheet}-${used.copy + 1}`;
    return [
      { name: `${name}.dxf`, content: writeSheetDxf(sheets[i]!, marked, meta) },
      { name: `${name}.svg`, content: writeSheetSvg(sheets[i]!, marked, meta) },
    ];
  });
  return { files, issues: layout.issues, sheets };
}
