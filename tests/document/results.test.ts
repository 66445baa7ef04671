/** Results follow the document: a stand-in worker that is answered by hand. */
import { describe, expect, it } from 'vitest';
import { createEditor } from '../../app/document/editor';
import { keepResults } from '../../app/document/results';
import { noResults } from '../../app/document/session';
import type { Results } from '../../src/model';
import type { Reply, Request } from '../../src/worker';
import { plainDocument } from '../project/arbitrary';

function bench() {
  const clock = { now: 0 };
  const editor = createEditor(() => clock.now);
  const posted: Request[] = [];
  const worker = { reply: (_: Reply) => {}, crash: (_: string) => {}, started: 0 };
  const keeper = keepResults(
    editor,
    (received, crashed) => {
      worker.reply = received;
      worker.crash = crashed;
      worker.started++;
      return { post: (r) => void posted.push(r), end: () => {} };
    },
    () => clock.now,
  );
  const now = () => editor.session.getState();
  const asked = () => posted.filter((r) => r.kind === 'compute');
  const last = () => {
    const request = asked().at(-1);
    if (request?.kind !== 'compute') throw new Error('nothing was asked');
    return request;
  };
  const rename = (title: string) => editor.changeDocument('Rename', (d) => ({ ...d, title }));
  return { editor, clock, keeper, worker, posted, now, asked, last, rename };
}

const fit = (scale: number) => ({ scale }) as Results['fit'];

describe('results', () => {
  it('are asked for when a document opens and when it changes, and are stale until they are there', () => {
    const { editor, worker, now, asked, last, rename } = bench();
    expect(asked()).toHaveLength(0);
    editor.show(plainDocument, 'd1');
    expect(asked()).toHaveLength(1);
    expect(now().stale).toBe(true);
    const { serial, order } = last();
    worker.reply({ kind: 'part', serial, document: order.document, part: { fit: fit(1) } });
    expect(now().results.fit).toEqual({ scale: 1 });
    expect(now().stale).toBe(true);
    worker.reply({ kind: 'done', serial });
    expect(now().stale).toBe(false);
    rename('Gannet helm 2');
    expect(asked()).toHaveLength(2);
    expect(now().stale).toBe(true);
    expect(now().results.fit).toEqual({ scale: 1 });
  });

  it('are not asked for when only the view changes', () => {
    const { editor, asked } = bench();
    editor.show(plainDocument, 'd1');
    editor.select(['e1']);
    editor.setStep('foam');
    editor.hover('e1');
    expect(asked()).toHaveLength(1);
  });

  it('of another document, or of the same one before it was closed, are never mixed in', () => {
    const { editor, worker, now, last } = bench();
    editor.show(plainDocument, 'd1');
    const first = last();
    editor.show({ ...plainDocument, title: 'Keel bracer' }, 'd2');
    worker.reply({ kind: 'part', serial: 1, document: first.order.document, part: { fit: fit(1) } });
    expect(now().results).toBe(noResults);
    editor.show(null, null);
    editor.show(plainDocument, 'd1');
    worker.reply({ kind: 'part', serial: 1, document: first.order.document, part: { fit: fit(1) } });
    expect(now().results).toBe(noResults);
    expect(last().order.document).not.toBe(first.order.document);
    worker.reply({ kind: 'part', serial: 3, document: last().order.document, part: { fit: fit(3) } });
    expect(now().results.fit).toEqual({ scale: 3 });
  });

  it('show progress only when work takes a while', () => {
    const { editor, clock, worker, now } = bench();
    editor.show(plainDocument, 'd1');
    worker.reply({ kind: 'progress', serial: 1, fraction: 0.2, what: 'Reading' });
    expect(now().progress).toBeNull();
    clock.now += 300;
    worker.reply({ kind: 'progress', serial: 1, fraction: 0.4, what: 'Pairing' });
    expect(now().progress).toEqual({ fraction: 0.4, what: 'Pairing' });
    worker.reply({ kind: 'done', serial: 1 });
    expect(now().progress).toBeNull();
  });

  it('stay older after a cancel, and can be asked for again', () => {
    const { editor, keeper, worker, posted, now, asked } = bench();
    editor.show(plainDocument, 'd1');
    keeper.cancelWork();
    expect(posted.at(-1)).toEqual({ kind: 'cancel', serial: null });
    worker.reply({ kind: 'cancelled', serial: 1 });
    expect(now()).toMatchObject({ stale: true, progress: null });
    keeper.computeAgain();
    expect(asked()).toHaveLength(2);
    worker.reply({ kind: 'done', serial: 3 });
    worker.reply({ kind: 'done', serial: 2 });
    expect(now().stale).toBe(false);
  });

  it('tell of a crash, once as a restart and then as a stop', () => {
    const { editor, worker, now } = bench();
    editor.show(plainDocument, 'd1');
    worker.crash('out of memory');
    expect(worker.started).toBe(2);
    expect(now().notice?.issues[0]).toMatchObject({ code: 'work-crashed', severity: 'error' });
    expect(now().notice?.issues[0]?.message).toContain('started again');
    worker.crash('out of memory');
    expect(worker.started).toBe(2);
    expect(now().notice?.issues[0]?.message).toContain('twice');
    expect(now().document).not.toBeNull();
  });

  it('are written into files from the open document', async () => {
    const { editor, keeper, worker, last } = bench();
    await expect(keeper.write('pages-pdf')).rejects.toThrow();
    editor.show(plainDocument, 'd1');
    const file = keeper.write('panels-svg');
    worker.reply({ kind: 'file', serial: 2, content: '<svg/>', issues: [] });
    expect(await file).toBe('<svg/>');
    expect(last().order.document).toContain('d1');
  });
});
