/** The worker: the pipeline behind the protocol, with the lettering font that comes with the page. */
import fontAddress from '@fontsource/atkinson-hyperlegible/files/atkinson-hyperlegible-latin-400-normal.woff?url';
import { type LetteringFont, loadLettering } from '../../src/marks';
import { createPipeline } from '../../src/pipeline';
import { type Reply, type Request, serve } from '../../src/worker';

const scope = self as unknown as DedicatedWorkerGlobalScope;

let font: Promise<LetteringFont> | null = null;

/** Fetched once; after a failure again. */
function lettering(): Promise<LetteringFont> {
  font ??= fetchLettering().catch((error: unknown) => {
    font = null;
    throw error;
  });
  return font;
}

async function fetchLettering() {
  const response = await fetch(new URL(fontAddress, import.meta.url));
  if (!response.ok) throw new Error(`The lettering font could not be loaded: ${response.status}`);
  return loadLettering(await response.arrayBuffer());
}

/** A message to oneself queues behind the messages that already wait, without the delay of timers. */
const { port1, port2 } = new MessageChannel();
let breathed: (() => void) | null = null;
port1.onmessage = () => breathed?.();

function send(reply: Reply): void {
  if (reply.kind === 'file' && reply.content instanceof Uint8Array) {
    scope.postMessage(reply, [reply.content.buffer as ArrayBuffer]);
  } else scope.postMessage(reply);
}

const receive = serve({
  send,
  breathe: () =>
    new Promise((resolve) => {
      breathed = resolve;
      port2.postMessage(null);
    }),
  now: () => performance.now(),
  pipeline: createPipeline(lettering),
  lettering,
});

scope.onmessage = (event: MessageEvent<Request>) => receive(event.data);
