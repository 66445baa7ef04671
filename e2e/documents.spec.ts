/**
 * Documents: undo and redo, a reload in the middle of the work, a saved project opened again, files dropped and pasted,
 * and what happens to files that can't be read. Also the whole way on a phone.
 */
import { gzipSync } from 'node:zlib';
import { expect, type Page, test } from '@playwright/test';
import { handOf } from './support/hands';
import {
  expectFigure,
  field,
  figure,
  goTo,
  handedOut,
  notice,
  openSample,
  redoButton,
  sampleText,
  settled,
  shown,
  undoButton,
} from './support/work';

const square = (
  attributes: string,
  body = '<rect x="10" y="10" width="50" height="30" fill="none" stroke="#000"/>',
) => `<svg xmlns="http://www.w3.org/2000/svg" ${attributes}>${body}</svg>`;

const give = (page: Page, name: string, text: string | Buffer) =>
  page.evaluate(
    ({ name, bytes }) => {
      const data = new DataTransfer();
      data.items.add(new File([new Uint8Array(bytes)], name));
      for (const type of ['dragenter', 'dragover', 'drop']) {
        document.body.dispatchEvent(
          new DragEvent(type, { dataTransfer: data, bubbles: true, cancelable: true }),
        );
      }
    },
    { name, bytes: [...Buffer.from(text)] },
  );

test('decisions are undone and redone, and survive a reload', async ({ page }) => {
  const hand = handOf('pointer', page);
  await openSample(page, hand, 'bollard-pauldron', 'clean');
  await goTo(page, hand, 'Size');
  await page.getByRole('radio', { name: 'a percentage' }).click();
  await hand.write(field(page, 'Size of the pattern'), '120');
  await expectFigure(page, 'Size', 'Scale', 120, 0.05);
  await hand.write(field(page, 'Size of the pattern'), '130');
  await expectFigure(page, 'Size', 'Scale', 130, 0.05);
  await undoButton(page).click();
  await expectFigure(page, 'Size', 'Scale', 120, 0.05);
  await undoButton(page).click();
  await expectFigure(page, 'Size', 'Scale', 100, 0.05);
  await redoButton(page).click();
  await expectFigure(page, 'Size', 'Scale', 120, 0.05);
  await expect(page.getByText('Kept in this browser')).toBeVisible();
  await page.reload();
  await expect(page.getByRole('navigation', { name: 'Steps' })).toBeVisible({ timeout: 30_000 });
  await goTo(page, hand, 'Size');
  await expectFigure(page, 'Size', 'Scale', 120, 0.05);
});

test('a saved project gives the same panels again in another browser', async ({ page, browser }) => {
  test.setTimeout(120_000);
  const hand = handOf('pointer', page);
  await openSample(page, hand, 'bollard-pauldron', 'clean');
  await goTo(page, hand, 'Foam');
  await hand.write(field(page, /^Mountain folds/), '25');
  await hand.write(field(page, /^Seams \(/), '12');
  await settled(page);
  await goTo(page, hand, 'Pages');
  await settled(page);
  const panels = () => handedOut(page, () => page.getByRole('button', { name: 'Panels as SVG' }).click());
  const before = await panels();
  const project = await handedOut(page, () => page.getByRole('button', { name: 'Save project' }).click());
  expect(project.name).toBe('Bollard pauldron.girthwise.json');
  expect(JSON.parse(project.bytes.toString('utf8')).format).toBe('girthwise-project');

  const elsewhere = await browser.newContext();
  const other = await elsewhere.newPage();
  await other.goto('./');
  await expect(other.getByRole('heading', { level: 1 })).toBeVisible();
  await give(other, project.name, project.bytes);
  await expect(other.getByRole('navigation', { name: 'Steps' })).toBeVisible({ timeout: 30_000 });
  await goTo(other, handOf('pointer', other), 'Pages');
  await settled(other);
  const after = await handedOut(other, () => other.getByRole('button', { name: 'Panels as SVG' }).click());
  expect(after.bytes.equals(before.bytes)).toBe(true);
  await elsewhere.close();
});

test('files can be dropped and pasted', async ({ page }) => {
  await page.goto('./');
  await give(page, 'dropped.svg', sampleText('keel-bracer.clean.svg'));
  await expect(page.getByRole('region', { name: 'What was read' })).toBeVisible({ timeout: 30_000 });
  const second = await page.context().newPage();
  await second.goto('./');
  await expect(second.getByRole('heading', { level: 1 })).toBeVisible();
  await second.evaluate((text) => {
    const data = new DataTransfer();
    data.setData('text/plain', text);
    document.body.dispatchEvent(
      new ClipboardEvent('paste', { clipboardData: data, bubbles: true, cancelable: true }),
    );
  }, square('width="100mm" height="60mm" viewBox="0 0 100 60"'));
  await expect(figure(second, 'What was read', 'Pieces')).toContainText('1', { timeout: 30_000 });
});

test('several documents are kept, opened again and deleted, by keyboard', async ({ page }) => {
  const hand = handOf('keyboard', page);
  const close = async () => {
    await expect(page.getByText('Kept in this browser')).toBeVisible();
    await hand.press(page.getByRole('button', { name: 'Menu', exact: true }));
    await hand.press(page.getByRole('button', { name: 'Close', exact: true }));
    await expect(page.getByRole('heading', { name: 'Kept in this browser' })).toBeVisible();
  };
  await openSample(page, hand, 'keel-bracer', 'clean');
  await goTo(page, hand, 'Size');
  await hand.choose(page.getByRole('radio', { name: 'a percentage' }));
  await hand.write(field(page, 'Size of the pattern'), '140');
  await expectFigure(page, 'Size', 'Scale', 140, 0.05);
  await close();
  await openSample(page, hand, 'bollard-pauldron', 'clean');
  await close();

  const kept = page.getByRole('region', { name: 'Kept in this browser' });
  const card = (title: string) => kept.getByRole('button', { name: new RegExp(`^${title}`) });
  await expect(kept.getByRole('listitem')).toHaveCount(2);
  await hand.press(card('Keel bracer'));
  await goTo(page, hand, 'Size');
  await expectFigure(page, 'Size', 'Scale', 140, 0.05);
  await close();

  await hand.press(kept.getByRole('button', { name: 'Delete Bollard pauldron' }));
  await hand.press(page.getByRole('button', { name: 'Keep it' }));
  await expect(kept.getByRole('listitem')).toHaveCount(2);
  await hand.press(kept.getByRole('button', { name: 'Delete Bollard pauldron' }));
  await hand.press(page.getByRole('button', { name: 'Delete for good' }));
  await expect(kept.getByRole('listitem')).toHaveCount(1);
  await page.reload();
  await expect(card('Keel bracer')).toBeVisible();
  await expect(kept.getByRole('listitem')).toHaveCount(1);
});

const unreadable: readonly { what: string; file: string; text: string | Buffer; says: RegExp }[] = [
  { what: 'something that is no SVG', file: 'a.svg', text: 'hello there', says: /SVG/ },
  { what: 'an empty file', file: 'b.svg', text: '', says: /empty/i },
  {
    what: 'broken XML',
    file: 'c.svg',
    text: '<svg xmlns="http://www.w3.org/2000/svg"><g></svg>',
    says: /line 1/i,
  },
  { what: 'a PDF', file: 'd.svg', text: '%PDF-1.7\n%âãÏÓ\n1 0 obj', says: /PDF/ },
  {
    what: 'a compressed SVG',
    file: 'e.svg',
    text: gzipSync(square('width="10mm" height="10mm"')),
    says: /compressed|svgz|gzip/i,
  },
  {
    what: 'entity tricks',
    file: 'f.svg',
    text: `<!DOCTYPE svg [<!ENTITY a "x"><!ENTITY b "&a;&a;">]>${square('width="10mm" height="10mm"', '<text>&b;</text>')}`,
    says: /entit/i,
  },
];

test('a file that cannot be read says why, and leaves the open document alone', async ({ page }) => {
  test.setTimeout(120_000);
  const hand = handOf('pointer', page);
  await openSample(page, hand, 'keel-bracer', 'clean');
  const pieces = await shown(page, 'What was read', 'Pieces');
  const messages = new Set<string>();
  for (const { what, file, text, says } of unreadable) {
    await give(page, file, text);
    const dialog = notice(page);
    await dialog.getByRole('button', { name: 'Open as new' }).click();
    await expect(dialog, what).toContainText(says, { timeout: 20_000 });
    messages.add((await dialog.textContent()) ?? '');
    await dialog.getByRole('button').last().click();
    await expect(dialog).toBeHidden();
    expect(await shown(page, 'What was read', 'Pieces'), what).toBe(pieces);
  }
  expect(messages.size).toBe(unreadable.length);
});

const empty: readonly { what: string; text: string; says: RegExp }[] = [
  {
    what: 'nothing closed',
    text: square(
      'width="100mm" height="60mm" viewBox="0 0 100 60"',
      '<path d="M10 10H50M10 20H50" fill="none" stroke="#000"/>',
    ),
    says: /clos/i,
  },
  {
    what: 'a use of itself',
    text: square(
      'width="100mm" height="60mm" viewBox="0 0 100 60" xmlns:xlink="http://www.w3.org/1999/xlink"',
      '<rect x="10" y="10" width="50" height="30" fill="none" stroke="#000"/><g id="g"><use href="#g"/></g>',
    ),
    says: /itself|recursive|circle/i,
  },
];

for (const { what, text, says } of empty) {
  test(`a drawing with ${what} says so among the findings`, async ({ page }) => {
    await page.goto('./');
    await give(page, 'odd.svg', text);
    await expect(page.getByRole('navigation', { name: 'Steps' })).toBeVisible({ timeout: 30_000 });
    await settled(page);
    await page.getByRole('button', { name: /^Findings/ }).click();
    await expect(page.getByText(says).filter({ visible: true }).first()).toBeVisible();
  });
}

test('the whole way on a phone: sample, head, print', async ({ browser }) => {
  test.setTimeout(120_000);
  const context = await browser.newContext({ viewport: { width: 390, height: 844 }, hasTouch: true });
  const page = await context.newPage();
  await page.goto('./');
  await page.getByRole('button', { name: 'Gannet helm: tidy drawing' }).tap();
  const rail = page.getByRole('navigation', { name: 'Steps' });
  const step = async (name: string) => {
    await rail.getByRole('button', { name, exact: true }).tap();
    await settled(page);
    const wide = await page.evaluate(() => document.documentElement.scrollWidth);
    expect(wide, `${name} fits the phone`).toBeLessThanOrEqual(390);
  };
  await expect(rail).toBeVisible({ timeout: 30_000 });
  await step('Size');
  const head = page.getByRole('textbox', { name: 'Head girth' });
  if (!(await head.isVisible())) await page.getByRole('button', { name: /^Choices/ }).tap();
  await head.fill('58 cm');
  await head.press('Enter');
  // Padding 5 and clearance 3; the scale is solved on the folded shell, near (580 + 2π·8 + 2π·5) / 640 of an upright wall.
  await expectFigure(page, 'Size', 'Inside girth', 580 + 2 * Math.PI * 8, 0.1);
  await expectFigure(page, 'Size', 'Scale', (100 * (580 + 2 * Math.PI * 13)) / 640, 0.5);
  await step('Pages');
  const print = page.getByRole('button', { name: 'Print pages…' });
  if (!(await print.isVisible())) await page.getByRole('button', { name: /^Choices/ }).tap();
  const file = await handedOut(page, () => print.tap());
  expect(file.name).toBe('Gannet helm-pages.pdf');
  expect(file.bytes.subarray(0, 5).toString('latin1')).toBe('%PDF-');
  await context.close();
});
