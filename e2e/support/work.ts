/** The page as its screens name things: samples, steps, figures, files that it hands out. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { type Download, expect, type Locator, type Page } from '@playwright/test';
import type { Hand } from './hands';

const samplesFolder = join(import.meta.dirname, '../../public/samples');

export const sampleText = (file: string): string => readFileSync(join(samplesFolder, file), 'utf8');

/** How a sample that the generator's truth is known for is drawn. */
export type Manner = 'clean' | 'loose';
/** Those, and the rough drawing whose numbers are left out. */
export type SampleManner = Manner | 'unnumbered';

interface ListedFile {
  readonly manner: string;
  readonly file: string;
  readonly pieces: number;
  readonly seams: number;
  readonly measure: {
    readonly length: number;
    readonly middles: readonly (readonly [number, number])[];
    readonly tape: readonly (readonly [readonly [number, number], readonly [number, number]])[] | null;
  } | null;
}

/** What the list of samples says about a file. */
export function listed(id: string, manner: SampleManner): ListedFile {
  const samples = JSON.parse(sampleText('samples.json')) as readonly {
    readonly id: string;
    readonly files: readonly ListedFile[];
  }[];
  const file = samples.find((s) => s.id === id)?.files.find((f) => f.manner === manner);
  if (!file) throw new Error(`No sample ${id} ${manner}`);
  return file;
}

const titles = {
  'gannet-helm': 'Gannet helm',
  'bollard-pauldron': 'Bollard pauldron',
  'keel-bracer': 'Keel bracer',
} as const;
export type SampleId = keyof typeof titles;

const mannerWords: Readonly<Record<SampleManner, string>> = {
  clean: 'tidy drawing',
  loose: 'rough drawing',
  unnumbered: 'rough, no numbers',
};

/**
 * Opens a sample from the start screen and waits until it is read; a drawing without a size gets its 96 units per inch.
 */
export async function openSample(page: Page, hand: Hand, id: SampleId, manner: SampleManner): Promise<void> {
  await page.goto('./');
  await hand.press(page.getByRole('button', { name: `${titles[id]}: ${mannerWords[manner]}` }));
  await expect(page.getByRole('region', { name: 'What was read' })).toBeVisible({ timeout: 45_000 });
  if (manner !== 'clean') {
    await expect(page.getByText('The file gives no real size.')).toBeVisible();
    await hand.choose(page.getByRole('radio', { name: /^96 units per inch/ }));
    await expect(page.getByText('at 96 units per inch, as you said.')).toBeVisible();
  }
}

export type StepName = 'Pattern' | 'Seams' | 'Size' | 'Panels' | 'Foam' | 'Sheets' | 'Pages' | 'Build';

export async function goTo(page: Page, hand: Hand, step: StepName): Promise<void> {
  const rail = page.getByRole('navigation', { name: 'Steps' });
  await hand.press(rail.getByRole('button', { name: step, exact: true }));
  await expect(page.getByRole('heading', { level: 2, name: step, exact: true })).toBeVisible();
}

/** Everything is computed: the answer to the last change is on screen. */
export async function settled(page: Page): Promise<void> {
  // What was asked for is marked as busy with the next picture; a second one leaves no gap.
  await page.evaluate(
    () => new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(() => done(null)))),
  );
  await expect(page.getByRole('main')).toHaveAttribute('aria-busy', 'false', { timeout: 45_000 });
}

/** One result in figures, by the names of its group and its own. */
export function figure(page: Page, group: string, label: string): Locator {
  return page
    .getByRole('region', { name: group, exact: true })
    .locator('.figure')
    .filter({ has: page.locator('dt', { hasText: new RegExp(`^${label}$`) }) })
    .locator('dd');
}

/** The figure comes to show this number, within a bound. */
export async function expectFigure(
  page: Page,
  group: string,
  label: string,
  value: number,
  bound: number,
): Promise<void> {
  await expect
    .poll(async () => Math.abs((await shown(page, group, label)) - value), {
      message: `${label}: ${value}`,
      timeout: 45_000,
    })
    .toBeLessThanOrEqual(bound);
}

/** The first number that the figure shows, or NaN. */
export async function shown(page: Page, group: string, label: string): Promise<number> {
  const place = figure(page, group, label);
  const text = (await place.count()) > 0 ? await place.textContent() : '';
  const number = /−?\d+(\.\d+)?/.exec(text ?? '')?.[0];
  return number === undefined ? Number.NaN : Number(number.replace('−', '-'));
}

export const field = (page: Page, name: string | RegExp) => page.getByRole('textbox', { name });
export const radio = (page: Page, name: string | RegExp) =>
  page.getByRole('radio', typeof name === 'string' ? { name, exact: true } : { name });
export const folded = (page: Page, title: string | RegExp) =>
  page.locator('details').filter({ has: page.locator('.folded-title', { hasText: title }) });

export const undoButton = (page: Page) => page.getByRole('button', { name: /^Undo/ });
export const redoButton = (page: Page) => page.getByRole('button', { name: /^Redo/ });

/** The file that an action hands out. */
export async function handedOut(
  page: Page,
  act: () => Promise<void>,
): Promise<{ name: string; bytes: Buffer }> {
  const [download] = await Promise.all([page.waitForEvent('download', { timeout: 45_000 }), act()]);
  return { name: download.suggestedFilename(), bytes: await bytesOf(download) };
}

async function bytesOf(download: Download): Promise<Buffer> {
  const stream = await download.createReadStream();
  const parts: Buffer[] = [];
  for await (const part of stream) parts.push(part as Buffer);
  return Buffer.concat(parts);
}

/** The message that waits for an answer. */
export const notice = (page: Page) => page.getByRole('dialog');
