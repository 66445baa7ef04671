/** Puts the parts together for the real page: browser storage, worker, downloads, leaving the page. */
import type { Issue } from '../../src/base';
import type { DryFit, PanelProposal, PatternSource, ProposalKind } from '../../src/model';
import { saveProject } from '../../src/project';
import { writeTroupe } from '../../src/troupe';
import type { FileCheck, FileKind, SheetOrder } from '../../src/worker';
import { openNestWorker, openWorker, Refused } from '../derive';
import { startAutosave } from './autosave';
import { editor } from './current';
import { createDocuments, freshId } from './documents';
import { download, type ExportKind } from './download';
import { browserHold } from './hold';
import { browserLibrary } from './library';
import { keepNesting } from './nesting';
import {
  rememberedOpen,
  rememberedPrinter,
  rememberedUnit,
  rememberOpen,
  rememberPrinter,
  rememberSingleKeys,
  rememberTheme,
  rememberUnit,
} from './preferences';
import { keepResults, wasCancelled } from './results';
import { measureWhenRead } from './sampleGirth';
import { samplePages } from './samples';

const { session } = editor;
const library = browserLibrary();
const autosave = startAutosave(editor, library);
const keeper = keepResults(editor, openWorker, () => performance.now());
const nester = keepNesting(editor, openNestWorker);
const { hold, release } = browserHold();

/** Whether files can be read; when the asking itself fails, none can, for that reason. */
async function check(sources: readonly PatternSource[]): Promise<readonly FileCheck[]> {
  try {
    return await keeper.engine.check(sources);
  } catch (error) {
    const issues = error instanceof Refused ? error.issues : [];
    return sources.map(({ name }) => ({ name, readable: false, issues }));
  }
}

const documents = createDocuments({
  editor,
  library,
  autosave,
  check,
  lengthUnit: rememberedUnit,
  printer: rememberedPrinter,
  newId: () => freshId(Date.now(), [...crypto.getRandomValues(new Uint32Array(4))]),
  hold,
  release,
});

export const { addFiles, closeDocument, deleteRecent, openRecent, recentDocuments, renameDocument } =
  documents;
export const { openFiles } = documents;
export const { start: startNesting, stop: stopNesting } = nester;
export const { cancelWork, computeAgain } = keeper;

const problem = (message: string, remedy: string): Issue => ({
  code: 'page-trouble',
  severity: 'error',
  stage: 'project',
  message,
  remedy,
  place: {},
});

/** The samples' list names a girth of the head so. */
const browMeasure = 'brow';

/** Opens a sample that comes with the page, in the given manner of drawing (its first when left out). A girth that is no head's is measured. */
export async function openSample(id: string, manner?: string): Promise<boolean> {
  try {
    const { sample, pages, measure } = await samplePages(id, manner);
    const opened = await documents.openFiles(pages, sample.title);
    // What goes round a head is measured on the folded shell.
    if (opened && measure && measure.id !== browMeasure) measureWhenRead(editor, measure);
    return opened;
  } catch (error) {
    editor.showNotice('The sample can’t be loaded', [
      problem(error instanceof Error ? error.message : String(error), 'Check the connection and try again.'),
    ]);
    return false;
  }
}

/** Pages as one PDF at true scale. Progress is in the session; `cancelWork()` stops it. True when it was handed over. */
export const exportPdf = () => writeFile('pages-pdf', 'pages', 'The pages can’t be made yet');

/** The page that shows what the printer does. */
export const exportBendTest = () => writeFile('bend-test-pdf', 'bendTest', 'The bend test can’t be made');
export const exportCheck = () => writeFile('check-pdf', 'check', 'The check page can’t be made');

/** Panels as one SVG in millimetres. */
export const exportSvg = () => writeFile('panels-svg', 'panels', 'The panels can’t be made yet');

/** Panels as one DXF for a cutter. */
export const exportDxf = () => writeFile('panels-dxf', 'cut', 'The panels can’t be made yet');

/** One sheet of foam for a cutter; `sheet` counts from 0. */
export const exportSheet = (as: 'svg' | 'dxf', sheet: number) =>
  writeFile(`sheet-${as}-${sheet}`, as === 'svg' ? 'sheet' : 'sheetCut', noSheets, `-sheet-${sheet + 1}`);

/** Cut files of all sheets as one archive. */
export const exportSheets = () => writeFile('sheets-archive', 'sheets', noSheets);

/** All sheets as pages at true scale. */
export const exportSheetPages = () => writeFile('sheets-pdf', 'sheetPages', noSheets);

const noSheets = 'The sheets can’t be made yet';

/** The build sheet as a PDF. */
export const exportBuild = () => writeFile('build-pdf', 'build', 'The build sheet can’t be made yet');

/** Every file of the build, and the project, as one archive. */
export const exportArchive = () => writeFile('archive', 'archive', 'The files can’t be made yet');

/** Everybody's files and the shared sheets, as one archive; says for whom something went wrong. */
export const exportTroupe = () =>
  writeFile(
    'troupe',
    'troupe',
    'The troupe’s files can’t be made yet',
    '',
    'The archive is made, but not all is well',
  );

/** Pattern, seams and folded shell as one FOLD file. */
export const exportFold = () => writeFile('fold', 'fold', 'The FOLD file can’t be made yet');

/** The try-on band as a PDF at true scale. */
export const exportBand = () => writeFile('band-pdf', 'band', 'The try-on band can’t be made yet');

/**
 * Looks for panels to cut or join; what is found lies in the session's `proposal` until it is taken or dropped. True
 * when something was found.
 */
export async function propose(kind: ProposalKind): Promise<boolean> {
  const { document } = session.getState();
  if (!document) return false;
  const { edits } = document.decisions.panels;
  try {
    const text = await keeper.write(`propose-${kind}`);
    if (typeof text !== 'string' || session.getState().document?.decisions.panels.edits !== edits)
      return false;
    editor.report({ proposal: { made: JSON.parse(text) as PanelProposal, on: edits }, progress: null });
    return true;
  } catch (error) {
    if (wasCancelled(error)) return false;
    const issues =
      error instanceof Refused
        ? error.issues
        : [problem(error instanceof Error ? error.message : String(error), 'Try again.')];
    editor.showNotice('No panels can be proposed', issues);
    return false;
  } finally {
    editor.report({ progress: null });
  }
}

/** Puts the panels together; what comes of it lies in the session's `dryFit`. True when it was measured. */
export async function dryFit(): Promise<boolean> {
  if (!session.getState().document) return false;
  try {
    const text = await keeper.write('dry-fit');
    if (typeof text !== 'string') return false;
    editor.report({
      dryFit: { made: JSON.parse(text) as DryFit, of: session.getState().results.foam },
      progress: null,
    });
    return true;
  } catch (error) {
    if (wasCancelled(error)) return false;
    const issues =
      error instanceof Refused
        ? error.issues
        : [problem(error instanceof Error ? error.message : String(error), 'Try again.')];
    editor.showNotice('The panels can’t be put together', issues);
    return false;
  } finally {
    editor.report({ progress: null });
  }
}

/** Whether a click takes single faces. */
export const pickFaces = (pickingFaces: boolean): void => editor.report({ pickingFaces });
/** Something was begun that goes on on the bench. */
export const goToBench = (): void => editor.report({ toBench: session.getState().toBench + 1 });
/** Whether a click adds to the selection. */
export const selectSeveral = (several: boolean): void => editor.report({ several });
export const dropProposal = (): void => editor.report({ proposal: null });

async function writeFile(
  what: FileKind | SheetOrder,
  kind: Exclude<ExportKind, 'project' | 'wearers'>,
  title: string,
  part = '',
  /** Title of what is said of parts of a file that was made all the same; left out: nothing is said. */
  half?: string,
): Promise<boolean> {
  const { document } = session.getState();
  if (!document) return false;
  try {
    let told: readonly Issue[] = [];
    const content = await keeper.write(what, (issues) => {
      told = issues;
    });
    download(document.title, kind, content, part);
    if (half && told.length > 0) editor.showNotice(half, told);
    return true;
  } catch (error) {
    if (wasCancelled(error)) return false;
    const issues =
      error instanceof Refused ? error.issues : [problem(String(error), 'Try again, or save the project.')];
    editor.showNotice(title, issues);
    return false;
  } finally {
    editor.report({ progress: null });
  }
}

/** The whole project as one file that this page, or another, opens again. */
export function saveProjectFile(): void {
  const { document } = session.getState();
  if (document) download(document.title, 'project', saveProject(document));
}

/** The table of the troupe, in the document's unit. */
export function saveTroupeTable(): void {
  const { document } = session.getState();
  if (document)
    download(document.title, 'wearers', writeTroupe(document.decisions.troupe.wearers, document.lengthUnit));
}

export const exportProject = saveProjectFile;

let started: Promise<void> | null = null;

/**
 * Called once by the page, before the first screen. Resolves when the document of last time is on the bench again, or
 * it is clear that there is none.
 */
export function startDocument(): Promise<void> {
  started ??= start();
  return started;
}

async function start(): Promise<void> {
  session.subscribe((now, before) => {
    if (now.theme !== before.theme) rememberTheme(now.theme);
    if (now.singleKeys !== before.singleKeys) rememberSingleKeys(now.singleKeys);
    const unit = now.document?.lengthUnit;
    if (unit && before.document && unit !== before.document.lengthUnit) rememberUnit(unit);
    const pages = now.document?.decisions.pages;
    const had = before.document?.decisions.pages;
    // Only what is decided here: a document that was opened may come from another computer.
    if (pages && had && now.documentId === before.documentId)
      if (pages.measured !== had.measured || pages.reach !== had.reach) rememberPrinter(pages);
    if (now.documentId !== before.documentId) rememberOpen(now.documentId);
  });
  addEventListener('beforeunload', (event) => {
    if (session.getState().document && session.getState().saved !== 'saved') event.preventDefault();
  });
  // Hiding is the last moment that mobile browsers announce.
  addEventListener('visibilitychange', () => {
    if (document.visibilityState === 'hidden') void autosave.flush();
  });
  const last = rememberedOpen();
  if (last !== null && !(await documents.reopen(last))) rememberOpen(null);
}
