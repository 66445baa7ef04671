/** Extra parts on the Gannet helm: a raised layer from a panel and a neck band; in the files at their size. */
import { expect, test } from '@playwright/test';
import { offsetPlaces, offsetVectors, openingsOf } from '../src/shell';
import { gannetPattern } from '../tests/support/harbourWatch';
import { shellOfTruth } from '../tests/support/truthShell';
import { handOf } from './support/hands';
import { readPanels } from './support/panelsSvg';
import { pdfFacts } from './support/pdf';
import { lengthOf } from './support/truth';
import { folded, goTo, handedOut, openSample, settled, undoButton } from './support/work';

type Spot = { readonly x: number; readonly y: number };
const spanOf = (ring: readonly Spot[]) => {
  const xs = ring.map((p) => p.x);
  const ys = ring.map((p) => p.y);
  return [Math.max(...xs) - Math.min(...xs), Math.max(...ys) - Math.min(...ys)] as const;
};
const areaOf = (ring: readonly Spot[]) =>
  Math.abs(
    ring.reduce((sum, p, i) => {
      const q = ring[(i + 1) % ring.length]!;
      return sum + p.x * q.y - q.x * p.y;
    }, 0) / 2,
  );

/** Length of the largest opening of the true shell, its corners moved out by a depth. */
function trueRim(depth: number): number {
  const shell = shellOfTruth(gannetPattern());
  const places = offsetPlaces(shell.vertices, offsetVectors(shell), depth);
  const rim = openingsOf(shell)[0]!.vertices.map((v) => places[v]!);
  return rim.reduce((sum, p, i) => {
    const q = rim[(i + 1) % rim.length]!;
    return sum + Math.hypot(p.x - q.x, p.y - q.y, p.z - q.z);
  }, 0);
}

test('a raised layer and a neck band come out in the files, and a bend test is used', async ({ page }) => {
  test.slow();
  const hand = handOf('pointer', page);
  await openSample(page, hand, 'gannet-helm', 'clean');
  await settled(page);
  await goTo(page, hand, 'Panels');
  await settled(page);
  await page.getByRole('button', { name: 'Band', exact: true }).click();
  const list = folded(page, 'Faces from a list');
  await list.locator('summary').click();
  await list.getByRole('checkbox', { name: /^R8:/ }).check();
  await page.getByRole('button', { name: 'Raised layer', exact: true }).click();
  await settled(page);
  await expect(undoButton(page)).toContainText('Add Layer');
  const layer = folded(page, /^Layer$/);
  await layer.locator('summary').click();
  await expect(layer.getByRole('img', { name: 'Layer laid flat' })).toBeVisible();
  await goTo(page, hand, 'Pages');
  await settled(page);
  const file = await handedOut(page, () => hand.press(page.getByRole('button', { name: 'Panels as SVG' })));
  const { panels } = await readPanels(page, file.bytes.toString('utf8'));
  const named = (name: string) => {
    const found = panels.find((p) => p.name === name);
    if (!found) throw new Error(`No ${name} in the file`);
    return found;
  };
  expect(panels).toHaveLength(55);
  // The largest opening on the true mesh, its corners moved 2.5 mm out square to the walls: K = 0.5, foam of 5 mm.
  const [length, width] = spanOf(named('Band').rings[0]!);
  expect(width).toBeCloseTo(30, 2);
  // Its ends overlap by 20 mm.
  expect(Math.abs(length - 20 - trueRim(2.5))).toBeLessThan(0.5);
  // A layer 6 mm within panel R8, on the outside: 2.5 mm out instead of 2.5 mm in, so as long as that or longer.
  const below = areaOf(named('R8').rings[0]!);
  const above = areaOf(named('Layer').rings[0]!);
  const rim = lengthOf([...named('R8').rings[0]!, named('R8').rings[0]![0]!]);
  expect(above).toBeGreaterThan(below - 6 * rim);
  expect(above).toBeLessThan(below - 4 * rim);
  // It is drawn on the panel below, all of it within that panel.
  const placed = file.bytes.toString('utf8').split('id="placement"')[1]!.split('</g>')[0]!;
  expect(placed).toContain('data-name="R8"');
  const pdf = await handedOut(page, () => hand.press(page.getByRole('button', { name: 'Print pages…' })));
  expect(pdfFacts(pdf.bytes).pages).toBeGreaterThan(0);

  await goTo(page, hand, 'Foam');
  const bendTest = folded(page, 'Bend test');
  await bendTest.locator('summary').click();
  const printed = await handedOut(page, () =>
    hand.press(page.getByRole('button', { name: 'Print the bend test' })),
  );
  expect(pdfFacts(printed.bytes).pages).toBeGreaterThan(0);
  const sides = bendTest.getByRole('textbox', { name: 'Both outer sides of the strip' });
  await sides.fill('206.9');
  await sides.press('Enter');
  await expect(bendTest.locator('summary')).toContainText('K 0.395');
});
