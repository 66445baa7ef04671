/**
 * Keeps the open document in the library: half a second after the last change, at once when the page is hidden or
 * another document is opened. One write at a time; a change during a write is written after it.
 */
import type { ProjectDocument } from '../../src/model';
import { saveProject } from '../../src/project';
import type { Editor } from './editor';
import type { Library } from './library';
import type { Session } from './session';

export const autosaveDelay = 500;

export interface Autosave {
  /** Writes what is not written yet; resolves when nothing is left or a write failed. */
  flush(): Promise<void>;
  /** The document is deleted: what is not written yet is dropped. */
  forget(id: string): void;
  stop(): void;
}

export interface Timer {
  set(run: () => void, delay: number): unknown;
  clear(handle: unknown): void;
  /** Milliseconds since 1970. */
  today(): number;
}

export const browserTimer: Timer = {
  set: (run, delay) => setTimeout(run, delay),
  clear: (handle) => clearTimeout(handle as ReturnType<typeof setTimeout>),
  today: () => Date.now(),
};

export function startAutosave(editor: Editor, library: Library, timer: Timer = browserTimer): Autosave {
  let waiting: unknown = null;
  let writing: Promise<void> | null = null;
  /** What is not written yet, by document id: the one before may still wait when another is opened. */
  const pending = new Map<string, ProjectDocument>();

  const note = (id: string, saved: Session['saved']) => {
    const s = editor.session.getState();
    if (s.documentId === id && s.saved !== saved) editor.report({ saved });
  };

  const write = async () => {
    for (let next = firstOf(pending); next; next = firstOf(pending)) {
      const [id, document] = next;
      pending.delete(id);
      note(id, 'saving');
      try {
        const card = {
          id,
          title: document.title,
          savedAt: timer.today(),
          files: document.sources.map((s) => s.name),
        };
        await library.put(card, saveProject(document));
        if (!pending.has(id)) note(id, 'saved');
      } catch {
        // Full or forbidden storage: said on screen, and tried again with the next change.
        if (!pending.has(id)) pending.set(id, document);
        note(id, 'failed');
        return;
      }
    }
  };

  const flush = async (): Promise<void> => {
    timer.clear(waiting);
    waiting = null;
    writing ??= write().finally(() => {
      writing = null;
    });
    await writing;
  };

  const unsubscribe = editor.session.subscribe((now, before) => {
    const { document, documentId } = now;
    if (!document || documentId === null) return;
    if (document === before.document && documentId === before.documentId) return;
    pending.set(documentId, document);
    note(documentId, 'unsaved');
    timer.clear(waiting);
    waiting = timer.set(() => void flush(), autosaveDelay);
  });

  return {
    flush,
    forget(id) {
      pending.delete(id);
    },
    stop() {
      unsubscribe();
      timer.clear(waiting);
    },
  };
}

function firstOf<K, V>(map: ReadonlyMap<K, V>): readonly [K, V] | null {
  for (const entry of map) return entry;
  return null;
}
