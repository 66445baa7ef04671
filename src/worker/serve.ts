/**
 * The worker's side of the protocol, free of any worker global: the host hands in how to send, to breathe and to tell
 * the time. One thing runs at a time; of `compute` requests only the newest counts, everything else is done in order.
 */
import { Cancelled, fail, type Issue, type Outcome, succeed, type Work } from '../base';
import type { LetteringFont } from '../marks';
import {
  noResults,
  type PatternSource,
  type ProjectDocument,
  type ProposalKind,
  type Results,
} from '../model';
import { proposePanels, sheetRoom } from '../panels';
import {
  createDryFitter,
  makeArchive,
  makeBandPdf,
  makeBendTestPdf,
  makeBuildPdf,
  makeCheckPdf,
  makeFoldFile,
  makePagesPdf,
  makePanelsDxf,
  makePanelsSvg,
  makeSheetFile,
  makeSheetsArchive,
  makeSheetsPdf,
  makeTroupeArchive,
  type Pipeline,
  realStages,
  stopped,
} from '../pipeline';
import type {
  DryFitOrder,
  FileCheck,
  FileKind,
  ProposalOrder,
  Reply,
  Request,
  SheetOrder,
  WorkOrder,
} from './protocol';

export interface WorkerHost {
  send(reply: Reply): void;
  /** Lets waiting messages in; resolves when they are. */
  breathe(): Promise<void>;
  /** Milliseconds; only differences matter. */
  now(): number;
  readonly pipeline: Pipeline;
  /** The lettering of what is written on a file that is no part of the results, such as the try-on band. */
  lettering(): Promise<LetteringFont>;
  /** Writers of files; the real ones when left out. */
  readonly writers?: Writers;
}

/** Writes a file from finished results. */
export type FileWriter = (
  results: Results,
  document: ProjectDocument,
  work: Work,
) => Promise<Outcome<Uint8Array | string>>;

export type Writers = Readonly<Record<FileKind, FileWriter>>;

const realWriters = (lettering: WorkerHost['lettering'], pipeline: Pipeline): Writers => ({
  'pages-pdf': makePagesPdf,
  'check-pdf': (_, document, work) => makeCheckPdf(document, lettering, work),
  'bend-test-pdf': (_, document, work) => makeBendTestPdf(document, lettering, work),
  'panels-svg': makePanelsSvg,
  'panels-dxf': (results, document) => makePanelsDxf(results, document, lettering),
  'band-pdf': (results, document, work) => makeBandPdf(results, document, lettering, work),
  'build-pdf': (results, document, work) => makeBuildPdf(results, document, lettering, work),
  fold: makeFoldFile,
  'sheets-pdf': (results, document, work) => makeSheetsPdf(results, document, lettering, work),
  'sheets-archive': (results, document, work) => makeSheetsArchive(results, document, lettering, work),
  archive: (results, document, work) => makeArchive(results, document, lettering, work),
  troupe: (_, document, work) =>
    makeTroupeArchive(document, (own, its) => pipeline.run(own, its), lettering, work),
});

/** More often than this nobody can read a progress line. */
const progressEvery = 60;

type Job = Exclude<Request, { kind: 'cancel' }>;

/** @returns what to call with every message that comes in. */
export function serve(host: WorkerHost): (request: Request) => void {
  const writers = host.writers ?? realWriters(host.lettering, host.pipeline);
  const dryFitter = createDryFitter();
  let sources: readonly PatternSource[] = [];
  let waiting: readonly { readonly job: Job; readonly sources: readonly PatternSource[] }[] = [];
  let running: { readonly job: Job; cancelled: boolean } | null = null;
  /** What the page has, so that only news is sent. */
  let sent: { readonly document: string; results: Results } | null = null;

  const drop = (serial: number | null, kind?: Job['kind']) => {
    const out = (job: Job) => (serial === null || job.serial === serial) && (!kind || job.kind === kind);
    for (const w of waiting) if (out(w.job)) host.send({ kind: 'cancelled', serial: w.job.serial });
    waiting = waiting.filter((w) => !out(w.job));
    if (running && out(running.job)) running.cancelled = true;
  };

  const workOf = (run: { readonly job: Job; cancelled: boolean }): Work => {
    let told = host.now();
    return {
      async step(done, total, what) {
        if (host.now() - told >= progressEvery) {
          told = host.now();
          const fraction = total > 0 ? Math.min(1, done / total) : 0;
          host.send({ kind: 'progress', serial: run.job.serial, fraction, what });
        }
        await host.breathe();
        if (run.cancelled) throw new Cancelled();
      },
    };
  };

  /** Sends what the page does not have yet. */
  const tell = (serial: number, document: string, part: Partial<Results>) => {
    if (sent?.document !== document) sent = { document, results: noResults };
    const { results } = sent;
    const news = Object.fromEntries(
      Object.entries(part).filter(([name, value]) => results[name as keyof Results] !== value),
    ) as Partial<Results>;
    if (Object.keys(news).length === 0) return;
    sent.results = { ...results, ...news };
    host.send({ kind: 'part', serial, document, part: news });
  };

  const documentOf = (order: WorkOrder, its: readonly PatternSource[]): ProjectDocument => ({
    ...order.rest,
    sources: its,
  });

  const perform = async (
    run: { readonly job: Job; cancelled: boolean },
    its: readonly PatternSource[],
  ): Promise<Reply> => {
    const { job } = run;
    const { serial } = job;
    const work = workOf(run);
    switch (job.kind) {
      case 'compute': {
        const { order } = job;
        await host.pipeline.run(documentOf(order, its), work, (part) => tell(serial, order.document, part));
        return { kind: 'done', serial };
      }
      case 'check':
        return { kind: 'read', serial, files: job.sources.map(checkSource) };
      case 'write': {
        const document = documentOf(job.order, its);
        const results = await host.pipeline.run(document, work, (part) =>
          tell(serial, job.order.document, part),
        );
        const file = await answer(job.what, results, document, work);
        return file.ok
          ? { kind: 'file', serial, content: file.value, issues: file.issues }
          : { kind: 'failed', serial, issues: file.issues };
      }
    }
  };

  const answer = async (
    what: FileKind | SheetOrder | ProposalOrder | DryFitOrder,
    results: Results,
    document: ProjectDocument,
    work: Work,
  ): Promise<Outcome<Uint8Array | string>> => {
    if (what === 'dry-fit') {
      const fitted = await dryFitter(results, document, work);
      return fitted.ok ? succeed(JSON.stringify(fitted.value), fitted.issues) : fitted;
    }
    if (isSheet(what)) {
      const [, as, index] = what.split('-') as ['sheet', 'svg' | 'dxf', string];
      return makeSheetFile(Number(index), as, results, document, host.lettering);
    }
    return isProposal(what)
      ? proposeFor(results, document, what, work)
      : writers[what](results, document, work);
  };

  const failedBy = (job: Job, error: unknown): Reply => {
    const issue: Issue = stopped(job.kind === 'write' ? 'output' : 'project', error);
    if (job.kind === 'compute' && sent) {
      tell(job.serial, job.order.document, { issues: [issue, ...sent.results.issues] });
    }
    return { kind: 'failed', serial: job.serial, issues: [issue] };
  };

  const pump = async () => {
    if (running) return;
    for (let next = waiting[0]; next; next = waiting[0]) {
      waiting = waiting.slice(1);
      const run = { job: next.job, cancelled: false };
      running = run;
      let reply: Reply;
      try {
        reply = await perform(run, next.sources);
      } catch (error) {
        reply =
          error instanceof Cancelled
            ? { kind: 'cancelled', serial: next.job.serial }
            : failedBy(next.job, error);
      }
      running = null;
      host.send(reply);
    }
  };

  return (request) => {
    if (request.kind === 'cancel') {
      drop(request.serial);
      return;
    }
    if (request.kind !== 'check' && request.order.sources) sources = request.order.sources;
    if (request.kind === 'compute') drop(null, 'compute');
    waiting = [...waiting, { job: request, sources }];
    void pump();
  };
}

const isSheet = (what: FileKind | SheetOrder | ProposalOrder): what is SheetOrder =>
  /^sheet-(svg|dxf)-\d+$/.test(what);

const isProposal = (what: FileKind | ProposalOrder): what is ProposalOrder => what.startsWith('propose-');

/** A proposal for the panels of finished results. */
async function proposeFor(
  { pattern, seams, shell, fit }: Results,
  { decisions }: ProjectDocument,
  what: ProposalOrder,
  work: Work,
): Promise<Outcome<string>> {
  if (!pattern || !seams) {
    return fail({
      code: 'nothing-to-propose',
      severity: 'error',
      stage: 'panels',
      message: 'There is no pattern with seams yet.',
      remedy: 'Look at the findings of the earlier steps first.',
      place: {},
    });
  }
  const kind = what.slice('propose-'.length) as ProposalKind;
  const { trustDoubtful } = decisions.shell;
  const sound = shell && (shell.quality === 'good' || trustDoubtful) ? shell : null;
  const room = sheetRoom(decisions.sheets, decisions.build, decisions.foam, fit?.scale ?? 1);
  const made = await proposePanels(pattern, seams, sound, decisions.panels, kind, work, room);
  return made.ok ? succeed(JSON.stringify(made.value)) : made;
}

/** Whether a file can be read at all; its size question does not matter here. */
function checkSource(source: PatternSource, file: number): FileCheck {
  const outcome = realStages.readDrawing(source, { file, size: { kind: 'ask' } });
  return { name: source.name, readable: outcome.ok, issues: outcome.issues };
}
