/** Keeps the session's results in step with its document: asks the worker, takes what it answers. */
import { Cancelled, type Issue } from '../../src/base';
import type { DryFitOrder, FileKind, ProposalOrder, SheetOrder } from '../../src/worker';
import { crashIssue, createEngine, type Engine, type OpenWorker, Refused } from '../derive';
import type { Editor } from './editor';
import { noResults } from './session';

export interface ResultsKeeper {
  readonly engine: Engine;
  /** Writes a file from the open document. @throws {Refused}, {Cancelled} as the engine does. */
  write(
    what: FileKind | SheetOrder | ProposalOrder | DryFitOrder,
    told?: (issues: readonly Issue[]) => void,
  ): Promise<Uint8Array | string>;
  /** Computes the open document once more, after a cancel. */
  computeAgain(): void;
  /** Stops what is being computed or written. The last good results stay, marked as older. */
  cancelWork(): void;
  stop(): void;
}

/** The part of progress below which nothing is shown: short work should not flicker. */
const quietFor = 250;

export function keepResults(editor: Editor, openWorker: OpenWorker, now: () => number): ResultsKeeper {
  const { session, report } = editor;
  let since = 0;
  /** Counts what was put on the bench: the worker sends only news, so a bench that was cleared is a new place. */
  let edition = 0;
  const place = (id: string) => `${id}#${edition}`;
  const engine = createEngine(openWorker, {
    part(where, part) {
      const s = session.getState();
      if (s.documentId !== null && where === place(s.documentId))
        report({ results: { ...s.results, ...part } });
    },
    progress(fraction, what) {
      if (now() - since >= quietFor) report({ progress: { fraction, what } });
    },
    settled(complete) {
      report(complete ? { stale: false, progress: null } : { progress: null });
    },
    crashed(why, again) {
      report({ progress: null });
      const twice: Issue = {
        ...crashIssue(why),
        message: `The computing part of the page stopped twice on the same work (${why}).`,
        remedy: 'Undo the last change, or save the project and open it again. What is shown is older.',
      };
      editor.showNotice('The computation stopped', [again ? crashIssue(why) : twice]);
    },
  });

  const ask = () => {
    const { document, documentId } = session.getState();
    if (!document || documentId === null) return;
    since = now();
    if (!session.getState().stale) report({ stale: true });
    engine.compute(place(documentId), document);
  };

  const unsubscribe = session.subscribe((s, before) => {
    if (s.document === before.document && s.documentId === before.documentId) return;
    if (s.documentId !== before.documentId || s.results === noResults) edition++;
    if (s.document) ask();
    else engine.cancel();
  });
  if (session.getState().document) ask();

  return {
    engine,
    write(what, told) {
      const { document, documentId } = session.getState();
      if (!document || documentId === null) return Promise.reject(new Refused([]));
      since = now();
      return engine.write(what, place(documentId), document, told);
    },
    computeAgain: ask,
    cancelWork() {
      engine.cancel();
      report({ progress: null });
    },
    stop() {
      unsubscribe();
      engine.end();
    },
  };
}

export const wasCancelled = (error: unknown): boolean => error instanceof Cancelled;
