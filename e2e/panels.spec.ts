/** Panels: proposed, looked at, accepted as one step, smoothed, and taken back by one undo. */
import { expect, test } from '@playwright/test';
import { handOf } from './support/hands';
import { field, goTo, openSample, settled } from './support/work';

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
});

/** Two sides that are meant to be mirror images, one 2 mm longer along the strip between them. */
const sides = `<svg xmlns="http://www.w3.org/2000/svg" width="260mm" height="120mm" viewBox="0 0 260 120" fill="none" stroke="#000" stroke-width="0.3">
<path d="M10 10L70 10L70 90L10 100Z"/><path d="M90 10L130 10L130 92L90 90Z"/><path d="M150 10L210 10L210 100L150 92Z"/>
<g fill="#000" stroke="none" font-size="5"><text x="64" y="52">1</text><text x="93" y="52">1</text><text x="124" y="52">2</text><text x="153" y="52">2</text></g></svg>`;

test('near mirror images are made exact, and what that does to their seams is told', async ({ page }) => {
  const hand = handOf('pointer', page);
  await page.goto('./');
  await expect(page.getByRole('button', { name: 'Bollard pauldron: tidy drawing' })).toBeVisible();
  await page.evaluate((text) => {
    const data = new DataTransfer();
    data.setData('text/plain', text);
    document.body.dispatchEvent(
      new ClipboardEvent('paste', { clipboardData: data, bubbles: true, cancelable: true }),
    );
  }, sides);
  await expect(page.getByRole('region', { name: 'What was read' })).toBeVisible();
  await goTo(page, hand, 'Panels');
  await settled(page);
  // The strip is no mirror image of anything, however much is allowed.
  await field(page, 'Nearly mirror images within').fill('20');
  await field(page, 'Nearly mirror images within').press('Enter');
  await expect(page.getByText(/^1 pair \(A and C\), up to .* apart/)).toBeVisible();
  await page.getByRole('button', { name: 'Make this pair symmetric' }).click();
  await settled(page);
  const told = page.getByRole('list', { name: 'Made symmetric' });
  await expect(told).toContainText(/Panels A and C are made exact mirror images/);
  // Sides of 80 and 82 mm both become 81; the strip keeps its own.
  await expect(told).toContainText(
    /Seam \d between A and B: its sides now differ by 1\.0 mm \(0\.0 mm before\)/,
  );
  await expect(told).toContainText(
    /Seam \d between B and C: its sides now differ by 1\.0 mm \(0\.0 mm before\)/,
  );
  await page.keyboard.press('ControlOrMeta+z');
  await expect(page.getByText(/^1 pair/)).toBeVisible();
});
