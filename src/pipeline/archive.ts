/** All files of a build as one archive, named by rule, with the project file inside. */
import { type Issue, type Outcome, succeed, type Work } from '../base';
import type { LetteringFont } from '../marks';
import { isCuttable, type ProjectDocument, type Results } from '../model';
import { saveProject } from '../project';
import { makeBandPdf } from './band';
import { makeBuildPdf } from './buildSheet';
import { makeFoldFile, makePagesPdf, makePanelsDxf, makePanelsSvg } from './files';

import { makeSheetFiles, makeSheetsPdf } from './sheetFiles';

/** A file as it is called beside the others. */
export interface NamedFile {
  readonly name: string;
  readonly content: Uint8Array | string;
}

/**
 * The files that these results make, in a fixed order. Sheets of
 * foam are among them once panels are laid on them and may be cut. The band is left out where no head is given or no shell is there
 * to measure; everything else has to succeed.
 */
export async function makeAllFiles(
  results: Results,
  document: ProjectDocument,
  lettering: () => Promise<LetteringFont>,
  work: Work,
): Promise<Outcome<readonly NamedFile[]>> {
  const wanted: readonly (readonly [string, () => Promise<Outcome<Uint8Array | string>>])[] = [
    ['pages.pdf', () => makePagesPdf(results, document, work)],
    ['panels.svg', () => makePanelsSvg(results, document)],
    ['panels.dxf', () => makePanelsDxf(results, document, lettering)],
    ['build.pdf', () => makeBuildPdf(results, document, lettering, work)],
    ['pattern.fold', () => makeFoldFile(results, document)],
  ];
  const files: NamedFile[] = [];
  const issues: Issue[] = [];
  for (const [name, make] of wanted) {
    const made = await make();
    if (!made.ok) return made;
    issues.push(...made.issues);
    files.push({ name, content: made.value });
  }
  // Sheets that are out of date are told among the findings and left out.
  if (results.sheets && isCuttable(results.sheets)) {
    const sheets = await makeSheetFiles(results, document, lettering);
    if (!sheets.ok) return sheets;
    const pdf = await makeSheetsPdf(results, document, lettering, work);
    if (!pdf.ok) return pdf;
    files.push(...sheets.value, { name: 'sheets.pdf', content: pdf.value });
  }
  if (isForHead(results, document)) {
    const band = await makeBandPdf(results, document, lettering, work);
    issues.push(...band.issues.map((i) => (band.ok ? i : { ...i, severity: 'warning' as const })));
    if (band.ok) files.push({ name: 'band.pdf', content: band.value });
  }
  return succeed(files, issues);
}

/** A try-on band is of use: there is a head to try it on and a shell to measure. */
export function isForHead(results: Results, { decisions }: Pick<ProjectDocument, 'decisions'>): boolean {
  const { how, head } = decisions.fit;
  return (
    (how === 'head' || how === 'measures') && head !== null && results.shell !== null && !!results.fit?.shell
  );
}

/** One zip archive: a folder named after the title, in it every file and the project. */
export async function makeArchive(
  results: Results,
  document: ProjectDocument,
  lettering: () => Promise<LetteringFont>,
  work: Work,
): Promise<Outcome<Uint8Array>> {
  const files = await makeAllFiles(results, document, lettering, work);
  if (!files.ok) return files;
  const { fileStem, writeArchive } = await import('../output');
  return succeed(archiveWith(files.value, document, { fileStem, writeArchive }), files.issues);
}

/** The archive of files that are there already. */
export function archiveWith(
  files: readonly NamedFile[],
  document: ProjectDocument,
  { fileStem, writeArchive }: Pick<typeof import('../output'), 'fileStem' | 'writeArchive'>,
): Uint8Array {
  const folder = fileStem(document.title);
  const project = { name: `${folder}.girthwise.json`, content: saveProject(document) };
  return writeArchive([...files, project].map((f) => ({ ...f, name: `${folder}/${f.name}` })));
}
