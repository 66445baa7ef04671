import { defineConfig } from '@playwright/test';

const port = Number(process.env.GIRTHWISE_PORT ?? 4317);
const root = typeof process.getuid === 'function' && process.getuid() === 0;
const executablePath = process.env.CHROME_PATH;

export default defineConfig({
  testDir: 'e2e',
  timeout: 60_000,
  expect: { timeout: 15_000 },
  fullyParallel: true,
  workers: 2,
  retries: 0,
  forbidOnly: Boolean(process.env.CI),
  use: {
    baseURL: `http://127.0.0.1:${port}/`,
    viewport: { width: 1440, height: 900 },
    acceptDownloads: true,
    launchOptions: {
      ...(executablePath ? { executablePath } : {}),
      // Debian's Chromium refuses its sandbox when it runs as root; the rest keeps it from looking for the network.
      args: [
        ...(root ? ['--no-sandbox'] : []),
        '--disable-quic',
        '--no-first-run',
        '--disable-background-networking',
        '--disable-component-update',
        '--disable-sync',
      ],
    },
  },
  webServer: {
    command: `node node_modules/vite/bin/vite.js preview --host 127.0.0.1 --port ${port} --strictPort`,
    url: `http://127.0.0.1:${port}/`,
    reuseExistingServer: !process.env.CI,
    timeout: 30_000,
  },
});
