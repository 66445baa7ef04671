/** The worker's side of the protocol on a port that is played by hand. */
import { describe, expect, it } from 'vitest';
import { Cancelled, succeed } from '../../src/base';
import { noResults, type ProjectDocument, type Results } from '../../src/model';
import type { Pipeline } from '../../src/pipeline';
import { type Reply, type Request, serve, type Writers } from '../../src/worker';
import { plainDocument } from '../project/arbitrary';

/** Lets everything that waits on promises go on. */
const settle = async () => {
  for (let i = 0; i < 50; i++) await Promise.resolve();
};

/** A pipeline of two slow stages whose results tell which document they belong to. */
function slowPipeline() {
  const runs: string[] = [];
  const pipeline: Pipeline = {
    async run(document, work, listener = () => {}) {
      runs.push(document.title);
      if (document.title === 'broken') throw new Error('out of foam');
      const fit = { scale: document.title.length } as Results['fit'];
      await work.step(0, 1, 'first');
      listener({ fit });
      await work.step(0.5, 1, 'second');
      const foam = {
        unsetBends: [document.title, String(document.sources.length)],
      } as unknown as Results['foam'];
      listener({ foam });
      await work.step(1, 1, 'third');
      return { ...noResults, fit, foam };
    },
  };
  return { pipeline, runs };
}

function port(options: { manual?: boolean; writers?: Writers } = {}) {
  const replies: Reply[] = [];
  let clock = 0;
  let breaths: (() => void)[] = [];
  const { pipeline, runs } = slowPipeline();
  const receive = serve({
    send: (reply) => replies.push(structuredClone(reply)),
    breathe: () =>
      options.manual ? new Promise<void>((resolve) => void breaths.push(resolve)) : Promise.resolve(),
    now: () => {
      clock += 100;
      return clock;
    },
    pipeline,
    lettering: () => Promise.reject(new Error('no lettering here')),
    ...(options.writers ? { writers: options.writers } : {}),
  });
  return {
    replies,
    runs,
    receive,
    async breathe() {
      const now = breaths;
      breaths = [];
      for (const b of now) b();
      await settle();
    },
    /** Replies that end a request, as kind and number. */
    ends: () =>
      replies
        .filter((r) => r.kind !== 'part' && r.kind !== 'progress')
        .map((r) => [r.kind, r.serial] as const),
  };
}

const order = (
  title: string,
  sources: ProjectDocument['sources'] | null = plainDocument.sources,
  document = 'd1',
) => {
  const { sources: _sources, ...rest } = plainDocument;
  return { document, sources, rest: { ...rest, title } };
};

const compute = (
  serial: number,
  title: string,
  ...more: [ProjectDocument['sources']?, string?]
): Request => ({
  kind: 'compute',
  serial,
  order: order(title, more[0] ?? null, more[1]),
});

describe('computing', () => {
  it('sends parts as they come, progress, and one end', async () => {
    const { receive, replies } = port();
    receive({ kind: 'compute', serial: 1, order: order('helm') });
    await settle();
    expect(replies.map((r) => r.kind)).toEqual(['progress', 'part', 'progress', 'part', 'progress', 'done']);
    expect(replies[1]).toMatchObject({ document: 'd1', part: { fit: { scale: 4 } } });
    expect(replies[2]).toMatchObject({ serial: 1, fraction: 0.5, what: 'second' });
  });

  it('the newest wins: the running one stops at its next step, those between never start', async () => {
    const { receive, breathe, ends, runs } = port({ manual: true });
    receive(compute(1, 'one', plainDocument.sources));
    await settle();
    receive(compute(2, 'two'));
    receive(compute(3, 'three'));
    for (let i = 0; i < 6; i++) await breathe();
    expect(runs).toEqual(['one', 'three']);
    expect(ends()).toEqual([
      ['cancelled', 2],
      ['cancelled', 1],
      ['done', 3],
    ]);
  });

  it('remembers the sources, and sends a part only when it is another', async () => {
    const shared = { scale: 9 } as Results['fit'];
    const replies: Reply[] = [];
    const receive = serve({
      send: (r) => replies.push(r),
      breathe: () => Promise.resolve(),
      now: () => 0,
      lettering: () => Promise.reject(new Error('no lettering here')),
      pipeline: {
        run: async (document, _work, listener = () => {}) => {
          listener({ fit: shared });
          listener({
            foam: { unsetBends: document.sources.map((s) => s.name) } as unknown as Results['foam'],
          });
          return noResults;
        },
      },
    });
    receive(compute(1, 'helm', plainDocument.sources));
    await settle();
    receive(compute(2, 'helm'));
    await settle();
    const parts = replies.filter((r) => r.kind === 'part').map((r) => r.part);
    expect(parts.map((p) => Object.keys(p))).toEqual([['fit'], ['foam'], ['foam']]);
    expect(parts[2]).toEqual({ foam: { unsetBends: ['gannet-helm.svg'] } });
  });

  it('sends everything again for another document, also when it comes back', async () => {
    const { receive, replies } = port();
    const fits = () => replies.filter((r) => r.kind === 'part' && 'fit' in r.part).length;
    receive(compute(1, 'helm', plainDocument.sources, 'd1#1'));
    await settle();
    receive(compute(2, 'helm', undefined, 'd2#2'));
    await settle();
    receive(compute(3, 'helm', undefined, 'd1#3'));
    await settle();
    expect(fits()).toBe(3);
  });

  it('turns a fault of the program into a finding and goes on working', async () => {
    const { receive, replies, ends } = port();
    receive(compute(1, 'fine', plainDocument.sources));
    receive(compute(2, 'broken'));
    await settle();
    receive(compute(3, 'fine again'));
    await settle();
    expect(ends()).toEqual([
      ['cancelled', 1],
      ['failed', 2],
      ['done', 3],
    ]);
    const failed = replies.find((r) => r.kind === 'failed');
    expect(failed?.kind === 'failed' && failed.issues[0]).toMatchObject({
      code: 'stage-stopped',
      severity: 'error',
    });
    expect(failed?.kind === 'failed' && failed.issues[0]?.message).toContain('out of foam');
  });
});

describe('cancelling', () => {
  it('stops one request by its number, and what waits when none is given', async () => {
    const { receive, breathe, ends } = port({ manual: true });
    receive(compute(1, 'one', plainDocument.sources));
    receive({ kind: 'write', serial: 2, what: 'panels-svg', order: order('two', null) });
    await settle();
    receive({ kind: 'cancel', serial: 1 });
    await breathe();
    expect(ends()).toEqual([['cancelled', 1]]);
    receive({ kind: 'cancel', serial: null });
    for (let i = 0; i < 4; i++) await breathe();
    expect(ends()).toEqual([
      ['cancelled', 1],
      ['cancelled', 2],
    ]);
  });

  it('a cancel with nothing to stop does nothing', async () => {
    const { receive, replies } = port();
    receive({ kind: 'cancel', serial: null });
    receive({ kind: 'cancel', serial: 7 });
    await settle();
    expect(replies).toEqual([]);
  });
});

describe('writing files', () => {
  const writers: Writers = {
    'pages-pdf': async (results, document, work) => {
      await work.step(1, 2, 'Writing pages');
      if (document.title === 'empty') return { ok: false, issues: [] };
      return succeed(new Uint8Array([results.fit?.scale ?? 0, 80]));
    },
    'check-pdf': async () => succeed(new Uint8Array([67])),
    'bend-test-pdf': async () => succeed(new Uint8Array([84])),
    'panels-svg': async () => succeed('<svg/>'),
    'panels-dxf': async () => succeed('0\nEOF\n'),
    'band-pdf': async (results) => succeed(new Uint8Array([results.fit?.scale ?? 0, 66])),
    'build-pdf': async () => succeed(new Uint8Array([66])),
    fold: async () => succeed('{}'),
    'sheets-pdf': async () => succeed(new Uint8Array([80])),
    'sheets-archive': async () => succeed(new Uint8Array([80, 75])),
    archive: async () => succeed(new Uint8Array([80, 75])),
    troupe: async () => succeed(new Uint8Array([80, 75])),
  };

  it('computes what is missing and hands over the bytes', async () => {
    const { receive, replies, ends } = port({ writers });
    receive({ kind: 'write', serial: 5, what: 'pages-pdf', order: order('helm') });
    receive({ kind: 'write', serial: 6, what: 'panels-svg', order: order('helm', null) });
    receive({ kind: 'write', serial: 7, what: 'pages-pdf', order: order('empty', null) });
    receive({ kind: 'write', serial: 8, what: 'band-pdf', order: order('helm', null) });
    await settle();
    await settle();
    await settle();
    expect(ends()).toEqual([
      ['file', 5],
      ['file', 6],
      ['failed', 7],
      ['file', 8],
    ]);
    const files = replies.flatMap((r) => (r.kind === 'file' ? [r.content] : []));
    expect(files).toEqual([new Uint8Array([4, 80]), '<svg/>', new Uint8Array([4, 66])]);
  });

  it('a newer compute does not stop a file that is being written', async () => {
    const { receive, ends } = port({ writers });
    receive({ kind: 'write', serial: 1, what: 'pages-pdf', order: order('helm') });
    receive(compute(2, 'newer'));
    await settle();
    expect(ends()).toEqual([
      ['file', 1],
      ['done', 2],
    ]);
  });

  it('can be cancelled while writing', async () => {
    const { receive, breathe, ends } = port({ manual: true, writers });
    receive({ kind: 'write', serial: 1, what: 'pages-pdf', order: order('helm') });
    await settle();
    for (let i = 0; i < 3; i++) await breathe();
    receive({ kind: 'cancel', serial: 1 });
    await breathe();
    expect(ends()).toEqual([['cancelled', 1]]);
  });
});

describe('checking files', () => {
  it('tells which can be read', async () => {
    const { receive, replies } = port();
    receive({
      kind: 'check',
      serial: 1,
      sources: [
        plainDocument.sources[0]!,
        { name: 'notes.txt', svg: 'hello' },
        { name: 'half.svg', svg: '<svg xmlns="http://www.w3.org/2000/svg"><path' },
      ],
    });
    await settle();
    const read = replies[0];
    if (read?.kind !== 'read') throw new Error(`expected an answer, got ${read?.kind}`);
    expect(read.files.map((f) => [f.name, f.readable])).toEqual([
      ['gannet-helm.svg', true],
      ['notes.txt', false],
      ['half.svg', false],
    ]);
    expect(read.files[1]!.issues.length).toBeGreaterThan(0);
  });
});

it('the error that stops work is told from a fault', () => {
  expect(new Cancelled()).toBeInstanceOf(Error);
  expect(new Cancelled().name).toBe('Cancelled');
});
