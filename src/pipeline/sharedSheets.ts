/** Panels of several wearers nested together, thickness by thickness, as cut files. */
import type { Issue, Work } from '../base';
import { laySheets } from '../layout';
import type { LetterShapes, MarkedPanels, Panel, ProjectDocument, Sheet } from '../model';
import { laidOf, nestPanels, planOf, sheetJobOf } from '../nest';
import type { NamedFile } from './archive';
import { cutMeta } from './files';

/** One wearer's panels; `place` is their folder and tells their panels from those of others. */
export interface WearerPanels {
  readonly place: string;
  readonly marked: MarkedPanels;
  readonly panels: readonly Panel[];
}

export interface SharedSheets {
  readonly files: readonly NamedFile[];
  readonly sheets: readonly Sheet[];
  readonly issues: readonly Issue[];
}

/**
 * Effort of the search for one panel, in evaluations and not in seconds, so that the same troupe gives the same sheets
 * on every machine.
 */
const effortPerPanel = 2_000;

/**
 * Nests all panels by what is decided about sheets of foam; locked places are one wearer's own and do not count here.
 * @returns a DXF and an SVG for each sheet, and all of them on pages; panels that no sheet can hold are findings
 * @throws Cancelled through `work`
 */
export async function sharedSheets(
  wearers: readonly WearerPanels[],
  document: Pick<ProjectDocument, 'title' | 'decisions' | 'lengthUnit'>,
  lettering: () => Promise<LetterShapes>,
  work: Work,
): Promise<SharedSheets> {
  const { sheets: decided, foam, build } = document.decisions;
  const named = wearers.flatMap(({ place, panels }) => panels.map((p) => ({ ...p, id: `${place}/${p.id}` })));
  /** What is said of a panel holds for everybody's. */
  const forAll = <T>(of: Readonly<Record<string, T>>): Record<string, T> =>
    Object.fromEntries(
      wearers.flatMap(({ place }) => Object.entries(of).map(([id, it]) => [`${place}/${id}`, it] as const)),
    );
  const decisions = {
    ...decided,
    turnsOf: forAll(decided.turnsOf),
    turnOverOf: forAll(decided.turnOverOf),
    laid: null,
  };
  const job = sheetJobOf(named, decisions, { traced: foam.traced, kerf: foam.kerf, usual: build.sheet });
  const copies = job.panels.reduce((sum, p) => sum + p.quantity, 0);
  const layout = await nestPanels(
    job.panels,
    job.sheets,
    {
      gap: job.gap,
      margin: job.margin,
      seed: decided.seed,
      effort: { kind: 'evaluations', evaluations: effortPerPanel * copies },
      clock: () => 0,
    },
    work,
  );
  const plan = planOf(job, laidOf(layout, job), decisions);
  const marked: MarkedPanels = {
    ...wearers[0]!.marked,
    panels: wearers.flatMap(({ place, marked: its }) =>
      its.panels.map((m) => ({ ...m, panel: { ...m.panel, id: `${place}/${m.panel.id}` } })),
    ),
  };
  const { writePagesPdf, writeSheetDxf, writeSheetSvg } = await import('../output');
  const meta = cutMeta(document);
  const files: NamedFile[] = plan.sheets.flatMap((sheet, k) => [
    { name: `sheet-${k + 1}.dxf`, content: writeSheetDxf(sheet, marked, meta) },
    { name: `sheet-${k + 1}.svg`, content: writeSheetSvg(sheet, marked, meta) },
  ]);
  const issues = [...layout.issues, ...plan.issues];
  if (plan.sheets.length === 0) return { files, sheets: plan.sheets, issues };
  const { title, lengthUnit } = document;
  const words = { title: `${title}, troupe`, lengthUnit };
  const laid = await laySheets(plan.sheets, marked, document.decisions.pages, await lettering(), words, work);
  if (!laid.ok) return { files, sheets: plan.sheets, issues: [...issues, ...laid.issues] };
  const pdf = { name: 'sheets.pdf', content: await writePagesPdf(laid.value, { title: words.title }, work) };
  return { files: [...files, pdf], sheets: plan.sheets, issues };
}
