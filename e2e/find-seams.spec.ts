/**
 * From a flat, rough drawing without a number to a band that proves the size: seams found, shell folded, brow measured,
 * head given, band printed and measured on the rendered page. And what is done with found seams, on a small pattern.
 */
import { expect, type Page, test } from '@playwright/test';
import { handOf } from './support/hands';
import { drawPages, pdfFacts } from './support/pdf';
import { crossedStrips } from './support/picture';
import {
  expectFigure,
  field,
  figure,
  goTo,
  handedOut,
  listed,
  openSample,
  settled,
  shown,
} from './support/work';

/** Fine enough that a line's middle is found within a few hundredths of a millimetre. */
const dotsPerInch = 400;
/** The band is this tall, and each part ends in a tab of this length: as its title says how to tape it. */
const bandTall = 40;
const bandTab = 20;

const seamFigure = (page: Page, label: string) => shown(page, 'Seams found', label);

/** Seams by the filter's own count, e.g. "Found by shape (12)". */
async function listedSeams(page: Page, filter: RegExp): Promise<number> {
  const options = await page.getByRole('combobox', { name: 'Show' }).locator('option').allTextContents();
  const option = options.find((text) => filter.test(text));
  return Number(/\((\d+)\)$/.exec(option ?? '')?.[1] ?? Number.NaN);
}

test('a rough helm without numbers is folded, measured, sized to 58 cm, and its band is true', async ({
  page,
}) => {
  test.setTimeout(300_000);
  const hand = handOf('pointer', page);
  await openSample(page, hand, 'gannet-helm', 'unnumbered');
  await goTo(page, hand, 'Seams');
  const cancel = page.getByRole('main').getByRole('button', { name: 'Cancel' });
  await expect(cancel).toBeVisible({ timeout: 45_000 });
  await expect(page.getByRole('main')).toHaveAttribute('aria-busy', 'false', { timeout: 150_000 });

  // Every one found is by shape, for want of numbers.
  const { seams, measure } = listed('gannet-helm', 'unnumbered');
  expect(await seamFigure(page, 'Paired')).toBe(seams);
  expect(await listedSeams(page, /^Found by shape/)).toBe(await listedSeams(page, /^All seams/));
  expect(await listedSeams(page, /^Found by number/)).toBe(0);

  await goTo(page, hand, 'Size');
  // A shell that folds up doubtfully is only measured on the maker's word.
  const trust = page.getByRole('button', { name: 'Take it anyway' });
  if (await trust.isVisible()) {
    await expect(page.getByText('so its girth is not taken')).toBeVisible();
    await trust.click();
  }
  await hand.write(field(page, 'Head girth'), '58 cm');
  await settled(page);
  const brow = await shown(page, 'Brow of the shell', 'Girth at the brow');
  await expectFigure(page, 'Size', 'Pattern’s girth', brow, 0.05);
  expect(Math.abs(brow - measure!.length)).toBeLessThanOrEqual(5);

  // Another height is another girth; the proposal comes back.
  const proposed = await field(page, 'Height of the brow').inputValue();
  await hand.write(field(page, 'Height of the brow'), String(Number(proposed) - 8));
  await expect(page.getByText('Set by you.')).toBeVisible();
  await expect.poll(() => shown(page, 'Brow of the shell', 'Girth at the brow')).not.toBe(brow);
  await hand.press(page.getByRole('button', { name: 'Propose again' }));
  await expectFigure(page, 'Brow of the shell', 'Girth at the brow', brow, 0.05);
  await settled(page);

  // Head and ease of 8 mm all round, by Steiner's formula.
  const wanted = 580 + 2 * Math.PI * 8;
  await expectFigure(page, 'Size', 'Inside girth wanted', wanted, 0.06);
  await expectFigure(page, 'Size', 'Inside girth', wanted, 0.15);
  await expect(figure(page, 'Room on the head', 'Smallest room')).toContainText('mm');
  await expect(page.getByText(/^It (goes|does not go) on: the opening below the brow is/)).toBeVisible();

  const { name, bytes } = await handedOut(page, () =>
    hand.press(page.getByRole('button', { name: 'Print try-on band…' })),
  );
  expect(name).toBe('Gannet helm-band.pdf');
  const facts = pdfFacts(bytes);
  expect(facts.printScaling).toBe('None');
  const strips = drawPages(bytes, dotsPerInch, 1, facts.pages).flatMap((picture) =>
    crossedStrips(picture, bandTall),
  );
  // All parts of the brow strip are cut to one length; the crown strip is shorter, and its first part has two tabs.
  const whole = (strip: readonly number[]) => Math.max(...strip) - Math.min(...strip);
  const alike = (strip: readonly number[]) => strips.filter((s) => Math.abs(whole(s) - whole(strip)) < 0.3);
  const parts = strips.map(alike).reduce((most, some) => (some.length > most.length ? some : most), []);
  expect(parts.length).toBeGreaterThanOrEqual(2);
  // Taped together, each part covers the tab of the one before it.
  const tabs = parts.flatMap((strip) => strip.filter((at) => Math.abs(at - strip[0]! - bandTab) < 0.15));
  expect(tabs).toHaveLength(parts.length);
  const round = parts.reduce((sum, strip) => sum + whole(strip) - bandTab, 0);
  test.info().annotations.push({ type: 'band', description: `${round} mm for ${wanted} mm` });
  expect(Math.abs(round - wanted)).toBeLessThanOrEqual(0.3);
  // And against the shell that the drawing was made from: its brow at this scale, less the foam, by Steiner's formula.
  const scale = (await shown(page, 'Size', 'Scale')) / 100;
  const inside = measure!.length * scale - 2 * Math.PI * 5;
  expect(Math.abs(round - inside)).toBeLessThanOrEqual(5);
});

test('found seams are accepted, left aside and looked for again, each step undone', async ({ page }) => {
  test.setTimeout(120_000);
  const hand = handOf('keyboard', page);
  await openSample(page, hand, 'bollard-pauldron', 'clean');
  await goTo(page, hand, 'Seams');
  await settled(page);
  const all = await listedSeams(page, /^All seams/);
  const pairs = await seamFigure(page, 'Paired');
  expect(await listedSeams(page, /^Found by number/)).toBe(all);

  const numbers = page.getByRole('checkbox', { name: 'Pair by the printed numbers first' });
  await numbers.press('Space');
  await expect.poll(() => listedSeams(page, /^Found by number/), { timeout: 45_000 }).toBe(0);
  await settled(page);
  const found = await seamFigure(page, 'Paired');
  expect(found).toBeGreaterThanOrEqual(0.9 * pairs);

  await hand.press(page.getByRole('button', { name: /^Accept all \d+ sure ones$/ }));
  await expect.poll(() => listedSeams(page, /^Paired by hand/), { timeout: 45_000 }).toBeGreaterThan(0);
  await page.keyboard.press('Control+z');
  await expect.poll(() => listedSeams(page, /^Paired by hand/), { timeout: 45_000 }).toBe(0);

  const rest = page.getByRole('checkbox', { name: 'Find the rest by shape' });
  await rest.press('Space');
  await expectFigure(page, 'Seams found', 'Paired', 0, 0);
  await page.keyboard.press('Control+z');
  await expectFigure(page, 'Seams found', 'Paired', found, 0);
});
