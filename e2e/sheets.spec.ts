/**
 * Sheets: an offcut drawn at true size, a price; the helm nested on 600 × 900 mm, one panel dragged by the pointer and so locked, nested again (it stays), reopened, and
 * cut files read back by independent parsers: every outline is that of its panel.
 */
import { readFileSync } from 'node:fs';
import { type Download, expect, type Page, test } from '@playwright/test';
import { areaD } from 'clipper2-ts';
import DxfParser from 'dxf-parser';
import { bench, dragAlong } from './support/bench';
import { handOf } from './support/hands';
import { readPanels } from './support/panelsSvg';
import { drawPages, pdfFacts } from './support/pdf';
import { goTo, openSample, settled, undoButton } from './support/work';

interface Spot {
  readonly x: number;
  readonly y: number;
}

async function fileOf(page: Page, press: () => Promise<void>): Promise<Buffer> {
  const waiting = page.waitForEvent('download');
  await press();
  const download: Download = await waiting;
  return readFileSync(await download.path());
}

async function nest(page: Page, button: string): Promise<void> {
  await page.getByRole('button', { name: button }).click();
  const again = page.getByRole('button', { name: 'Nest again' });
  await expect(again).toBeEnabled({ timeout: 45_000 });
  // Whoever started the search at the keyboard goes on from there.
  await expect(again).toBeFocused();
  await settled(page);
}

const around = (ring: readonly Spot[]): number =>
  ring.reduce((sum, p, i) => {
    const q = ring[(i + 1) % ring.length]!;
    return sum + Math.hypot(q.x - p.x, q.y - p.y);
  }, 0);

/** Area (by the polygon library) and length of every ring, in an order that both sides share. */
const measures = (rings: readonly (readonly Spot[])[]) =>
  rings
    .map((ring) => ({ area: Math.abs(areaD(ring.map(({ x, y }) => ({ x, y })))), length: around(ring) }))
    .sort((a, b) => a.area - b.area || a.length - b.length);

/** A triangle of 300 × 200 mm: two corners by the keys of the bench, the last one typed; then taken back as one step. */
async function drawOffcut(page: Page): Promise<void> {
  await page.getByRole('toolbar', { name: 'Tools' }).getByRole('button', { name: 'Draw an offcut' }).click();
  await bench(page).focus();
  await page.keyboard.press('Enter');
  for (let i = 0; i < 30; i++) await page.keyboard.press('Shift+ArrowRight');
  await page.keyboard.press('Enter');
  await expect(page.locator('.drawing-bench [aria-live]')).toHaveText(
    'Corner 2 at 300 mm across, 0 mm down.',
  );
  await page.getByLabel('Next corner, down, mm').fill('200');
  await page.keyboard.press('Enter');
  await page.getByRole('button', { name: 'Lay the next corner' }).click();
  await page.getByRole('button', { name: 'Keep this offcut' }).click();
  const listed = page.getByText('Offcut, 300 × 200 mm at most, 3.0 dm²');
  await expect(listed).toBeVisible();
  await undoButton(page).click();
  await expect(listed).toBeHidden();
}

test('the helm is nested, one panel locked, nested again, and cut files hold its panels', async ({
  page,
}) => {
  test.setTimeout(240_000);
  const hand = handOf('pointer', page);
  await openSample(page, hand, 'gannet-helm', 'clean');
  await settled(page);
  const panels = await readPanels(
    page,
    await (async () => {
      await goTo(page, hand, 'Pages');
      const button = page.getByRole('button', { name: 'Panels as SVG' });
      return (await fileOf(page, () => button.click())).toString('utf8');
    })(),
  );
  await goTo(page, hand, 'Sheets');
  await drawOffcut(page);
  await page.getByRole('button', { name: 'Add a sheet' }).click();
  await hand.write(page.getByLabel(/^Price of one/), '15');
  await expect(undoButton(page)).toHaveText(/Price of a sheet/);
  await hand.unfold(page.locator('details', { hasText: 'How long to search' }));
  await hand.write(page.getByLabel('Seconds'), '1');
  await settled(page);
  await nest(page, 'Nest the panels');
  await expect(page.getByText('All panels lie free of each other')).toBeVisible();

  // By keys: the first panel, and one millimetre aside.
  await bench(page).focus();
  await page.keyboard.press('Home');
  await page.keyboard.press('Enter');
  await page.keyboard.press('ArrowRight');
  await settled(page);
  const said = page.getByRole('status');
  await expect(said.getByText(/^Panel .+: its middle .+ from below, turned .+°, locked\.$/)).toBeAttached();
  await page.keyboard.press('Control+z');
  await expect(said.getByText('Undone: Move a panel.')).toBeAttached();
  await page.keyboard.press('ArrowRight');
  await settled(page);
  const left = page.getByLabel('Middle, from the left');
  const below = page.getByLabel('Middle, from below');
  await page.getByRole('button', { name: 'Unlock' }).waitFor();
  // By the pointer, from its middle to somewhere near the rim; sheet 1 hangs from the bench's zero, 900 mm high.
  const millimetres = async () => ({
    x: Number.parseFloat(await left.inputValue()),
    y: Number.parseFloat(await below.inputValue()),
  });
  const onBench = ({ x, y }: Spot) => ({ x, y: y - 900 });
  await page.getByRole('button', { name: 'Show everything' }).click();
  await dragAlong(page, onBench(await millimetres()), onBench({ x: 500, y: 450 }));
  await settled(page);
  const dropped = await millimetres();
  // The pointer goes by whole pixels at most.
  expect(Math.hypot(dropped.x - 500, dropped.y - 450)).toBeLessThan(5);
  await nest(page, 'Nest again');
  expect(await millimetres()).toEqual(dropped);
  await expect(page.getByRole('button', { name: 'Unlock' })).toBeVisible();
  await expect(page.getByText('All panels lie free of each other')).toBeVisible();

  // Saved and replayed.
  await expect(page.getByText('Kept in this browser')).toBeVisible();
  await page.reload();
  await settled(page);
  await goTo(page, hand, 'Sheets');
  await settled(page);
  await expect(page.getByText('All panels lie free of each other')).toBeVisible({ timeout: 45_000 });

  const wanted = measures(panels.panels.flatMap((p) => p.rings));
  const sheets = await page.getByRole('button', { name: /^Sheet \d+ as DXF$/ }).count();
  const cut: Spot[][] = [];
  const drawn: Spot[][] = [];
  for (let k = 1; k <= sheets; k++) {
    const dxf = await fileOf(page, () => page.getByRole('button', { name: `Sheet ${k} as DXF` }).click());
    const svg = await fileOf(page, () => page.getByRole('button', { name: `Sheet ${k} as SVG` }).click());
    for (const entity of new DxfParser().parseSync(dxf.toString('utf8'))!.entities)
      if (entity.layer === 'CUT') cut.push((entity as unknown as { vertices: Spot[] }).vertices);
    const sheet = await readPanels(page, svg.toString('utf8'));
    expect(sheet.viewBox.slice(2)).toEqual([600, 900]);
    drawn.push(...sheet.panels.flatMap((p) => p.rings.map((ring) => [...ring])));
  }
  for (const found of [measures(cut), measures(drawn)]) {
    expect(found).toHaveLength(wanted.length);
    found.forEach((ring, i) => {
      expect(Math.abs(ring.length - wanted[i]!.length)).toBeLessThan(0.02);
      expect(Math.abs(ring.area - wanted[i]!.area)).toBeLessThan(0.1);
    });
  }
  for (const p of cut.flat())
    expect(p.x >= 4.999 && p.x <= 595.001 && p.y >= 4.999 && p.y <= 895.001).toBe(true);

  await goTo(page, hand, 'Build');
  await expect(page.getByRole('table', { name: 'Material' })).toContainText(
    /laid out for .*: 1 sheet × 15 each/,
  );
  await goTo(page, hand, 'Sheets');
  const pdf = await fileOf(page, () => page.getByRole('button', { name: 'Sheets as pages (PDF)' }).click());
  expect(pdfFacts(pdf).pages).toBeGreaterThan(2);
  expect(drawPages(pdf, 40, 1, 2)).toHaveLength(2);
});
