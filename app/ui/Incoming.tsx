import { useEffect, useState } from 'react';
import { readFiles } from '../commands';
import { addFiles, openFiles, session, type TextFile } from '../document';
import { Dialog } from './parts';
import { pastedFile } from './pastedText';

/**
 * Files dropped or pasted anywhere. With a pattern open it asks whether they are more pages of it; else they open at
 * once.
 */
export function Incoming() {
  const [over, setOver] = useState(false);
  const [waiting, setWaiting] = useState<readonly TextFile[] | null>(null);

  useEffect(() => {
    const receive = async (files: readonly TextFile[]) => {
      if (files.length === 0) return;
      if (session.getState().document) setWaiting(files);
      else await openFiles(files);
    };
    const carriesFiles = (event: DragEvent) => event.dataTransfer?.types.includes('Files') ?? false;
    // Enter and leave come in pairs from every element under the pointer.
    let depth = 0;
    const enter = (event: DragEvent) => {
      if (!carriesFiles(event)) return;
      depth += 1;
      setOver(true);
    };
    const leave = (event: DragEvent) => {
      if (!carriesFiles(event)) return;
      depth = Math.max(0, depth - 1);
      if (depth === 0) setOver(false);
    };
    const hover = (event: DragEvent) => {
      if (carriesFiles(event)) event.preventDefault();
    };
    const drop = (event: DragEvent) => {
      if (!carriesFiles(event)) return;
      event.preventDefault();
      depth = 0;
      setOver(false);
      void readFiles([...(event.dataTransfer?.files ?? [])]).then(receive);
    };
    const paste = (event: ClipboardEvent) => {
      const into = event.target;
      if (into instanceof HTMLInputElement || into instanceof HTMLTextAreaElement) return;
      const files = [...(event.clipboardData?.files ?? [])];
      if (files.length > 0) {
        event.preventDefault();
        void readFiles(files).then(receive);
        return;
      }
      const file = pastedFile(event.clipboardData?.getData('text/plain') ?? '');
      if (!file) return;
      event.preventDefault();
      void receive([file]);
    };
    addEventListener('dragenter', enter);
    addEventListener('dragleave', leave);
    addEventListener('dragover', hover);
    addEventListener('drop', drop);
    addEventListener('paste', paste);
    return () => {
      removeEventListener('dragenter', enter);
      removeEventListener('dragleave', leave);
      removeEventListener('dragover', hover);
      removeEventListener('drop', drop);
      removeEventListener('paste', paste);
    };
  }, []);

  const answer = (act: (files: readonly TextFile[]) => Promise<boolean>) => {
    const files = waiting;
    setWaiting(null);
    if (files) void act(files);
  };

  return (
    <>
      {over ? (
        <div className="drop-veil" aria-hidden="true">
          <p>Drop the pattern here</p>
        </div>
      ) : null}
      {waiting ? (
        <Dialog
          title={waiting.length === 1 ? 'One file has arrived' : `${waiting.length} files have arrived`}
          onClose={() => setWaiting(null)}
          actions={
            <>
              <button type="button" className="main-action" onClick={() => answer(addFiles)}>
                Add to this pattern
              </button>
              <button type="button" onClick={() => answer(openFiles)}>
                Open as new
              </button>
              <button type="button" onClick={() => setWaiting(null)}>
                Leave it
              </button>
            </>
          }
        >
          <ul className="rows">
            {waiting.map((file) => (
              <li key={file.name}>{file.name}</li>
            ))}
          </ul>
          <p className="hint">
            Further pages of the same pattern are added beside it. This document is kept either way.
          </p>
        </Dialog>
      ) : null}
    </>
  );
}
