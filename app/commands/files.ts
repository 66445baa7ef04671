/** Opening, saving and handing out. */
import {
  closeDocument,
  exportArchive as downloadArchive,
  exportBand as downloadBand,
  exportBuild as downloadBuild,
  exportDxf as downloadDxf,
  exportFold as downloadFold,
  exportPdf as downloadPdf,
  exportSvg as downloadSvg,
  openFiles,
  saveProjectFile,
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

export const exportPdf = command({
  id: 'exportPdf',
  label: () => 'Pages as PDF',
  keys: ['Mod+p'],
  enabled: (s) => {
    if (!s.document) return 'Open a pattern first.';
    if (s.results.drawing?.size.from.kind === 'none') {
      return 'Say first how large the drawing is: its file has no physical size.';
    }
    return (s.results.pages?.pages.length ?? 0) > 0 || s.stale ? true : 'There are no pages yet.';
  },
  run(s) {
    const able = this.enabled(s);
    return able === true ? effect(downloadPdf) : refuse(able);
  },
});

/** The paper band that proves the size: a strip round the inside at the brow, and one over the crown. */
export const exportBand = command({
  id: 'exportBand',
  label: () => 'Try-on band as PDF',
  enabled: (s) => {
    if (!s.document) return 'Open a pattern first.';
    if (s.results.drawing?.size.from.kind === 'none') {
      return 'Say first how large the drawing is: its file has no physical size.';
    }
    if (s.results.fit?.shell) return true;
    return s.stale
      ? 'The pattern is still being folded up.'
      : 'There is no sound shell to measure a band on.';
  },
  run(s) {
    const able = this.enabled(s);
    return able === true ? effect(downloadBand) : refuse(able);
  },
});

export const exportSvg = command({
  id: 'exportSvg',
  label: () => 'Panels as SVG',
  enabled: (s) => {
    if (!s.document) return 'Open a pattern first.';
    if (s.results.drawing?.size.from.kind === 'none') {
      return 'Say first how large the drawing is: its file has no physical size.';
    }
    return (s.results.marked?.panels.length ?? 0) > 0 || s.stale ? true : 'There are no panels yet.';
  },
  run(s) {
    const able = this.enabled(s);
    return able === true ? effect(downloadSvg) : refuse(able);
  },
});

export const exportDxf = command({
  id: 'exportDxf',
  label: () => 'Panels as DXF for a cutter',
  enabled: (s) => {
    if (!s.document) return 'Open a pattern first.';
    if (s.results.drawing?.size.from.kind === 'none') {
      return 'Say first how large the drawing is: its file has no physical size.';
    }
    return (s.results.marked?.panels.length ?? 0) > 0 || s.stale ? true : 'There are no panels yet.';
  },
  run(s) {
    const able = this.enabled(s);
    return able === true ? effect(downloadDxf) : refuse(able);
  },
});

export const exportBuild = command({
  id: 'exportBuild',
  label: () => 'Build sheet as PDF',
  enabled: (s) => {
    if (!s.document) return 'Open a pattern first.';
    if (s.results.drawing?.size.from.kind === 'none') {
      return 'Say first how large the drawing is: its file has no physical size.';
    }
    return (s.results.build?.steps.length ?? 0) > 0 || s.stale ? true : 'There is nothing to build yet.';
  },
  run(s) {
    const able = this.enabled(s);
    return able === true ? effect(downloadBuild) : refuse(able);
  },
});

export const exportArchive = command({
  id: 'exportArchive',
  label: () => 'All files in one archive',
  enabled: (s) => {
    if (!s.document) return 'Open a pattern first.';
    if (s.results.drawing?.size.from.kind === 'none') {
      return 'Say first how large the drawing is: its file has no physical size.';
    }
    return (s.results.marked?.panels.length ?? 0) > 0 || s.stale ? true : 'There are no panels yet.';
  },
  run(s) {
    const able = this.enabled(s);
    return able === true ? effect(downloadArchive) : refuse(able);
  },
});

export const exportFold = command({
  id: 'exportFold',
  label: () => 'Pattern and shell as FOLD',
  enabled: (s) => {
    if (!s.document) return 'Open a pattern first.';
    if (s.results.drawing?.size.from.kind === 'none') {
      return 'Say first how large the drawing is: its file has no physical size.';
    }
    return (s.results.pattern?.pieces.length ?? 0) > 0 || s.stale ? true : 'There are no pieces yet.';
  },
  run(s) {
    const able = this.enabled(s);
    return able === true ? effect(downloadFold) : refuse(able);
  },
});
