/**
 * Marking seams: pairing by number, taking a seam apart, pairing by hand, borders; then the notches of the exported
 * drawing, read by the browser's own parser, must lie at the same place on both edges of every seam.
 */
import { expect, test } from '@playwright/test';
import { handNames, handOf } from './support/hands';
import { readPanels } from './support/panelsSvg';
import {
  expectFigure,
  field,
  goTo,
  handedOut,
  listed,
  openSample,
  settled,
  shown,
  undoButton,
} from './support/work';

/** Notches of mates agree within this, mm. */
const sameNotch = 0.01;

interface Spot {
  readonly x: number;
  readonly y: number;
}

/** Distance of a spot from the nearest stretch of a ring. */
function offRing(ring: readonly Spot[], p: Spot): number {
  let least = Number.POSITIVE_INFINITY;
  ring.forEach((a, i) => {
    const b = ring[(i + 1) % ring.length]!;
    const dx = b.x - a.x;
    const dy = b.y - a.y;
    const t = Math.min(1, Math.max(0, ((p.x - a.x) * dx + (p.y - a.y) * dy) / (dx * dx + dy * dy || 1)));
    least = Math.min(least, Math.hypot(a.x + t * dx - p.x, a.y + t * dy - p.y));
  });
  return least;
}

/** The notch stands `along` from some corner of its outline, measured straight: edges of this sample are straight. */
const nearCorner = (ring: readonly Spot[], p: Spot, along: number): number =>
  Math.min(...ring.map((corner) => Math.abs(Math.hypot(corner.x - p.x, corner.y - p.y) - along)));

for (const manner of ['clean', 'loose'] as const) {
  for (const handName of handNames) {
    test(`seams of the bollard-pauldron (${manner}) are marked, by ${handName}`, async ({ page }) => {
      test.setTimeout(240_000);
      const hand = handOf(handName, page);
      const { seams } = listed('bollard-pauldron', manner);
      await openSample(page, hand, 'bollard-pauldron', manner);
      await goTo(page, hand, 'Seams');
      await settled(page);
      await expectFigure(page, 'Seams found', 'Paired', seams, 0);
      const open = await shown(page, 'Seams found', 'Open');
      const runs = await page.getByRole('button', { name: /^Seam \d+$/ }).count();

      // Take one seam apart: its edges are open again; pair them by hand: it is there again, by the person's word.
      const row = page
        .getByRole('row')
        .filter({ has: page.getByRole('button', { name: 'Seam 2', exact: true }) });
      await expect(row.getByRole('cell').last()).toHaveText('number');
      await hand.press(page.getByRole('button', { name: 'Seam 2', exact: true }));
      await hand.press(page.getByRole('button', { name: /^Unpair/ }));
      await settled(page);
      const left = await shown(page, 'Seams found', 'Paired');
      expect(left).toBeLessThan(seams);
      await expectFigure(page, 'Seams found', 'Open', open + 2 * (seams - left), 0);
      await hand.press(undoButton(page));
      await expectFigure(page, 'Seams found', 'Paired', seams, 0);

      // Edges that stay open are borders.
      await hand.press(page.getByRole('button', { name: /border/i }).first());
      await expectFigure(page, 'Seams found', 'Open', 0, 0);
      await expectFigure(page, 'Seams found', 'Borders', open, 0);

      await goTo(page, hand, 'Foam');
      await hand.write(field(page, /^Mountain folds/), '20');
      await hand.write(field(page, /^Valley folds/), '-15');
      await hand.write(field(page, /^Seams \(/), '18');
      await settled(page);
      await goTo(page, hand, 'Pages');
      await settled(page);
      const file = await handedOut(page, () =>
        hand.press(page.getByRole('button', { name: 'Panels as SVG' })),
      );
      const { panels } = await readPanels(page, file.bytes.toString('utf8'));
      const notches = panels.flatMap((panel) =>
        panel.notches.map((notch) => ({ ...notch, ring: panel.rings[0]! })),
      );
      expect(notches.length).toBeGreaterThan(40);
      const byEdge = new Map<string, typeof notches>();
      for (const notch of notches) {
        const key = `${notch.seam} ${notch.edge}`;
        byEdge.set(key, [...(byEdge.get(key) ?? []), notch]);
        // On the cut line itself, ticking inwards.
        expect(offRing(notch.ring, notch.at)).toBeLessThan(sameNotch);
      }
      const marked = [...new Set(notches.map((n) => n.seam))];
      // Each numbered seam is marked in one of its stretches at least.
      expect(marked.length).toBeGreaterThanOrEqual(runs);
      expect(runs).toBeGreaterThan(10);
      let fromCorner = 0;
      for (const seam of marked) {
        const sides = [...byEdge].filter(([key]) => key.startsWith(`${seam} `)).map(([, list]) => list);
        expect(sides, `sides of ${seam}`).toHaveLength(2);
        const places = sides.map((list) => list.map((n) => n.along).sort((a, b) => a - b));
        expect(places[0]!.length).toBe(places[1]!.length);
        places[0]!.forEach((along, i) => {
          expect(Math.abs(along - places[1]![i]!), `notch of ${seam}`).toBeLessThanOrEqual(sameNotch);
        });
        for (const notch of sides.flat())
          if (nearCorner(notch.ring, notch.at, notch.along) <= sameNotch) fromCorner++;
      }
      // Every notch stands at its stated distance from a corner of the drawn outline.
      expect(fromCorner).toBe(notches.length);
      expect(panels.flatMap((panel) => panel.borders).length).toBe(open);
    });
  }
}

test('an edge finds its mate by hand, in the list and by keys', async ({ page }) => {
  const hand = handOf('keyboard', page);
  await openSample(page, hand, 'keel-bracer', 'clean');
  await goTo(page, hand, 'Seams');
  await settled(page);
  const { seams } = listed('keel-bracer', 'clean');
  await expectFigure(page, 'Seams found', 'Paired', seams, 0);
  const row = page
    .getByRole('row')
    .filter({ has: page.getByRole('button', { name: 'Seam 1', exact: true }) });
  await hand.press(page.getByRole('button', { name: 'Seam 1', exact: true }));
  await hand.press(page.getByRole('button', { name: /^Unpair/ }));
  await expectFigure(page, 'Seams found', 'Paired', seams - 1, 0);

  const first = page.getByRole('combobox', { name: 'Edge', exact: true });
  const numbered = await first.locator('option').allTextContents();
  const labels = numbered.filter((text) => / number /.test(text));
  expect(labels.length).toBeGreaterThanOrEqual(2);
  await hand.pick(first, labels[0]!);
  const number = / number (\S+)/.exec(labels[0]!)![1]!;
  const second = page.getByRole('combobox', { name: 'Its mate', exact: true });
  const mate = (await second.locator('option').allTextContents()).find((text) =>
    text.endsWith(`number ${number}`),
  );
  expect(mate).toBeDefined();
  await hand.pick(second, mate!);
  await hand.press(page.getByRole('button', { name: 'Pair these edges' }));
  await expectFigure(page, 'Seams found', 'Paired', seams, 0);
  await expect(row.getByRole('cell').last()).toContainText('you');
});
