/** The panels are put together in the Foam step: figures, the worst seams, one of them shown, and a mark when it is older. */
import { expect, test } from '@playwright/test';
import { handNames, handOf } from './support/hands';
import { folded, goTo, openSample, settled, shown } from './support/work';

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
    await hand.unfold(folded(page, /^What else would come of it/));
    await expect(part.getByText(/paper pieces cut square/)).toContainText(/mean gap/);
    await hand.pick(page.getByRole('combobox', { name: 'Foam thickness' }), '8 mm');
    await settled(page);
    await expect(part.getByText('Older:')).toBeVisible({ timeout: 30_000 });
  });
