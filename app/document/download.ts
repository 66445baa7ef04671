/** Hands a file to the browser's downloads, with names by one rule. */

export type ExportKind =
  | 'pages'
  | 'check'
  | 'bendTest'
  | 'panels'
  | 'cut'
  | 'sheet'
  | 'sheetCut'
  | 'sheets'
  | 'sheetPages'
  | 'build'
  | 'band'
  | 'fold'
  | 'archive'
  | 'troupe'
  | 'wearers'
  | 'project';

/** What follows the title in a file name. */
const endings: Readonly<Record<ExportKind, string>> = {
  pages: '-pages.pdf',
  check: '-printer-check.pdf',
  bendTest: '-bend-test.pdf',
  panels: '-panels.svg',
  cut: '-panels.dxf',
  sheet: '.svg',
  sheetCut: '.dxf',
  sheets: '-sheets.zip',
  sheetPages: '-sheets.pdf',
  build: '-build.pdf',
  band: '-band.pdf',
  fold: '-shell.fold',
  archive: '-build.zip',
  troupe: '-troupe.zip',
  wearers: '-troupe.csv',
  project: '.girthwise.json',
};

const types: Readonly<Record<ExportKind, string>> = {
  pages: 'application/pdf',
  check: 'application/pdf',
  bendTest: 'application/pdf',
  panels: 'image/svg+xml',
  cut: 'image/vnd.dxf',
  sheet: 'image/svg+xml',
  sheetCut: 'image/vnd.dxf',
  sheets: 'application/zip',
  sheetPages: 'application/pdf',
  build: 'application/pdf',
  band: 'application/pdf',
  // The format has no media type of its own; it is JSON.
  fold: 'application/json',
  archive: 'application/zip',
  troupe: 'application/zip',
  wearers: 'text/csv',
  project: 'application/json',
};

/**
 * The title with the ending of its kind, `Gannet helm-pages.pdf`; what file systems refuse becomes a hyphen. `part` tells one of several files: `Gannet helm-sheet-1.svg`.
 */
export function exportName(title: string, kind: ExportKind, part = ''): string {
  const stem = title
    .normalize('NFC')
    .replace(/[\p{Cc}<>:"/\\|?*]+/gu, '-')
    .replace(/\s+/g, ' ')
    .replace(/^[\s.-]+|[\s.-]+$/g, '')
    .slice(0, 80)
    .trimEnd();
  return `${stem || 'Untitled'}${part}${endings[kind]}`;
}

/** Browser only. */
export function download(title: string, kind: ExportKind, content: Uint8Array | string, part = ''): void {
  const bytes = typeof content === 'string' ? content : new Uint8Array(content);
  const url = URL.createObjectURL(new Blob([bytes], { type: types[kind] }));
  const link = document.createElement('a');
  link.href = url;
  link.download = exportName(title, kind, part);
  link.hidden = true;
  document.body.append(link);
  link.click();
  link.remove();
  // The browser has taken the content over when the click returns; a late release keeps slow ones safe.
  setTimeout(() => URL.revokeObjectURL(url), 60_000);
}
