/** The worker that lays panels on sheets: a search takes as long as it is let, so it has a worker of its own. */
import { type NestReply, type NestRequest, serveNest } from '../../src/worker';

const scope = self as unknown as DedicatedWorkerGlobalScope;

/** A message to oneself queues behind the messages that already wait, without the delay of timers. */
const { port1, port2 } = new MessageChannel();
let breathed: (() => void) | null = null;
port1.onmessage = () => breathed?.();

const receive = serveNest({
  send: (reply: NestReply) => scope.postMessage(reply),
  breathe: () =>
    new Promise((resolve) => {
      breathed = resolve;
      port2.postMessage(null);
    }),
  now: () => performance.now(),
});

scope.onmessage = (event: MessageEvent<NestRequest>) => receive(event.data);
