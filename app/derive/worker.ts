/** Starts the real worker: a module worker that Vite builds from engine.worker.ts. */
import type { Reply, Request } from '../../src/worker';
import type { OpenWorker } from './client';

export const openWorker: OpenWorker = (received, crashed) => {
  const worker = new Worker(new URL('./engine.worker.ts', import.meta.url), { type: 'module' });
  worker.onmessage = (event: MessageEvent<Reply>) => received(event.data);
  worker.onerror = (event) => {
    event.preventDefault();
    crashed(event.message || 'no reason given');
  };
  worker.onmessageerror = () => crashed('a message could not be read');
  return {
    post: (request: Request) => worker.postMessage(request),
    end: () => worker.terminate(),
  };
};
