/**
 * Extra parts on the Gannet helm: a raised layer from a panel, a neck band, a visor over the face and a stencil; in the
 * files at their size.
 */
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

/** Sides of an opening of the true shell, its corners moved out by a depth: the largest, or the one furthest in front. */
function trueRim(which: 'largest' | 'front', depth: number): number[] {
  const shell = shellOfTruth(gannetPattern());
  const places = offsetPlaces(shell.vertices, offsetVectors(shell), depth);
  const openings = openingsOf(shell);
  const forward = ({ vertices }: (typeof openings)[number]) =>
    vertices.reduce((sum, v) => sum + shell.vertices[v]!.y, 0) / vertices.length;
  const front = openings.reduce((best, o) => (forward(o) > forward(best) ? o : best));
  const rim = (which === 'front' ? front : openings[0]!).vertices.map((v) => places[v]!);
  return rim.map((p, i) => {
    const q = rim[(i + 1) % rim.length]!;
    return Math.hypot(p.x - q.x, p.y - q.y, p.z - q.z);
  });
}
const sumOf = (lengths: readonly number[]) => lengths.reduce((sum, l) => sum + l, 0);

/** What is drawn of one kind for one panel. */
const groupOf = (svg: string, kind: string, name: string): string =>
  new RegExp(`<g id="${kind}-[^"]*"[^>]*data-name="${name}">([^]*?)</g>`).exec(svg)?.[1] ?? '';

/** A rhombus of 60 by 30 mm: 900 mm². */
const gull =
  '<svg xmlns="http://www.w3.org/2000/svg" width="60mm" height="30mm" viewBox="0 0 60 30"><path d="M0 15L30 0L60 15L30 30Z"/></svg>';

test('a layer, a neck band, a visor and a stencil come out in the files, and a bend test is used', async ({
  page,
}) => {
  test.slow();
  const hand = handOf('pointer', page);
  await openSample(page, hand, 'gannet-helm', 'clean');
  await settled(page);
  await goTo(page, hand, 'Panels');
  await settled(page);
  await page.getByRole('button', { name: 'Band', exact: true }).click();
  await folded(page, /^Draw on the shell$/)
    .locator('summary')
    .click();
  const picked = page.waitForEvent('filechooser');
  await page.getByRole('button', { name: 'Stencil from an SVG file…' }).click();
  await (await picked).setFiles({ name: 'Gull.svg', mimeType: 'image/svg+xml', buffer: Buffer.from(gull) });
  await expect(undoButton(page)).toContainText('Add Gull');
  const list = folded(page, 'Faces from a list');
  await list.locator('summary').click();
  await list.getByRole('checkbox', { name: /^R8:/ }).check();
  await page.getByRole('button', { name: 'Raised layer', exact: true }).click();
  await settled(page);
  await expect(undoButton(page)).toContainText('Add Layer');
  const layer = folded(page, /^Layer$/);
  await layer.locator('summary').click();
  await expect(layer.getByRole('img', { name: 'Layer laid flat' })).toBeVisible();
  await page.getByRole('button', { name: 'Visor', exact: true }).click();
  await settled(page);
  await goTo(page, hand, 'Build');
  await settled(page);
  await expect(page.getByText(/Paint with the stencil Gull A.*: it is not glued/)).toBeVisible();
  for (const caution of [/^A visor blocks sight/, /^Paint and sealer, most of all when sprayed/])
    await expect(page.getByText(caution)).toBeVisible();
  await goTo(page, hand, 'Pages');
  await settled(page);
  const file = await handedOut(page, () => hand.press(page.getByRole('button', { name: 'Panels as SVG' })));
  const { panels } = await readPanels(page, file.bytes.toString('utf8'));
  const named = (name: string) => {
    const found = panels.find((p) => p.name === name);
    if (!found) throw new Error(`No ${name} in the file`);
    return found;
  };
  const stencils = panels.filter((p) => p.name.startsWith('Gull'));
  expect(panels).toHaveLength(56 + stencils.length);
  // The largest opening on the true mesh, its corners moved 2.5 mm out square to the walls: K = 0.5, foam of 5 mm.
  const [length, width] = spanOf(named('Band').rings[0]!);
  expect(width).toBeCloseTo(30, 2);
  // Its ends overlap by 20 mm.
  expect(Math.abs(length - 20 - sumOf(trueRim('largest', 2.5)))).toBeLessThan(0.5);
  // A layer 6 mm within panel R8, on the outside: 2.5 mm out instead of 2.5 mm in, so as long as that or longer.
  const below = areaOf(named('R8').rings[0]!);
  const above = areaOf(named('Layer').rings[0]!);
  const rim = lengthOf([...named('R8').rings[0]!, named('R8').rings[0]![0]!]);
  expect(above).toBeGreaterThan(below - 6 * rim);
  expect(above).toBeLessThan(below - 4 * rim);
  // It is drawn on the panel below, all of it within that panel.
  const text = file.bytes.toString('utf8');
  expect(groupOf(text, 'placement', 'R8')).toContain('data-of="extra:x3:on:');
  // The visor's drawn rim has the sides of the true opening as they are there, 2.5 mm out; its edge goes 12 mm further all round.
  const [, drawn] = /data-of="[^"]*:rim" d="M([^"Z]*)Z"/.exec(groupOf(text, 'placement', 'Visor'))!;
  const visorRim = drawn!.split('L').map((pair): Spot => {
    const [x, y] = pair.split(' ').map(Number);
    return { x: x!, y: y! };
  });
  const sides = visorRim.map((p, i) => lengthOf([p, visorRim[(i + 1) % visorRim.length]!]));
  const inOrder = (lengths: readonly number[]) => [...lengths].sort((a, b) => a - b);
  const trueSides = inOrder(trueRim('front', 2.5));
  expect(sides).toHaveLength(trueSides.length);
  inOrder(sides).forEach((length, i) => {
    expect(Math.abs(length - trueSides[i]!)).toBeLessThan(0.5);
  });
  spanOf(visorRim).forEach((span, axis) => {
    expect(spanOf(named('Visor').rings[0]!)[axis]).toBeGreaterThan(span + 20);
  });
  // The stencil is cut at seams and loses nothing; every part is marked on the panel that it lies on.
  expect(stencils.length).toBeGreaterThan(1);
  expect(stencils.reduce((sum, p) => sum + areaOf(p.rings[0]!), 0)).toBeCloseTo(900, 0);
  expect(text.match(/data-of="extra:x2(:\d+)?:on:/g)!.length).toBeGreaterThanOrEqual(stencils.length);
  const pdf = await handedOut(page, () => hand.press(page.getByRole('button', { name: 'Print pages…' })));
  expect(pdfFacts(pdf.bytes).pages).toBeGreaterThan(0);

  await goTo(page, hand, 'Foam');
  const bendTest = folded(page, 'Bend test');
  await bendTest.locator('summary').click();
  const printed = await handedOut(page, () =>
    hand.press(page.getByRole('button', { name: 'Print the bend test' })),
  );
  expect(pdfFacts(printed.bytes).pages).toBeGreaterThan(0);
  const outer = bendTest.getByRole('textbox', { name: 'Both outer sides of the strip' });
  await outer.fill('206.9');
  await outer.press('Enter');
  await expect(bendTest.locator('summary')).toContainText('K 0.395');
});
