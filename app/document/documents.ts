/**
 * Opening, adding, closing and coming back to documents. What can't be read leaves the open document untouched and
 * says so in a notice.
 */
import { hashText, type Issue } from '../../src/base';
import {
  defaultDecisions,
  isFoldText,
  type PageDecisions,
  type PatternSource,
  type ProjectDocument,
} from '../../src/model';
import { openProject } from '../../src/project';
import type { FileCheck } from '../../src/worker';
import type { Autosave } from './autosave';
import type { Editor } from './editor';
import type { DocumentCard, Library } from './library';

/** A file as picked or dropped: its text is read by then. */
export interface TextFile {
  readonly name: string;
  readonly text: string;
}

export interface Documents {
  /**
   * A project file is opened; pattern files (SVG, FOLD) become the pages of a new document. True when something new is on
   * the bench.
   */
  openFiles(files: readonly TextFile[], title?: string): Promise<boolean>;
  /** More pages for the open pattern: one undo step. */
  addFiles(files: readonly TextFile[]): Promise<boolean>;
  closeDocument(): Promise<void>;
  renameDocument(title: string): void;
  recentDocuments(): Promise<readonly DocumentCard[]>;
  openRecent(id: string): Promise<boolean>;
  deleteRecent(id: string): Promise<void>;
  /** The document to come back to after a reload or a crash; true when it is on the bench. */
  reopen(id: string): Promise<boolean>;
}

export interface DocumentsNeed {
  readonly editor: Editor;
  readonly library: Library;
  readonly autosave: Autosave;
  /** Asks the drawing reader whether files can be read at all. */
  readonly check: (sources: readonly PatternSource[]) => Promise<readonly FileCheck[]>;
  readonly lengthUnit: () => ProjectDocument['lengthUnit'];
  /** The printer that new documents are printed on; none known when left out. */
  readonly printer?: () => Pick<PageDecisions, 'measured' | 'reach'>;
  readonly newId: () => string;
  /** Takes the sole right to a document, so that two windows never write the same one. False: taken. */
  readonly hold: (id: string) => Promise<boolean>;
  readonly release: () => void;
}

/** Title of a new document from its first file's name. */
export function titleOf(fileName: string): string {
  const stem = fileName
    .replace(/^.*[\\/]/, '')
    .replace(/\.(svg|fold|json)$/i, '')
    .replace(/\.girthwise$/i, '')
    .replace(/[_\s]+/g, ' ')
    .trim();
  return stem || 'Untitled';
}

export function isProject(file: TextFile): boolean {
  // A FOLD file is JSON too, whatever its name.
  return !isFoldText(file.text) && (/\.json$/i.test(file.name) || /^\s*\{/.test(file.text));
}

const plain = (code: string, severity: Issue['severity'], message: string, remedy: string): Issue => ({
  code,
  severity,
  stage: 'project',
  message,
  remedy,
  place: {},
});

export function createDocuments(need: DocumentsNeed): Documents {
  const { editor, library, autosave, check, hold, release } = need;
  const { session } = editor;

  const put = async (document: ProjectDocument, id: string) => {
    await autosave.flush();
    if (session.getState().documentId !== id) {
      release();
      await hold(id);
    }
    editor.show(document, id);
  };

  /** The readable ones; a notice lists the others. */
  const readable = async (files: readonly TextFile[]): Promise<readonly PatternSource[]> => {
    const sources = files.map((f) => ({ name: f.name, svg: f.text }));
    const checks = await check(sources);
    const bad = checks.filter((c) => !c.readable);
    if (bad.length > 0) {
      const title =
        bad.length === 1 ? `${bad[0]!.name} can’t be read` : `${bad.length} of these files can’t be read`;
      editor.showNotice(
        title,
        bad.flatMap((c) => c.issues.filter((i) => i.severity === 'error')),
      );
    }
    return sources.filter((_, i) => checks[i]?.readable);
  };

  const openText = async (name: string, text: string, id: string): Promise<boolean> => {
    const opened = openProject(text);
    if (!opened.ok) {
      editor.showNotice(`${name} can’t be opened`, opened.issues);
      return false;
    }
    await put(opened.value, id);
    const worth = opened.issues.filter((i) => i.severity !== 'note');
    if (worth.length > 0) editor.showNotice(`${name} was opened with repairs`, worth);
    return true;
  };

  const openRecent = async (id: string, quietly: boolean): Promise<boolean> => {
    if (session.getState().documentId === id) return true;
    let text: string | null = null;
    try {
      text = await library.text(id);
    } catch {
      text = null;
    }
    if (text === null) {
      if (!quietly) {
        editor.showNotice('This document is no longer here', [
          plain(
            'document-gone',
            'error',
            'The browser no longer has this document: its storage was cleared or can’t be used.',
            'Open a saved project file instead.',
          ),
        ]);
      }
      return false;
    }
    const before = session.getState().documentId;
    await autosave.flush();
    release();
    if (!(await hold(id))) {
      if (before !== null) await hold(before);
      if (!quietly) {
        editor.showNotice('This document is open in another window', [
          plain(
            'document-held',
            'error',
            'Two windows on one document would overwrite each other’s changes.',
            'Close it there first, or go on working there.',
          ),
        ]);
      }
      return false;
    }
    const opened = openProject(text);
    if (!opened.ok) {
      release();
      if (before !== null) await hold(before);
      editor.showNotice('This document can’t be opened', opened.issues);
      return false;
    }
    editor.show(opened.value, id);
    return true;
  };

  return {
    async openFiles(files, title) {
      const first = files[0];
      if (!first) return false;
      const project = files.find(isProject);
      if (project) {
        const done = await openText(project.name, project.text, need.newId());
        if (done && files.length > 1) {
          editor.showNotice('Only the project was opened', [
            plain(
              'project-opened-alone',
              'note',
              `${project.name} is a whole project; the other ${files.length - 1} files were left out.`,
              'Add further pattern pages from the Pattern step.',
            ),
          ]);
        }
        return done;
      }
      const sources = await readable(files);
      if (sources.length === 0) return false;
      const { notice } = session.getState();
      await put(
        {
          title: title ?? titleOf(sources[0]!.name),
          sources,
          decisions: {
            ...defaultDecisions,
            pages: { ...defaultDecisions.pages, ...need.printer?.() },
          },
          lengthUnit: need.lengthUnit(),
        },
        need.newId(),
      );
      if (notice) editor.showNotice(notice.title, notice.issues);
      return true;
    },
    async addFiles(files) {
      if (!session.getState().document) return this.openFiles(files);
      const project = files.find(isProject);
      if (project) {
        editor.showNotice('A project can’t be added as a page', [
          plain(
            'project-as-page',
            'error',
            `${project.name} is a whole project, not a page of a pattern.`,
            'Open it instead, or add its pattern files.',
          ),
        ]);
        return false;
      }
      const sources = await readable(files);
      if (sources.length === 0) return false;
      editor.changeDocument(sources.length === 1 ? 'Add a page' : `Add ${sources.length} pages`, (d) => ({
        ...d,
        sources: [...d.sources, ...sources],
      }));
      return true;
    },
    async closeDocument() {
      await autosave.flush();
      release();
      editor.show(null, null);
    },
    renameDocument(title) {
      const clean = title.replace(/\s+/g, ' ').trimStart().slice(0, 120);
      editor.changeDocument('Rename', (d) => ({ ...d, title: clean || 'Untitled' }), { merge: 'rename' });
    },
    async recentDocuments() {
      try {
        return await library.cards();
      } catch {
        // Storage forbidden: there is nothing to come back to, and the saving state says so once a document is open.
        return [];
      }
    },
    openRecent: (id) => openRecent(id, false),
    async deleteRecent(id) {
      autosave.forget(id);
      if (session.getState().documentId === id) {
        release();
        editor.show(null, null);
      }
      await library.remove(id);
    },
    reopen: (id) => openRecent(id, true),
  };
}

/** An id no other document has: time and chance. */
export function freshId(now: number, chance: readonly number[]): string {
  return `${now.toString(36)}-${hashText(chance.join('.'))}`;
}
