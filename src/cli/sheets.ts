/** Panels laid on sheets by the command line: a search of fixed effort, so that the same input gives the same files. */
import type { Work } from '../base';
import type { Panel, ProjectDocument } from '../model';
import { laidOf, nestPanels, sheetJobOf } from '../nest';
import type { ParsedLine } from './arguments';

/** Looks at so many places for each panel: a second or two for a helmet of fifty; more hardly shortens its last sheet. */
const effortPerPanel = 40_000;

/** Sheets were asked for, or the project has some. */
export const wantsSheets = (options: ParsedLine['options'], { decisions }: ProjectDocument): boolean =>
  options.has('sheet') || decisions.sheets.laid !== null || decisions.sheets.stock.length > 0;

/** The document with its panels laid out anew; locked ones stay. */
export async function laidOnSheets(
  panels: readonly Panel[],
  document: ProjectDocument,
  work: Work,
): Promise<ProjectDocument> {
  const { decisions } = document;
  const { foam, build, sheets } = decisions;
  const job = sheetJobOf(panels, sheets, { traced: foam.traced, kerf: foam.kerf, usual: build.sheet });
  const { gap, margin } = job;
  // A clock is not looked at when the effort is counted.
  const copies = job.panels.reduce((sum, p) => sum + p.quantity, 0);
  const effort = { kind: 'evaluations', evaluations: effortPerPanel * copies } as const;
  const settings = { gap, margin, seed: sheets.seed, effort, clock: () => 0 };
  const layout = await nestPanels(job.panels, job.sheets, settings, work);
  return { ...document, decisions: { ...decisions, sheets: { ...sheets, laid: laidOf(layout, job) } } };
}
