/** The bench under the pointer and under the keys. Places are drawing positions in mm, y up. */
import { expect, type Page } from '@playwright/test';
import { tabTo } from './hands';

export interface Place {
  readonly x: number;
  readonly y: number;
}

export const bench = (page: Page) => page.getByRole('application', { name: 'Bench' });

interface View {
  /** CSS pixels per mm. */
  readonly scale: number;
  /** Where (0, 0) lies, from the bench's top-left corner. */
  readonly x: number;
  readonly y: number;
}

async function viewOf(page: Page): Promise<View> {
  const text = (await bench(page).getAttribute('data-view')) ?? '';
  const [scale = Number.NaN, x = Number.NaN, y = Number.NaN] = text.split(' ').map(Number);
  return { scale, x, y };
}

/** The view glides to what it was asked for; this waits until it rests. */
async function restingView(page: Page): Promise<View> {
  let before = await viewOf(page);
  for (;;) {
    await pictured(page);
    const now = await viewOf(page);
    if (now.scale === before.scale && now.x === before.x && now.y === before.y) return now;
    before = now;
  }
}

/** Where a place is on the screen, CSS pixels of the page; it has to be on the bench. */
async function onScreen(page: Page, place: Place): Promise<Place> {
  const view = await restingView(page);
  const box = await bench(page).boundingBox();
  if (!box) throw new Error('The bench is not on the screen.');
  const at = { x: view.x + view.scale * place.x, y: view.y - view.scale * place.y };
  if (at.x < 0 || at.y < 0 || at.x > box.width || at.y > box.height)
    throw new Error(`(${place.x}, ${place.y}) is not in view.`);
  return { x: box.x + at.x, y: box.y + at.y };
}

/** Brings a place to the middle with the hand of the wheel and the middle button, at so many pixels per mm. */
export async function lookAt(page: Page, place: Place, scale: number): Promise<void> {
  const box = await bench(page).boundingBox();
  if (!box) throw new Error('The bench is not on the screen.');
  const middle = { x: box.x + box.width / 2, y: box.y + box.height / 2 };
  await page.getByRole('button', { name: 'Show everything' }).click();
  const from = await onScreen(page, place);
  await page.mouse.move(from.x, from.y);
  await page.mouse.down({ button: 'middle' });
  await page.mouse.move(middle.x, middle.y, { steps: 3 });
  await page.mouse.up({ button: 'middle' });
  await pictured(page);
  const before = (await viewOf(page)).scale;
  // The bench doubles its scale with every 320 pixels of the wheel; the browser turns it in whole steps.
  await page.mouse.wheel(0, -320 * Math.log2(scale / before));
  await expect.poll(async () => Math.abs((await viewOf(page)).scale / scale - 1)).toBeLessThan(0.05);
}

/** The bench has been drawn since. */
export const pictured = (page: Page) =>
  page.evaluate(
    () => new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(() => done(null)))),
  );

export async function clickAt(page: Page, place: Place): Promise<void> {
  const at = await onScreen(page, place);
  await page.mouse.click(at.x, at.y);
}

export async function dragAlong(page: Page, from: Place, to: Place): Promise<void> {
  const [a, b] = [await onScreen(page, from), await onScreen(page, to)];
  await page.mouse.move(a.x, a.y);
  await page.mouse.down();
  await page.mouse.move(b.x, b.y, { steps: 4 });
  await page.mouse.up();
}

const mostEdges = 200;

/** Takes the bench with Tab and goes from edge to edge until what is read out matches. */
export async function walkTo(page: Page, edge: RegExp): Promise<string> {
  await tabTo(page, bench(page));
  const said = page.locator('.drawing-bench [aria-live]');
  await page.keyboard.press('Home');
  let first: string | null = null;
  for (let i = 0; i < mostEdges; i++) {
    await pictured(page);
    const words = (await said.textContent()) ?? '';
    if (edge.test(words)) return words;
    if (words === first) break;
    first ??= words;
    await page.keyboard.press('.');
  }
  throw new Error(`No edge on the bench is read out as ${edge}`);
}
