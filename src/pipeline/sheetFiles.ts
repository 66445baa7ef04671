/** Cut files of sheets of foam. Sheets that no longer belong to the panels, or collide, are refused. */
import { fail, type Issue, type Outcome, succeed, type Work } from '../base';
import { laySheets } from '../layout';
import type { LetteringFont } from '../marks';
import { isCuttable, type ProjectDocument, type Results, type SheetPlan } from '../model';
import { cutMeta, cutPanels, obstacle, refused } from './files';

type Document = Pick<ProjectDocument, 'title' | 'decisions'>;

/** The sheets that may be cut from, or why not. */
export function cuttableSheets({ sheets }: Pick<Results, 'sheets'>): Outcome<SheetPlan> {
  if (!sheets || sheets.sheets.length === 0)
    return fail(refused('No panels have been laid on sheets.', 'Nest them in the Sheets step first.'));
  if (!isCuttable(sheets))
    return fail(
      ...sheets.issues.map((i): Issue => ({ ...i, severity: 'error' })),
      refused('The sheets are not fit to be cut from as they are.', 'Nest again in the Sheets step.'),
    );
  return succeed(sheets);
}

/** One sheet of foam for a cutter, as DXF or SVG; sheets count from 0. */
export async function makeSheetFile(
  index: number,
  as: 'dxf' | 'svg',
  results: Results,
  document: Document,
  lettering: () => Promise<LetteringFont>,
): Promise<Outcome<string>> {
  const plan = cuttableSheets(results);
  if (!plan.ok) return plan;
  const sheet = plan.value.sheets[index];
  if (!sheet)
    return fail(refused(`There is no sheet ${index + 1}.`, 'Choose one of the sheets that are laid out.'));
  const marked = await cutPanels(results, document, lettering);
  if (!marked.ok) return marked;
  const { writeSheetDxf, writeSheetSvg } = await import('../output');
  const write = as === 'dxf' ? writeSheetDxf : writeSheetSvg;
  return succeed(write(sheet, marked.value, cutMeta(document)));
}

/** Every sheet as SVG and DXF: `sheet-1.svg`, `sheet-1.dxf`, and so on. */
export async function makeSheetFiles(
  results: Results,
  document: Document,
  lettering: () => Promise<LetteringFont>,
): Promise<Outcome<readonly { readonly name: string; readonly content: string | Uint8Array }[]>> {
  const plan = cuttableSheets(results);
  if (!plan.ok) return plan;
  const marked = await cutPanels(results, document, lettering);
  if (!marked.ok) return marked;
  const { writeSheetDxf, writeSheetSvg } = await import('../output');
  const meta = cutMeta(document);
  return succeed(
    plan.value.sheets.flatMap((sheet, k) => [
      { name: `sheet-${k + 1}.svg`, content: writeSheetSvg(sheet, marked.value, meta) },
      { name: `sheet-${k + 1}.dxf`, content: writeSheetDxf(sheet, marked.value, meta) },
    ]),
  );
}

/** All sheets at true scale, tiled on the paper of the pages, after one small picture of them. */
export async function makeSheetsPdf(
  results: Results,
  document: Pick<ProjectDocument, 'title' | 'decisions' | 'lengthUnit'>,
  lettering: () => Promise<LetteringFont>,
  work: Work,
): Promise<Outcome<Uint8Array>> {
  const why = obstacle(results);
  if (why) return fail(why);
  const plan = cuttableSheets(results);
  if (!plan.ok) return plan;
  if (!results.marked)
    return fail(refused('There are no panels to print.', 'Look at the findings of the earlier steps first.'));
  const { title, lengthUnit, decisions } = document;
  const words = { title, lengthUnit };
  const laid = await laySheets(
    plan.value.sheets,
    results.marked,
    decisions.pages,
    await lettering(),
    words,
    work,
  );
  if (!laid.ok) return laid;
  const { writePagesPdf } = await import('../output');
  return succeed(await writePagesPdf(laid.value, { title: `${title}: sheets` }, work));
}

/** The cut files and the pages of all sheets as one archive. */
export async function makeSheetsArchive(
  results: Results,
  document: Pick<ProjectDocument, 'title' | 'decisions' | 'lengthUnit'>,
  lettering: () => Promise<LetteringFont>,
  work: Work,
): Promise<Outcome<Uint8Array>> {
  const files = await makeSheetFiles(results, document, lettering);
  if (!files.ok) return files;
  const pdf = await makeSheetsPdf(results, document, lettering, work);
  if (!pdf.ok) return pdf;
  const { fileStem, writeArchive } = await import('../output');
  const folder = `${fileStem(document.title)} sheets`;
  return succeed(
    writeArchive(
      [...files.value, { name: 'sheets.pdf', content: pdf.value }].map((f) => ({
        ...f,
        name: `${folder}/${f.name}`,
      })),
    ),
  );
}
