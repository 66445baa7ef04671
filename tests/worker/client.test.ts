/** The page's side: numbering, sources sent once, a crash survived. */
import { describe, expect, it } from 'vitest';
import { createEngine, type EngineListener, Refused } from '../../app/derive';
import { Cancelled } from '../../src/base';
import type { Reply, Request } from '../../src/worker';
import { plainDocument } from '../project/arbitrary';

function page() {
  const started: {
    posted: Request[];
    reply: (r: Reply) => void;
    crash: (why: string) => void;
    ended: boolean;
  }[] = [];
  const heard: unknown[][] = [];
  const hear =
    (what: keyof EngineListener) =>
    (...args: unknown[]) =>
      void heard.push([what, ...args]);
  const engine = createEngine(
    (received, crashed) => {
      const worker = { posted: [] as Request[], reply: received, crash: crashed, ended: false };
      started.push(worker);
      return {
        post: (r) => void worker.posted.push(r),
        end: () => {
          worker.ended = true;
        },
      };
    },
    { part: hear('part'), progress: hear('progress'), settled: hear('settled'), crashed: hear('crashed') },
  );
  const worker = (n = started.length - 1) => started[n]!;
  return { engine, started, worker, heard };
}

describe('the engine', () => {
  it('starts no worker before there is work', () => {
    const { engine, started } = page();
    engine.cancel();
    expect(started).toHaveLength(0);
  });

  it('sends the sources once and the rest every time', () => {
    const { engine, worker } = page();
    engine.compute('d1', plainDocument);
    engine.compute('d1', { ...plainDocument, title: 'Helm 2' });
    engine.compute('d1', { ...plainDocument, sources: [...plainDocument.sources] });
    const sources = worker().posted.map((r) => r.kind === 'compute' && r.order.sources !== null);
    expect(sources).toEqual([true, false, true]);
    expect(worker().posted.map((r) => r.kind !== 'cancel' && r.serial)).toEqual([1, 2, 3]);
  });

  it('takes every part, but settles only with the newest', () => {
    const { engine, worker, heard } = page();
    engine.compute('d1', plainDocument);
    engine.compute('d1', { ...plainDocument, title: 'Helm 2' });
    worker().reply({ kind: 'part', serial: 1, document: 'd1', part: { fit: null } });
    worker().reply({ kind: 'progress', serial: 1, fraction: 0.5, what: 'old' });
    worker().reply({ kind: 'cancelled', serial: 1 });
    worker().reply({ kind: 'progress', serial: 2, fraction: 0.5, what: 'new' });
    worker().reply({ kind: 'done', serial: 2 });
    expect(heard).toEqual([
      ['part', 'd1', { fit: null }],
      ['progress', 0.5, 'new'],
      ['settled', true],
    ]);
  });

  it('answers each question with its own reply', async () => {
    const { engine, worker } = page();
    const pdf = engine.write('pages-pdf', 'd1', plainDocument);
    const svg = engine.write('panels-svg', 'd1', plainDocument);
    const stopped = engine.write('panels-svg', 'd1', plainDocument);
    const files = engine.check(plainDocument.sources);
    worker().reply({ kind: 'file', serial: 1, content: new Uint8Array([1]), issues: [] });
    worker().reply({ kind: 'failed', serial: 2, issues: [] });
    worker().reply({ kind: 'cancelled', serial: 3 });
    worker().reply({ kind: 'read', serial: 4, files: [] });
    expect(await pdf).toEqual(new Uint8Array([1]));
    await expect(svg).rejects.toBeInstanceOf(Refused);
    await expect(stopped).rejects.toBeInstanceOf(Cancelled);
    expect(await files).toEqual([]);
  });

  it('starts a crashed worker again with the newest work, but only once for the same work', async () => {
    const { engine, started, worker, heard } = page();
    engine.compute('d1', plainDocument);
    const lost = engine.write('pages-pdf', 'd1', plainDocument);
    worker().crash('out of memory');
    await expect(lost).rejects.toBeInstanceOf(Refused);
    expect(started.map((w) => w.ended)).toEqual([true, false]);
    expect(worker(1).posted).toHaveLength(1);
    expect(worker(1).posted[0]).toMatchObject({ kind: 'compute', order: { sources: plainDocument.sources } });
    worker(1).crash('out of memory');
    expect(started).toHaveLength(2);
    expect(heard).toEqual([
      ['crashed', 'out of memory', true],
      ['crashed', 'out of memory', false],
    ]);
    // The next change is new work.
    engine.compute('d1', { ...plainDocument, title: 'Smaller helm' });
    expect(started).toHaveLength(3);
    expect(worker(2).posted).toHaveLength(1);
  });

  it('gives up its questions when it ends', async () => {
    const { engine, worker } = page();
    const asked = engine.check([]);
    engine.end();
    await expect(asked).rejects.toBeInstanceOf(Cancelled);
    expect(worker().ended).toBe(true);
  });
});
