/**
 * Nesting behind messages, in a worker of its own: a search takes as long as it is let, and must not hold up the
 * pipeline. A newer search overtakes the one that runs. Every layout is sent as soon as it is found.
 */
import { Cancelled, type Issue } from '../base';
import { type NestLayout, type NestPanel, type NestSheet, nestPanels } from '../nest';
import { stopped } from '../pipeline';
import type { Mm } from '../units';

export type NestRequest =
  | {
      readonly kind: 'nest';
      readonly serial: number;
      readonly panels: readonly NestPanel[];
      readonly sheets: readonly NestSheet[];
      readonly gap: Mm;
      readonly margin: Mm;
      readonly seed: number;
      readonly seconds: number;
    }
  /** Ends the search; the layouts sent so far stand. */
  | { readonly kind: 'stop' };

export type NestReply =
  | { readonly kind: 'layout'; readonly serial: number; readonly layout: NestLayout }
  | { readonly kind: 'progress'; readonly serial: number; readonly fraction: number }
  | { readonly kind: 'ended'; readonly serial: number; readonly stopped: boolean }
  | { readonly kind: 'failed'; readonly serial: number; readonly issues: readonly Issue[] };

export interface NestHost {
  send(reply: NestReply): void;
  /** Lets waiting messages in; resolves when they are. */
  breathe(): Promise<void>;
  /** Milliseconds; only differences matter. */
  now(): number;
}

/** @returns what to call with every message that comes in. */
export function serveNest(host: NestHost): (request: NestRequest) => void {
  let running: { cancelled: boolean } | null = null;
  return (request) => {
    if (running) running.cancelled = true;
    if (request.kind === 'stop') return;
    const run = { cancelled: false };
    running = run;
    const { serial, panels, sheets, gap, margin, seed, seconds } = request;
    const work = {
      async step(done: number, total: number) {
        host.send({ kind: 'progress', serial, fraction: done / total });
        await host.breathe();
        if (run.cancelled) throw new Cancelled();
      },
    };
    const settings = {
      gap,
      margin,
      seed,
      effort: { kind: 'seconds' as const, seconds },
      clock: () => host.now() / 1000,
    };
    nestPanels(panels, sheets, settings, work, (layout) =>
      host.send({ kind: 'layout', serial, layout }),
    ).then(
      () => host.send({ kind: 'ended', serial, stopped: false }),
      (error: unknown) =>
        host.send(
          error instanceof Cancelled
            ? { kind: 'ended', serial, stopped: true }
            : { kind: 'failed', serial, issues: [stopped('sheets', error)] },
        ),
    );
  };
}
