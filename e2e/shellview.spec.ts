/**
 * The folded shell on the bench: the card, folding by the slider, pieces that light up on both sides, the brow plane
 * dragged and undone, and the same measures where the browser has no 3D.
 */
import AxeBuilder from '@axe-core/playwright';
import { expect, type Page, test } from '@playwright/test';
import { pictured } from './support/bench';
import { handOf } from './support/hands';
import { figure, openSample, undoButton } from './support/work';

// A machine that draws 3D in software beside other work needs its time.
test.setTimeout(120_000);

const card = (page: Page) => page.getByRole('region', { name: 'Shell', exact: true });
const surface = (page: Page) => page.getByRole('application', { name: 'Folded shell' });
const girth = (page: Page) => figure(page, 'Brow section', 'Girth, tape pulled taut');

async function openShell(page: Page): Promise<void> {
  await openSample(page, handOf('pointer', page), 'bollard-pauldron', 'clean');
  await expect(surface(page)).toBeVisible({ timeout: 45_000 });
  await expect(page.getByRole('main')).toHaveAttribute('aria-busy', 'false', { timeout: 45_000 });
}

async function enlarge(page: Page): Promise<void> {
  await page.getByRole('button', { name: 'Enlarge the shell card' }).click();
  await expect(page.getByRole('region', { name: 'Shell: choices and measures' })).toBeVisible();
}

/** What is on the screen there, once it rests. */
async function shotOf(page: Page, place: ReturnType<typeof surface>): Promise<string> {
  let before = '';
  for (;;) {
    await pictured(page);
    const now = (await place.screenshot()).toString('base64');
    if (now === before) return now;
    before = now;
  }
}

const middleOf = async (place: ReturnType<typeof surface>) => {
  const box = (await place.boundingBox())!;
  return { x: box.x + box.width / 2, y: box.y + box.height / 2 };
};

test('the shell is seen, enlarged, turned by keys and folded by the slider', async ({ page }) => {
  await openShell(page);
  // The card's button and its key do the same; Escape goes back.
  await page.keyboard.press('f');
  const fold = page.getByRole('slider', { name: 'Fold', exact: true });
  await expect(fold).toHaveAttribute('aria-valuetext', 'folded');
  await page.mouse.move(0, 0);
  const folded = await shotOf(page, surface(page));

  await fold.focus();
  await page.keyboard.press('Home');
  await expect(fold).toHaveAttribute('aria-valuetext', 'flat, as on the drawing');
  const flat = await shotOf(page, surface(page));
  expect(flat).not.toBe(folded);
  await page.keyboard.press('ArrowRight');
  await expect(fold).toHaveAttribute('aria-valuetext', '1 % folded');
  await page.keyboard.press('End');
  expect(await shotOf(page, surface(page))).toBe(folded);

  const said = card(page).locator('[aria-live]').filter({ hasText: 'Seen from' });
  await expect(said).toHaveText('Seen from front right, a little above.');
  await surface(page).focus();
  for (let i = 0; i < 3; i++) await page.keyboard.press('ArrowRight');
  await expect(said).toHaveText('Seen from the front, a little above.');
  await page.keyboard.press('Home');
  await expect(said).toHaveText('Seen from front right, a little above.');

  const axe = await new AxeBuilder({ page })
    .withTags(['wcag2a', 'wcag2aa', 'wcag22aa', 'best-practice'])
    .analyze();
  expect(axe.violations.map((v) => `${v.id}: ${v.nodes.map((n) => n.target.join(' ')).join(', ')}`)).toEqual(
    [],
  );

  await page.keyboard.press('Escape');
  await expect(page.getByRole('button', { name: 'Enlarge the shell card' })).toBeVisible();
});

test('what is pointed at on the shell lights up on the bench, and the other way', async ({ page }) => {
  await openShell(page);
  const bench = page.getByRole('application', { name: 'Bench' });
  const upper = { x: 0, y: 0, width: 0, height: 0 };
  const box = (await bench.boundingBox())!;
  Object.assign(upper, { x: box.x, y: box.y, width: box.width * 0.6, height: box.height * 0.9 });
  const benchShot = async () => {
    await pictured(page);
    return (await page.screenshot({ clip: upper })).toString('base64');
  };
  await page.mouse.move(2, 2);
  await pictured(page);
  const quiet = await benchShot();
  const at = await middleOf(surface(page));
  await page.mouse.move(at.x, at.y);
  await expect(card(page).locator('.shell-readout')).toHaveText(/^(Piece|Seam|Mountain|Valley)/);
  expect(await benchShot()).not.toBe(quiet);

  await page.mouse.move(2, 2);
  const dark = await shotOf(page, surface(page));
  const piece = (await bench.boundingBox())!;
  // Any piece will do: along this line there is one within a few steps.
  let lit = dark;
  for (let k = 1; k < 12 && lit === dark; k++) {
    await page.mouse.move(piece.x + (piece.width * k) / 16, piece.y + piece.height * 0.4);
    lit = await shotOf(page, surface(page));
  }
  expect(lit).not.toBe(dark);
});

test('the brow plane is dragged, in one undo step, and its girth follows', async ({ page }) => {
  await openShell(page);
  await enlarge(page);
  const before = await girth(page).textContent();
  const handle = page.getByRole('slider', { name: 'Height of the brow plane' });
  const at = await middleOf(handle);
  await page.mouse.move(at.x, at.y);
  await page.mouse.down();
  await page.mouse.move(at.x, at.y + 20, { steps: 4 });
  await page.mouse.move(at.x, at.y + 45, { steps: 4 });
  // The section follows while it is dragged; the decision waits for the end.
  await expect(girth(page)).not.toHaveText(before!);
  const dragged = await girth(page).textContent();
  await expect(undoButton(page)).toBeDisabled();
  await page.mouse.up();
  await expect(girth(page)).toHaveText(dragged!);
  await handle.press('ArrowUp');
  await expect(girth(page)).not.toHaveText(dragged!);
  await undoButton(page).click();
  await expect(girth(page)).toHaveText(dragged!);
  await undoButton(page).click();
  await expect(girth(page)).toHaveText(before!);
});

test('without 3D the shell is drawn in lines, with the same measures', async ({ page }) => {
  await openShell(page);
  await enlarge(page);
  const measured = await girth(page).textContent();
  await page.addInitScript(() => {
    const real = HTMLCanvasElement.prototype.getContext;
    HTMLCanvasElement.prototype.getContext = function (
      this: HTMLCanvasElement,
      kind: string,
      ...rest: unknown[]
    ) {
      return kind.startsWith('webgl') ? null : Reflect.apply(real, this, [kind, ...rest]);
    } as typeof real;
  });
  await page.reload();
  await expect(surface(page)).toBeVisible({ timeout: 45_000 });
  await enlarge(page);
  await expect(page.getByText('This browser shows no 3D.', { exact: false })).toBeVisible();
  await expect(girth(page)).toHaveText(measured!);
  const lines = surface(page).locator('line');
  const aslant = await lines.count();
  expect(aslant).toBeGreaterThan(40);
  await page.getByRole('button', { name: 'Top', exact: true }).click();
  await expect(surface(page).getByRole('img', { name: 'Seen from above' })).toBeVisible();
});
