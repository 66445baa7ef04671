/** Panels: proposed, looked at, accepted as one step, smoothed, and taken back by one undo. */
import { expect, test } from '@playwright/test';
import { handOf } from './support/hands';
import { goTo, openSample, settled } from './support/work';

test('fewest panels are proposed, accepted, cut from foam, and undone as one step', async ({ page }) => {
  // Three results of the whole helm, one after the other.
  test.setTimeout(120_000);
  const hand = handOf('pointer', page);
  await openSample(page, hand, 'gannet-helm', 'clean');
  await settled(page);
  await goTo(page, hand, 'Panels');
  await settled(page);
  const figure = (label: string) =>
    page.getByLabel('Pieces and panels').locator('div', { hasText: label }).last();
  await expect(figure('Foam panels')).toContainText('53');
  await page.getByRole('button', { name: 'Fewest panels, cut anew' }).click();
  const proposal = page.getByRole('region', { name: 'What is proposed' });
  const words = await proposal.getByText(/53 panels become \d+/).textContent({ timeout: 45_000 });
  const after = Number(/become (\d+)/.exec(words ?? '')?.[1]);
  expect(after).toBeGreaterThan(0);
  expect(after).toBeLessThan(53);
  await proposal.getByRole('button', { name: 'Accept' }).click();
  await settled(page);
  await expect(figure('Foam panels')).toContainText(String(after));
  await page
    .getByRole('switch', { name: 'Smooth gently bent seams' })
    .or(page.getByRole('checkbox', { name: 'Smooth gently bent seams' }))
    .click();
  await settled(page);
  await goTo(page, hand, 'Foam');
  await settled(page);
  await expect(page.getByLabel('Panels in foam')).toContainText(String(after));
  await page.keyboard.press('ControlOrMeta+z');
  await page.keyboard.press('ControlOrMeta+z');
  await goTo(page, hand, 'Panels');
  await settled(page);
  await expect(figure('Foam panels')).toContainText('53');

  // Pairs that are mirror images but for the drawing's rounding become exactly that; what it does to seams is told.
  const near = page.getByText(/^\d+ pairs \(.*up to .* apart/);
  await expect(near).toBeVisible();
  const offered = Number(/^\d+/.exec((await near.textContent()) ?? '')?.[0]);
  await page.getByRole('button', { name: 'Make all these symmetric' }).click();
  await settled(page);
  await expect(
    page.getByText('No panels are nearly mirror images without being exactly that.'),
  ).toBeVisible();
  const made = page.getByRole('list', { name: 'Made symmetric' }).getByRole('listitem');
  expect(await made.count()).toBeGreaterThanOrEqual(offered);
  await expect(made.first()).toContainText('are made exact mirror images: corners of each moved by up to');
  await page.keyboard.press('ControlOrMeta+z');
  await expect(near).toBeVisible();
});
