// Builds the app, serves it on a free local port and opens it in the default browser when there is a desktop.
import { spawn } from 'node:child_process';
import { build, preview } from 'vite';
import { root } from './local.mjs';

console.log('Building…');
await build({ root, logLevel: 'warn' });
const server = await preview({
  root,
  logLevel: 'warn',
  preview: { port: 4173, strictPort: false, host: '127.0.0.1', open: false },
});
const address = server.resolvedUrls?.local[0];
if (!address) {
  console.error(
    'The app was built but no local port could be opened. Close a program that serves on this machine and run again.',
  );
  process.exit(1);
}
console.log(`\nGirthwise is served at ${address}\nStop it with Ctrl+C.`);

const desktop =
  process.platform === 'darwin' ||
  process.platform === 'win32' ||
  Boolean(process.env.DISPLAY || process.env.WAYLAND_DISPLAY);
if (desktop && !process.env.CI) {
  const [program, args] =
    process.platform === 'darwin'
      ? ['open', [address]]
      : process.platform === 'win32'
        ? ['cmd', ['/c', 'start', '', address]]
        : ['xdg-open', [address]];
  // A missing opener is no reason to stop: the address is printed above.
  spawn(program, args, { stdio: 'ignore', detached: true })
    .on('error', () => {})
    .unref();
}
