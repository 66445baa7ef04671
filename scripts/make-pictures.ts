/**
 * Takes the README's pictures from the real app: `npm run pictures`. Builds, serves, works the Gannet helm as a person
 * would, and renders two printed pages with poppler. Needs a Chromium (CHROME_PATH) and pdftoppm.
 */
import { execFileSync } from 'node:child_process';
import { mkdirSync, mkdtempSync, renameSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { chromium } from '@playwright/test';
import { build, preview } from 'vite';
// @ts-expect-error a plain script without types
import { findChromium } from './find-chromium.mjs';
// @ts-expect-error a plain script without types
import { root } from './local.mjs';

const docs = join(root, 'docs');
mkdirSync(docs, { recursive: true });
const scratch = mkdtempSync(join(tmpdir(), 'girthwise-pictures-'));
await build({ root, logLevel: 'warn', build: { outDir: join(scratch, 'dist') } });
const server = await preview({
  root,
  logLevel: 'warn',
  build: { outDir: join(scratch, 'dist') },
  preview: { host: '127.0.0.1', port: 4391, open: false },
});
const browser = await chromium.launch({
  executablePath: await findChromium(),
  args: process.getuid?.() === 0 ? ['--no-sandbox'] : [],
});
try {
  const page = await browser.newPage({ viewport: { width: 1440, height: 900 }, colorScheme: 'light' });
  const take = (name: string) => page.screenshot({ path: join(docs, `${name}.png`) });
  const settled = async () => {
    // A decision takes a moment to reach the worker.
    await page.waitForTimeout(600);
    await page.waitForFunction(
      () => document.querySelector('main')?.getAttribute('aria-busy') === 'false',
      null,
      {
        timeout: 60_000,
      },
    );
  };
  const open = async (step: string) => {
    await page
      .getByRole('navigation', { name: 'Steps' })
      .getByRole('button', { name: step, exact: true })
      .click();
    await settled();
  };
  const type = async (field: RegExp, value: string) => {
    await page.getByRole('textbox', { name: field }).first().fill(value);
    await page.keyboard.press('Enter');
  };

  await page.goto(server.resolvedUrls?.local[0] ?? 'http://127.0.0.1:4391/');
  await page.getByRole('img').first().waitFor();
  await page.waitForLoadState('networkidle');
  await take('start');
  await page.getByRole('button', { name: 'Gannet helm: tidy drawing' }).click();
  await page.getByRole('navigation', { name: 'Steps' }).waitFor();
  await settled();
  await take('pattern');
  await open('Seams');
  await take('seams');
  await open('Size');
  await type(/^Head girth/, '58 cm');
  await settled();
  await take('size');
  await open('Foam');
  await type(/^Mountain folds/, '20');
  await type(/^Valley folds/, '-15');
  await type(/^Seams/, '18');
  await settled();
  await take('foam');
  await open('Pages');
  await take('pages');
  const [download] = await Promise.all([
    page.waitForEvent('download', { timeout: 60_000 }),
    page.getByRole('button', { name: 'Print pages…' }).click(),
  ]);
  const pdf = join(scratch, 'pages.pdf');
  await download.saveAs(pdf);
  const render = (number: number, name: string) => {
    const out = join(scratch, name);
    execFileSync('pdftoppm', [
      '-r',
      '90',
      '-f',
      `${number}`,
      '-l',
      `${number}`,
      '-gray',
      '-png',
      '-singlefile',
      pdf,
      out,
    ]);
    renameSync(`${out}.png`, join(docs, `${name}.png`));
  };
  render(1, 'map');
  render(2, 'page');
} finally {
  await browser.close();
  await server.close();
  rmSync(scratch, { recursive: true, force: true });
}
