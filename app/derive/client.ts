/**
 * The page's side of the worker: numbers requests, keeps the newest, restarts a worker that crashed. Knows nothing of
 * the session; `open` makes a worker (or a stand-in for tests).
 */
import type { Issue } from '../../src/base';
import { Cancelled } from '../../src/base';
import type { PatternSource, ProjectDocument, Results } from '../../src/model';
import type {
  DryFitOrder,
  FileCheck,
  FileKind,
  ProposalOrder,
  Reply,
  Request,
  SheetOrder,
  WorkOrder,
} from '../../src/worker';

export interface WorkerHandle {
  post(request: Request): void;
  end(): void;
}

/** Starts a worker; `crashed` is called when it died or a message could not be read. */
export type OpenWorker = (received: (reply: Reply) => void, crashed: (why: string) => void) => WorkerHandle;

export interface EngineListener {
  /** Newer results; `document` is the id that was given to `compute`. */
  part(document: string, part: Partial<Results>): void;
  progress(fraction: number, what: string): void;
  /** The newest compute request ended. `complete` is false when it was cancelled. */
  settled(complete: boolean): void;
  /** The worker died and was started again; `again` tells whether the last work is being tried once more. */
  crashed(why: string, again: boolean): void;
}

export interface Engine {
  compute(id: string, document: ProjectDocument): void;
  check(sources: readonly PatternSource[]): Promise<readonly FileCheck[]>;
  /** @throws {Refused} when it is not possible; {@link Cancelled} when it was cancelled. */
  write(
    what: FileKind | SheetOrder | ProposalOrder | DryFitOrder,
    id: string,
    document: ProjectDocument,
    /** Told what went wrong with parts of a file that was written all the same. */
    told?: (issues: readonly Issue[]) => void,
  ): Promise<Uint8Array | string>;
  /** Stops what runs and what waits. */
  cancel(): void;
  end(): void;
}

/** Work that ended with findings instead of a result. */
export class Refused extends Error {
  readonly issues: readonly Issue[];
  constructor(issues: readonly Issue[]) {
    super(issues[0]?.message ?? 'The work could not be done.');
    this.name = 'Refused';
    this.issues = issues;
  }
}

interface Waiting {
  readonly request: Request;
  readonly resolve: (reply: Reply) => void;
  readonly reject: (error: Error) => void;
}

export function createEngine(open: OpenWorker, listener: EngineListener): Engine {
  let worker: WorkerHandle | null = null;
  let serial = 0;
  /** Sources that the running worker has. */
  let sent: readonly PatternSource[] | null = null;
  let newest: { serial: number; id: string; document: ProjectDocument; crashes: number } | null = null;
  const waiting = new Map<number, Waiting>();

  const received = (reply: Reply) => {
    switch (reply.kind) {
      case 'part':
        listener.part(reply.document, reply.part);
        return;
      case 'progress':
        if (waiting.has(reply.serial) || reply.serial === newest?.serial) {
          listener.progress(reply.fraction, reply.what);
        }
        return;
      default:
        break;
    }
    const asked = waiting.get(reply.serial);
    if (asked) {
      waiting.delete(reply.serial);
      if (reply.kind === 'cancelled') asked.reject(new Cancelled());
      else if (reply.kind === 'failed') asked.reject(new Refused(reply.issues));
      else asked.resolve(reply);
    }
    if (reply.serial === newest?.serial) {
      newest = { ...newest, crashes: 0 };
      listener.settled(reply.kind !== 'cancelled');
    }
  };

  const crashed = (why: string) => {
    worker?.end();
    worker = null;
    sent = null;
    const lost = [...waiting.values()];
    waiting.clear();
    const again = newest !== null && newest.crashes === 0;
    listener.crashed(why, again);
    for (const w of lost) w.reject(new Refused([crashIssue(why)]));
    if (newest && again) send({ ...newest, crashes: 1 });
  };

  const post = (request: Request) => {
    worker ??= open(received, crashed);
    worker.post(request);
  };

  const orderFor = (id: string, { sources, ...rest }: ProjectDocument): WorkOrder => {
    worker ??= open(received, crashed);
    const known = sent === sources;
    sent = sources;
    return { document: id, sources: known ? null : sources, rest };
  };

  const send = (work: { id: string; document: ProjectDocument; crashes: number }) => {
    newest = { ...work, serial: ++serial };
    post({ kind: 'compute', serial, order: orderFor(work.id, work.document) });
  };

  const ask = (make: (serial: number) => Request) =>
    new Promise<Reply>((resolve, reject) => {
      const request = make(++serial);
      if (request.kind === 'cancel') return;
      waiting.set(request.serial, { request, resolve, reject });
      post(request);
    });

  return {
    compute(id, document) {
      send({ id, document, crashes: 0 });
    },
    async check(sources) {
      const reply = await ask((n) => ({ kind: 'check', serial: n, sources }));
      return reply.kind === 'read' ? reply.files : [];
    },
    async write(what, id, document, told) {
      const reply = await ask((n) => ({ kind: 'write', serial: n, what, order: orderFor(id, document) }));
      if (reply.kind !== 'file') throw new Refused([]);
      if (reply.issues.length > 0) told?.(reply.issues);
      return reply.content;
    },
    cancel() {
      if (worker) post({ kind: 'cancel', serial: null });
    },
    end() {
      worker?.end();
      worker = null;
      for (const w of waiting.values()) w.reject(new Cancelled());
      waiting.clear();
    },
  };
}

export function crashIssue(why: string): Issue {
  return {
    code: 'work-crashed',
    severity: 'error',
    stage: 'project',
    message: `The computing part of the page stopped unexpectedly and was started again (${why}).`,
    remedy: 'If it happens again, undo the last change; your work is kept.',
    place: {},
  };
}
