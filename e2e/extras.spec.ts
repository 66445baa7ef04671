/** Extra parts on the Gannet helm: a raised layer from selected panels, a neck band; in the files at their size. */
import { expect, test } from '@playwright/test';
import { handOf } from './support/hands';
import { goTo, openSample, settled } from './support/work';

test('a raised layer and a neck band come out in the files', async ({ page }, info) => {
  const hand = handOf('pointer', page);
  await openSample(page, hand, 'gannet-helm', 'clean');
  await settled(page);
  await goTo(page, hand, 'Panels');
  await settled(page);
  const extras = page.getByRole('list', { name: 'Extra parts' });
  await page.getByRole('button', { name: 'Band', exact: true }).click();
  await settled(page);
  await expect(extras.locator('summary', { hasText: 'Band' })).toContainText('mm');
  await extras.locator('summary', { hasText: 'Band' }).click();
  await page.screenshot({ path: info.outputPath('band.png') });
});
