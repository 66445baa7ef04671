/**
 * Every screen at three sizes against the axe rules for WCAG 2.2 AA and its best practices, with folded parts open;
 * its contrast in the dark theme as well; and the main paths by keyboard alone.
 */
import AxeBuilder from '@axe-core/playwright';
import { expect, type Page, test } from '@playwright/test';

const rules = ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice'];
const steps = ['Pattern', 'Seams', 'Size', 'Panels', 'Foam', 'Sheets', 'Pages', 'Build'];
const sizes = [
  { name: 'wide', width: 1440, height: 900 },
  { name: 'middling', width: 1024, height: 768 },
  { name: 'phone', width: 390, height: 844 },
];

/** The dark theme differs from the light one in its colours alone. */
async function expectClean(page: Page, theme: 'light' | 'dark', where: string) {
  const axe = new AxeBuilder({ page });
  const result = await (theme === 'light'
    ? axe.withTags(rules)
    : axe.withRules(['color-contrast'])
  ).analyze();
  expect(result.passes.length, `${where}: axe ran`).toBeGreaterThan(theme === 'light' ? 20 : 0);
  const found = result.violations.map(
    (violation) => `${violation.id}: ${violation.nodes.map((node) => node.target.join(' ')).join(', ')}`,
  );
  expect(found, where).toEqual([]);
}

async function openSample(page: Page, name = 'Bollard pauldron: tidy drawing') {
  await page.goto('./');
  await page.getByRole('button', { name }).click();
  await expect(page.getByRole('navigation', { name: 'Steps' })).toBeVisible();
}

const step = (page: Page, name: string) =>
  page.getByRole('navigation', { name: 'Steps' }).getByRole('button', { name, exact: true });

/** Results of the step have arrived: the sheet no longer says that it waits. */
async function settled(page: Page) {
  await expect(page.getByRole('main')).toHaveAttribute('aria-busy', 'false');
}

for (const size of sizes) {
  // The colours of a theme are the same at every size; the widest and the narrowest screens show them all.
  for (const colorScheme of size.name === 'middling' ? (['light'] as const) : (['light', 'dark'] as const)) {
    test(`every screen is clean at ${size.name} size, ${colorScheme}`, async ({ browser }, info) => {
      test.setTimeout(300_000);
      const context = await browser.newContext({
        viewport: { width: size.width, height: size.height },
        colorScheme,
        reducedMotion: 'reduce',
        ...(info.project.use.baseURL ? { baseURL: info.project.use.baseURL } : {}),
      });
      const page = await context.newPage();
      await page.goto('./');
      await expect(page.getByRole('heading', { name: 'Bollard pauldron' })).toBeVisible();
      await expectClean(page, colorScheme, 'start');

      await openSample(page);
      for (const name of steps) {
        await step(page, name).click();
        // On a phone a second press on the open step folds its sheet away.
        if (!(await page.getByRole('complementary').isVisible())) await step(page, name).click();
        await expect(page.getByRole('heading', { level: 2, name, exact: true })).toBeVisible();
        await settled(page);
        await page.evaluate(() => {
          for (const folded of document.querySelectorAll('details')) folded.open = true;
        });
        await expectClean(page, colorScheme, name);
      }

      await page.getByRole('button', { name: /^Findings/ }).click();
      await expectClean(page, colorScheme, 'findings');
      await page.getByRole('button', { name: 'Menu', exact: true }).click();
      await expectClean(page, colorScheme, 'menu');
      await page.getByRole('button', { name: 'Keys, lines and cautions' }).click();
      await expect(page.getByRole('dialog')).toBeVisible();
      await expectClean(page, colorScheme, 'help');
      await context.close();
    });
  }
}

test('nothing is wider than a phone', async ({ page }) => {
  await page.setViewportSize({ width: 390, height: 844 });
  await openSample(page);
  for (const name of steps) {
    await step(page, name).click();
    if (!(await page.getByRole('complementary').isVisible())) await step(page, name).click();
    await settled(page);
    const wide = await page.evaluate(() => {
      const sheet = document.querySelector('aside .sheet-body');
      return {
        page: document.documentElement.scrollWidth - document.documentElement.clientWidth,
        sheet: sheet ? sheet.scrollWidth - sheet.clientWidth : null,
      };
    });
    expect(wide, name).toEqual({ page: 0, sheet: 0 });
  }
});

test('targets on a phone are at least 44 px where the thumb goes', async ({ page }) => {
  await page.setViewportSize({ width: 390, height: 844 });
  await openSample(page);
  await settled(page);
  const bars = page.locator('header.top button, nav.rail button, .bench-bar button, .sheet-actions button');
  const boxes = await bars.evaluateAll((buttons) =>
    buttons
      .map((button) => ({
        name: button.getAttribute('aria-label') ?? button.textContent,
        box: button.getBoundingClientRect(),
      }))
      .filter(({ box }) => box.width > 0)
      .map(({ name, box }) => ({ name, width: box.width, height: box.height })),
  );
  expect(boxes.length).toBeGreaterThan(10);
  expect(boxes.filter(({ width, height }) => width < 44 || height < 44)).toEqual([]);
});

test('a step, a choice and undo by keyboard alone', async ({ page }) => {
  await openSample(page);
  await settled(page);
  await page.keyboard.press('Tab');
  await expect(page.getByRole('link', { name: 'Skip to the bench' })).toBeFocused();
  await step(page, 'Foam').focus();
  await page.keyboard.press('Enter');
  const thickness = page.getByLabel('Foam thickness');
  await expect(thickness).toBeVisible();
  await thickness.focus();
  await page.keyboard.press('ArrowDown');
  await expect(thickness).toHaveValue('6');
  await page.getByRole('button', { name: /^Undo/ }).focus();
  await page.keyboard.press('Enter');
  await expect(thickness).toHaveValue('5');
});

test('text that is no number stays in its field with a reason, and Escape brings the value back', async ({
  page,
}) => {
  await openSample(page);
  await step(page, 'Size').click();
  const head = page.getByRole('textbox', { name: 'Head girth' });
  await head.fill('58');
  await head.press('Enter');
  await expect(head).toHaveValue('58');
  await expect(head).toHaveAttribute('aria-invalid', 'true');
  await expect(head).toHaveAccessibleDescription(/too small for a head/);
  await head.press('Escape');
  await expect(head).toHaveValue('');
  await head.fill('58 cm');
  await head.press('Enter');
  await expect(head).toHaveValue('580');
  await expect(head).toHaveAttribute('aria-invalid', 'false');
  await expect(page.getByRole('main')).toHaveAttribute('aria-busy', 'false', { timeout: 45_000 });
  const padding = page.getByRole('textbox', { name: 'Padding' });
  await padding.focus();
  // Presses that follow each other closely are one step to undo: the second does not wait for the page to answer the first.
  await Promise.all([page.keyboard.press('ArrowUp'), page.keyboard.press('ArrowUp')]);
  await expect(padding).toHaveValue('6');
  await page.getByRole('button', { name: /^Undo/ }).click();
  await expect(padding).toHaveValue('5');
});
