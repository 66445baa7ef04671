/** Opening, saving and handing out. */
import {
  closeDocument,
  exportArchive as downloadArchive,
  exportBand as downloadBand,
  exportBendTest as downloadBendTest,
  exportBuild as downloadBuild,
  exportCheck as downloadCheck,
  exportDxf as downloadDxf,
  exportFold as downloadFold,
  exportPdf as downloadPdf,
  exportSvg as downloadSvg,
  exportTroupe as downloadTroupe,
  openFiles,
  type Session,
  saveProjectFile,
  saveTroupeTable,
} from '../document';
import { always, command, effect, refuse, withDocument } from './command';
import { pickFiles } from './pickFiles';

export const open = command({
  id: 'open',
  label: () => 'Open…',
  keys: ['Mod+o'],
  enabled: always,
  run: () =>
    effect(async () => {
      const files = await pickFiles();
      if (files.length > 0) await openFiles(files);
    }),
});

export const save = command({
  id: 'save',
  label: () => 'Save project file',
  keys: ['Mod+s'],
  enabled: withDocument,
  run: () => effect(saveProjectFile),
});

export const close = command({
  id: 'close',
  label: () => 'Close',
  enabled: withDocument,
  run: () => effect(closeDocument),
});

export const exportProject = command({
  id: 'exportProject',
  label: () => 'Project file',
  enabled: withDocument,
  run: () => effect(saveProjectFile),
});

/** A file made from what has come out so far; it needs a document whose real size is known. */
const handOut = (of: {
  readonly id: string;
  readonly label: string;
  readonly keys?: readonly string[];
  /** Whether there is something to write, or why not. */
  readonly ready: (s: Session) => true | string;
  readonly write: () => unknown;
}) => {
  const enabled = (s: Session): true | string => {
    if (!s.document) return 'Open a pattern first.';
    if (s.results.drawing?.size.from.kind === 'none')
      return 'Say first how large the drawing is: its file has no physical size.';
    return of.ready(s);
  };
  return command({
    id: of.id,
    label: () => of.label,
    ...(of.keys ? { keys: of.keys } : {}),
    enabled,
    run(s) {
      const able = enabled(s);
      return able === true ? effect(of.write) : refuse(able);
    },
  });
};

/** Ready once there is one, or while it is still on its way. */
const once = (count: (s: Session) => number | undefined, none: string) => (s: Session) =>
  (count(s) ?? 0) > 0 || s.stale ? true : none;
const panelsReady = once((s) => s.results.marked?.panels.length, 'There are no panels yet.');

export const exportPdf = handOut({
  id: 'exportPdf',
  label: 'Pages as PDF',
  keys: ['Mod+p'],
  ready: once((s) => s.results.pages?.pages.length, 'There are no pages yet.'),
  write: downloadPdf,
});

/** The printer's check page: it shows the printer, so no pattern has to be finished. */
export const exportCheck = command({
  id: 'exportCheck',
  label: () => 'Printer check page as PDF',
  enabled: withDocument,
  run: () => effect(downloadCheck),
});

/** Strip, plates and scale to find out how the foam bends. */
export const exportBendTest = command({
  id: 'exportBendTest',
  label: () => 'Bend test as PDF',
  enabled: withDocument,
  run: () => effect(downloadBendTest),
});

/** The paper band that proves the size: a strip round the inside at the brow, and one over the crown. */
export const exportBand = handOut({
  id: 'exportBand',
  label: 'Try-on band as PDF',
  ready: (s) => {
    if (s.results.fit?.shell) return true;
    return s.stale
      ? 'The pattern is still being folded up.'
      : 'There is no sound shell to measure a band on.';
  },
  write: downloadBand,
});

export const exportSvg = handOut({
  id: 'exportSvg',
  label: 'Panels as SVG',
  ready: panelsReady,
  write: downloadSvg,
});

export const exportDxf = handOut({
  id: 'exportDxf',
  label: 'Panels as DXF for a cutter',
  ready: panelsReady,
  write: downloadDxf,
});

export const exportBuild = handOut({
  id: 'exportBuild',
  label: 'Build sheet as PDF',
  ready: once((s) => s.results.build?.steps.length, 'There is nothing to build yet.'),
  write: downloadBuild,
});

export const exportArchive = handOut({
  id: 'exportArchive',
  label: 'All files in one archive',
  ready: panelsReady,
  write: downloadArchive,
});

/** Everybody's files: the table must hold somebody. */
export const exportTroupe = handOut({
  id: 'exportTroupe',
  label: 'Everybody’s files in one archive',
  ready: (s) =>
    s.document && s.document.decisions.troupe.wearers.length > 0
      ? panelsReady(s)
      : 'There is nobody in the table yet.',
  write: downloadTroupe,
});

/** The table itself, for a spreadsheet or for next year. */
export const exportWearers = command({
  id: 'exportWearers',
  label: () => 'Table of wearers as CSV',
  enabled: (s) =>
    s.document && s.document.decisions.troupe.wearers.length > 0 ? true : 'There is nobody in the table yet.',
  run: () => effect(saveTroupeTable),
});

export const exportFold = handOut({
  id: 'exportFold',
  label: 'Pattern and shell as FOLD',
  ready: once((s) => s.results.pattern?.pieces.length, 'There are no pieces yet.'),
  write: downloadFold,
});
