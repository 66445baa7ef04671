/** The browser's file dialog, and the texts of what was picked or dropped. */
import type { TextFile } from '../document';

export const accepted = '.svg,image/svg+xml,.fold,.json,application/json';

export const acceptedTables = '.csv,.tsv,.txt,text/csv,text/plain';

/** Resolves with nothing when the dialog is closed without a choice. */
export function pickFiles(accept = accepted): Promise<readonly TextFile[]> {
  return new Promise((resolve) => {
    const input = document.createElement('input');
    input.type = 'file';
    input.accept = accept;
    input.multiple = true;
    input.hidden = true;
    const end = (files: Promise<readonly TextFile[]> | readonly TextFile[]) => {
      input.remove();
      resolve(files);
    };
    input.addEventListener('change', () => end(readFiles([...(input.files ?? [])])));
    input.addEventListener('cancel', () => end([]));
    document.body.append(input);
    input.click();
  });
}

/** Also for drag and drop. */
export function readFiles(files: readonly File[]): Promise<readonly TextFile[]> {
  return Promise.all(files.map(async (f) => ({ name: f.name, text: await f.text() })));
}
