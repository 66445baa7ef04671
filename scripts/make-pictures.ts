/**
 * Takes the README's pictures from the real app: `npm run pictures`. Builds, serves, works the Gannet helm as a person
 * would, and renders its map page and a tiled page of the pauldron with poppler. Needs a Chromium (CHROME_PATH) and pdftoppm.
 */
import { execFileSync } from 'node:child_process';
import { mkdirSync, mkdtempSync, renameSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { chromium } from '@playwright/test';
import { build, preview } from 'vite';
// @ts-expect-error a plain script without types
import { findChromium } from './find-chromium.mjs';
// @ts-expect-error a plain script without types
import { root } from './local.mjs';
import { smallPng } from './smallPng';

const docs = join(root, 'docs');
mkdirSync(docs, { recursive: true });
const scratch = mkdtempSync(join(tmpdir(), 'girthwise-pictures-'));
await build({ root, logLevel: 'warn', build: { outDir: join(scratch, 'dist'), emptyOutDir: true } });
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
  // The browser unpacks its own screenshot; packed again with few colours it is a third of the size.
  const unpacker = await browser.newPage();
  const take = async (name: string) => {
    const shot = await page.screenshot({ animations: 'disabled' });
    const { width, height, pixels } = await unpacker.evaluate(async (base64) => {
      const blob = await (await fetch(`data:image/png;base64,${base64}`)).blob();
      const bitmap = await createImageBitmap(blob);
      const canvas = new OffscreenCanvas(bitmap.width, bitmap.height);
      const context = canvas.getContext('2d')!;
      context.drawImage(bitmap, 0, 0);
      const { data } = context.getImageData(0, 0, bitmap.width, bitmap.height);
      let text = '';
      for (let i = 0; i < data.length; i += 0x8000)
        text += String.fromCharCode(...data.subarray(i, i + 0x8000));
      return { width: bitmap.width, height: bitmap.height, pixels: btoa(text) };
    }, shot.toString('base64'));
    writeFileSync(join(docs, `${name}.png`), smallPng(width, height, Buffer.from(pixels, 'base64')));
  };
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
  const bend = async () => {
    await open('Foam');
    await type(/^Mountain folds/, '20');
    await type(/^Valley folds/, '-15');
    await type(/^Seams/, '18');
    await settled();
  };
  const print = async (number: number, name: string) => {
    const [download] = await Promise.all([
      page.waitForEvent('download', { timeout: 60_000 }),
      page.getByRole('button', { name: 'Print pages…' }).click(),
    ]);
    const pdf = join(scratch, `${name}.pdf`);
    await download.saveAs(pdf);
    const out = join(scratch, name);
    const only = ['-f', `${number}`, '-l', `${number}`];
    execFileSync('pdftoppm', ['-r', '90', ...only, '-gray', '-png', '-singlefile', pdf, out]);
    renameSync(`${out}.png`, join(docs, `${name}.png`));
  };
  await open('Panels');
  await take('panels');
  await bend();
  await take('foam');
  await open('Sheets');
  await page.locator('details', { hasText: 'How long to search' }).locator('summary').click();
  await type(/^Seconds/, '8');
  await page.getByRole('button', { name: 'Nest the panels' }).click();
  await page.getByRole('button', { name: 'Nest again' }).waitFor({ timeout: 120_000 });
  await settled();
  await page.getByRole('button', { name: 'Show everything' }).click();
  await take('sheets');
  await open('Pages');
  await take('pages');
  await print(1, 'map');
  await open('Build');
  await take('build');

  // A page that others are taped to: the pauldron's panels are cut across.
  await page.getByRole('button', { name: 'Menu', exact: true }).click();
  await page.getByRole('button', { name: 'Close', exact: true }).click();
  await page.getByRole('button', { name: 'Bollard pauldron: tidy drawing' }).click();
  await settled();
  await bend();
  await open('Pages');
  await print(2, 'page');
} finally {
  await browser.close();
  await server.close();
  rmSync(scratch, { recursive: true, force: true });
}
