/** Panels cut along drawn lines: typed along the outline, a slit, half a pattern completed; seams compared from the file. */
import { expect, test } from '@playwright/test';
import { bench } from './support/bench';
import { handOf } from './support/hands';
import { readPanels } from './support/panelsSvg';
import { field, folded, goTo, handedOut, openSample, radio, settled } from './support/work';

test('a panel is split along a typed line and slit, and both sides of every seam meet in the file', async ({
  page,
}) => {
  const hand = handOf('pointer', page);
  await openSample(page, hand, 'bollard-pauldron', 'clean');
  await settled(page);
  await goTo(page, hand, 'Panels');
  await settled(page);
  const figure = page.getByLabel('Pieces and panels').locator('div', { hasText: 'Foam panels' }).last();
  const count = async () => Number(/\d+/.exec((await figure.textContent()) ?? '')?.[0]);
  const before = await count();
  const lay = async (name: RegExp, mm: string) => {
    await field(page, name).fill(mm);
    await field(page, name).press('Enter');
  };
  await bench(page).focus();
  await page.keyboard.press('ControlOrMeta+a');
  await lay(/^Begin on the outline/, '60');
  await lay(/^End on the outline/, '260');
  await expect(page.getByText(new RegExp(`${before} panels become ${before + 1}`))).toBeVisible();
  await page.getByRole('button', { name: 'Split along this line' }).click();
  await settled(page);
  expect(await count()).toBeGreaterThan(before);
  const split = await count();
  await radio(page, 'Slit').check({ force: true });
  await bench(page).focus();
  await page.keyboard.press('ControlOrMeta+a');
  await lay(/^Begin on the outline/, '20');
  await lay(/^Depth/, '12');
  await page.getByRole('button', { name: 'Cut this slit' }).click();
  await settled(page);
  expect(await count()).toBe(split);

  // A relief dart with a width of its own, typed like the slit; its row tells the width in foam.
  await radio(page, 'Relief dart').check({ force: true });
  await page.getByRole('checkbox', { name: 'As wide as the panel asks for', exact: true }).click();
  await bench(page).focus();
  await page.keyboard.press('ControlOrMeta+a');
  await lay(/^Width at the mouth/, '4');
  await lay(/^Begin on the outline/, '100');
  await lay(/^Depth/, '15');
  await expect(page.getByText(`${split} panels stay`)).toBeVisible();
  await page.getByRole('button', { name: 'Place this dart' }).click();
  await settled(page);
  await folded(page, 'Darts and slits').locator('summary').click();
  const rows = page.getByRole('list', { name: 'Darts and slits' });
  await expect(rows.getByRole('listitem')).toHaveCount(2);
  await expect(rows).toContainText('4 mm wide, 15 mm long');

  await goTo(page, hand, 'Pages');
  await settled(page);
  const file = await handedOut(page, () => page.getByRole('button', { name: 'Panels as SVG' }).click());
  const drawing = await readPanels(page, file.bytes.toString('utf8'));
  expect(drawing.panels.length).toBe(split);
  const sides = new Map<string, Map<string, number[]>>();
  for (const notch of drawing.panels.flatMap((p) => p.notches)) {
    const edges = sides.get(notch.seam) ?? new Map<string, number[]>();
    edges.set(
      notch.edge,
      [...(edges.get(notch.edge) ?? []), notch.along].sort((a, b) => a - b),
    );
    sides.set(notch.seam, edges);
  }
  const drawn = [...sides].filter(([seam]) => seam.includes('draw:'));
  expect(drawn.length).toBeGreaterThan(0);
  for (const [seam, edges] of sides) {
    const [one, two] = [...edges.values()];
    expect(edges.size, seam).toBe(2);
    expect(one!.length, seam).toBe(two!.length);
    if (!seam.includes('draw:')) continue;
    for (const [i, along] of one!.entries()) expect(Math.abs(along - two![i]!), seam).toBeLessThan(0.5);
  }

  for (let steps = 0; steps < 3; steps++) await page.keyboard.press('ControlOrMeta+z');
  await goTo(page, hand, 'Panels');
  await settled(page);
  expect(await count()).toBe(before);

  // Taken as one half, the pattern is completed by its mirror image along the rim that is proposed.
  await goTo(page, hand, 'Seams');
  await page.getByRole('button', { name: 'Propose the rim' }).click();
  await page.getByRole('button', { name: 'The other half is its mirror image' }).click();
  await settled(page);
  await expect(
    page.getByText(new RegExp(`^${before} pieces mirrored; both halves meet along`)),
  ).toBeVisible();
  await goTo(page, hand, 'Panels');
  await settled(page);
  expect(await count()).toBe(2 * before);
  await expect(page.getByText(`${before} pairs found.`)).toBeVisible();
});
