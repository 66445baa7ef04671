/** The panels are put together in the Foam step: figures, the worst seams, one of them shown, and a mark when it is older. */
import { expect, test } from '@playwright/test';
import { hookedWall } from '../tests/dryfit/hookedWall';
import { drawPattern, shellPattern } from '../tests/support/harbourWatch';
import { handNames, handOf } from './support/hands';
import { folded, goTo, openSample, settled, shown, undoButton } from './support/work';

for (const name of handNames)
  test(`panels are put together before they are cut, by ${name}`, async ({ page }) => {
    test.slow();
    const hand = handOf(name, page);
    if (name === 'pointer') await page.setViewportSize({ width: 390, height: 844 });
    await openSample(page, hand, 'gannet-helm', 'clean');
    await settled(page);
    await goTo(page, hand, 'Foam');
    const part = page.locator('section.part', { has: page.getByRole('heading', { name: 'Dry fit' }) });
    await hand.press(part.getByRole('button', { name: 'Put the panels together' }));
    await expect(part.getByRole('heading', { name: 'Worst seams' })).toBeVisible({ timeout: 60_000 });
    // Half a millimetre is far more than these panels gape, and no gap at all would be no measurement.
    const mean = await shown(page, 'Dry fit', 'Mean gap');
    expect(mean).toBeGreaterThan(0);
    expect(mean).toBeLessThan(0.5);
    expect(await shown(page, 'Dry fit', 'Largest gap')).toBeGreaterThan(mean);
    await hand.press(part.getByRole('button', { name: /^Show seam/ }).first());
    await expect(page.locator('tr[data-on]')).not.toHaveCount(0);
    // The shell has turned to the place and come near; where there is little room it lies over the bench until Escape.
    const surface = page.getByRole('application', { name: 'Folded shell' });
    await expect(surface).toHaveAttribute('data-view', / [2-9]\.\d+$/, { timeout: 30_000 });
    if (name === 'pointer') {
      await expect(page.getByRole('list', { name: 'Lines of the dry fit' }).first()).toBeVisible();
      await page.keyboard.press('Escape');
      // The list comes back with the bench.
      await expect(part.getByRole('heading', { name: 'Worst seams' })).toBeVisible();
    }
    await hand.unfold(part.locator('details.gap-detail').first());
    await expect(part.getByText(/The worse way is shown: /)).toBeVisible();
    await expect(part.getByText(/^At most if K is 0.35: /)).toBeVisible();
    await hand.unfold(folded(page, /^What else would come of it/));
    await expect(part.getByText(/paper pieces cut square/)).toContainText(/mean gap/);
    await hand.pick(page.getByRole('combobox', { name: 'Foam thickness' }), '8 mm');
    await settled(page);
    await expect(part.getByText('Older:')).toBeVisible({ timeout: 30_000 });
  });

test('panels that run into each other are named, shown and made thinner, and undone', async ({ page }) => {
  test.slow();
  const hand = handOf('pointer', page);
  const { svg } = drawPattern(shellPattern(hookedWall(), { maxFaces: 1 }), { manner: 'clean' });
  await page.goto('./');
  await page.getByRole('button', { name: 'Open a pattern' }).waitFor();
  await page.evaluate((text) => {
    const data = new DataTransfer();
    data.items.add(new File([text], 'tray.svg', { type: 'image/svg+xml' }));
    document.body.dispatchEvent(
      new DragEvent('drop', { dataTransfer: data, bubbles: true, cancelable: true }),
    );
  }, svg);
  await expect(page.getByRole('region', { name: 'What was read' })).toBeVisible({ timeout: 45_000 });
  await settled(page);
  await goTo(page, hand, 'Foam');
  const part = page.locator('section.part', { has: page.getByRole('heading', { name: 'Dry fit' }) });
  const fit = part.getByRole('button', { name: /^Put (the panels|them) together/ });
  await fit.click();
  await expect(part.getByText('1 pair of panels that are not glued together')).toBeVisible({
    timeout: 60_000,
  });
  await part.getByRole('button', { name: /^Show panels/ }).click();
  const thinner = part.getByRole('button', { name: /^Make both panels 3 mm: panels/ });
  await thinner.click();
  await settled(page);
  await expect(part.getByText('Older:')).toBeVisible();
  await fit.click();
  await expect(part.getByText('Older:')).toBeHidden({ timeout: 60_000 });
  await expect(part.getByText(/not glued together/)).toBeHidden();
  await undoButton(page).click();
  await settled(page);
  await expect(part.getByText('Older:')).toBeVisible();
});
