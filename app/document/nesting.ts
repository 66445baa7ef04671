/**
 * A search for places on sheets: runs in a worker of its own, shows every better layout, and becomes one undo step
 * when it ends. A change of the panels or of what is decided about sheets ends it without a trace in the document.
 */

import type { LaidSheets, ProjectDocument, SheetDecisions } from '../../src/model';
import { laidOf, planOf, type SheetJob, sheetJobOf } from '../../src/nest';
import type { NestReply } from '../../src/worker';
import { crashIssue, type NestHandle, type OpenNestWorker } from '../derive';
import type { Editor } from './editor';
import type { Nesting } from './session';

export interface Nester {
  /** Begins a search; one that runs is dropped. */
  start(): void;
  /** Ends the search; what it has found is taken. */
  stop(): void;
}

/** What the sheets depend on beside the panels and the decisions about sheets. */
export const sheetSurroundings = ({ decisions }: Pick<ProjectDocument, 'decisions'>) => ({
  traced: decisions.foam.traced,
  kerf: decisions.foam.kerf,
  usual: decisions.build.sheet,
});

interface Run {
  readonly serial: number;
  readonly job: SheetJob;
  readonly decisions: SheetDecisions;
  laid: LaidSheets | null;
}

export function keepNesting(editor: Editor, open: OpenNestWorker): Nester {
  const { session, report } = editor;
  let worker: NestHandle | null = null;
  let serial = 0;
  let run: Run | null = null;

  const end = (word: Nesting['ended']) => {
    run = null;
    const { nesting } = session.getState();
    report({ nesting: word === null || !nesting ? null : { ...nesting, plan: null, ended: word } });
  };

  const take = () => {
    const found = run?.laid;
    end(null);
    if (found)
      editor.decide('Nest panels on sheets', (d) => ({ ...d, sheets: { ...d.sheets, laid: found } }));
  };

  const received = (reply: NestReply) => {
    if (!run || reply.serial !== run.serial) return;
    const { nesting } = session.getState();
    switch (reply.kind) {
      case 'layout': {
        run.laid = laidOf(reply.layout, run.job);
        const plan = planOf(run.job, run.laid, run.decisions);
        report({
          nesting: { fraction: nesting?.fraction ?? 0, plan, issues: reply.layout.issues, ended: null },
        });
        if (run.decisions.enough < 1 && plan.density >= run.decisions.enough && plan.left.length === 0)
          worker?.post({ kind: 'stop' });
        return;
      }
      case 'progress':
        // A hundredth is all that anybody sees.
        if (nesting && reply.fraction - nesting.fraction >= 0.01)
          report({ nesting: { ...nesting, fraction: reply.fraction } });
        return;
      case 'ended':
        take();
        return;
      case 'failed':
        end(null);
        editor.showNotice('The panels can’t be nested', reply.issues);
        return;
    }
  };

  const crashed = (why: string) => {
    worker?.end();
    worker = null;
    if (!run) return;
    end(null);
    editor.showNotice('The search for places stopped', [crashIssue(why)]);
  };

  const ready = (): NestHandle => {
    worker ??= open(received, crashed);
    return worker;
  };

  session.subscribe((now, before) => {
    // Loaded beforehand, so that the first layout does not wait for it.
    if (now.step === 'sheets' && before.step !== 'sheets') ready();
    if (!run) return;
    const changed =
      now.documentId !== before.documentId ||
      now.document?.decisions.sheets !== before.document?.decisions.sheets ||
      now.document?.decisions.foam !== before.document?.decisions.foam ||
      now.results.foam?.panels !== before.results.foam?.panels;
    if (!changed) return;
    worker?.post({ kind: 'stop' });
    end(now.documentId === before.documentId ? 'changed' : null);
  });

  return {
    start() {
      const { document, results } = session.getState();
      if (!document || !results.foam) return;
      const decisions = document.decisions.sheets;
      const job = sheetJobOf(results.foam.panels, decisions, sheetSurroundings(document));
      run = { serial: ++serial, job, decisions, laid: null };
      report({ nesting: { fraction: 0, plan: null, issues: [], ended: null } });
      const { panels, sheets, gap, margin } = job;
      const { seed, seconds } = decisions;
      ready().post({ kind: 'nest', serial, panels, sheets, gap, margin, seed, seconds });
    },
    stop() {
      if (run) worker?.post({ kind: 'stop' });
    },
  };
}
