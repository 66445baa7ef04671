/** Starts the worker that lays panels on sheets. */
import type { NestReply, NestRequest } from '../../src/worker';

export interface NestHandle {
  post(request: NestRequest): void;
  end(): void;
}

export type OpenNestWorker = (
  received: (reply: NestReply) => void,
  crashed: (why: string) => void,
) => NestHandle;

export const openNestWorker: OpenNestWorker = (received, crashed) => {
  const worker = new Worker(new URL('./nest.worker.ts', import.meta.url), { type: 'module' });
  worker.onmessage = (event: MessageEvent<NestReply>) => received(event.data);
  worker.onerror = (event) => {
    event.preventDefault();
    crashed(event.message || 'no reason given');
  };
  worker.onmessageerror = () => crashed('a message could not be read');
  return {
    post: (request: NestRequest) => worker.postMessage(request),
    end: () => worker.terminate(),
  };
};
