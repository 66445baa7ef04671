/**
 * The document and its session: read it with `useSession`, change it with the functions below, nothing else.
 * `startDocument()` is called once by the page before the first screen: it reopens the last document and starts
 * saving and computing.
 */
import { editor, useSession } from './current';

export { autosaveDelay } from './autosave';
export type { TextFile } from './documents';
export type { DecideOptions } from './editor';
export type { DocumentCard } from './library';
export { sheetSurroundings } from './nesting';
export { readOffcut } from './offcut';
export {
  addFiles,
  cancelWork,
  closeDocument,
  computeAgain,
  deleteRecent,
  dropProposal,
  dryFit,
  exportArchive,
  exportBand,
  exportBendTest,
  exportBuild,
  exportCheck,
  exportDxf,
  exportFold,
  exportPdf,
  exportProject,
  exportSheet,
  exportSheetPages,
  exportSheets,
  exportSvg,
  exportTroupe,
  goToBench,
  openFiles,
  openRecent,
  openSample,
  pickFaces,
  propose,
  recentDocuments,
  renameDocument,
  saveProjectFile,
  saveTroupeTable,
  selectSeveral,
  startDocument,
  startNesting,
  stopNesting,
} from './page';
export { type Printer, rememberedPrinter } from './preferences';
export { type Sample, sampleAddress, samples } from './samples';
export {
  type DrawnDraft,
  type Nesting,
  noDrawing,
  noResults,
  type OffcutDraft,
  type OutlineDraft,
  type Results,
  type Session,
  type StepName,
  stepNames,
  type ToolName,
} from './session';
export { type ReadShape, readShape } from './shape';
export { shownIn, shownResults } from './shown';
export { useSession };

export const {
  session,
  decide,
  endMerge,
  undo,
  redo,
  setStep,
  setTool,
  select,
  hover,
  showLikely,
  setDrawing,
  setOffcut,
  setOutline,
  setPairFrom,
  focusOn,
  showOnShell,
  dismissNotice,
  showNotice,
  setTheme,
  setSingleKeys,
  setLengthUnit,
} = editor;
