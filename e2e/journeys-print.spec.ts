/**
 * Printing templates: bends, paper, the file itself, and the print measured like paper on a table. Poppler draws the
 * pages; rulers, marks and outlines are found in its picture, not in what the program says about them.
 */
import { expect, type Page, test } from '@playwright/test';
import { type Hand, type HandName, handOf } from './support/hands';
import { readPanels } from './support/panelsSvg';
import { drawPages, pdfFacts } from './support/pdf';
import { measureSquare } from './support/picture';
import { compareOutline, tape } from './support/stitch';
import {
  expectFigure,
  field,
  folded,
  goTo,
  handedOut,
  type Manner,
  openSample,
  radio,
  settled,
  shown,
} from './support/work';

const dotsPerInch = 300;
/** A ruler reads a check square to a tenth of a millimetre. */
const ruler = 0.1;
/** Taped pages and an untiled drawing agree within this, mm. */
const sameLine = 0.2;

/** Points of the papers: A4 is 210 × 297 mm (ISO 216), Letter 8.5 × 11 in. */
const papers = {
  A4: { width: (210 / 25.4) * 72, height: (297 / 25.4) * 72 },
  Letter: { width: 8.5 * 72, height: 11 * 72 },
} as const;

/** Prints, checks the file, and draws some of its pages: of those with panels, the first. */
async function print(page: Page, hand: Hand, paper: keyof typeof papers, howMany: number | 'all') {
  await settled(page);
  const sheets = await shown(page, 'Pages', 'Sheets of paper');
  const maps = sheets - (await shown(page, 'Pages', 'Pages'));
  const labels = await page.getByRole('button', { name: /^Look at / }).allTextContents();
  expect(labels).toHaveLength(sheets);
  const { name, bytes } = await handedOut(page, () =>
    hand.press(page.getByRole('button', { name: 'Print pages…' })),
  );
  expect(name).toBe('Bollard pauldron-pages.pdf');
  const facts = pdfFacts(bytes);
  expect(facts.pages).toBe(sheets);
  expect(facts.printScaling).toBe('None');
  const [short, long] = [facts.width, facts.height].sort((a, b) => a - b);
  expect(Math.abs(short! - papers[paper].width)).toBeLessThan(0.01);
  expect(Math.abs(long! - papers[paper].height)).toBeLessThan(0.01);
  const last = howMany === 'all' ? sheets : maps + howMany;
  return drawPages(bytes, dotsPerInch, maps + 1, last).map((picture, i) => ({
    name: labels[maps + i]!,
    picture,
  }));
}

const within = (value: number, aim: number, bound: number, what: string) =>
  expect(Math.abs(value - aim), `${what}: ${value} mm, not ${aim}`).toBeLessThanOrEqual(bound);

/** Each manner of drawing once, each hand once. */
const ways: readonly (readonly [Manner, HandName])[] = [
  ['clean', 'keyboard'],
  ['loose', 'pointer'],
];

for (const [manner, handName] of ways) {
  test(`templates of the bollard-pauldron (${manner}) print at true scale, by ${handName}`, async ({
    page,
  }) => {
    test.setTimeout(300_000);
    const hand = handOf(handName, page);
    await openSample(page, hand, 'bollard-pauldron', manner);
    await goTo(page, hand, 'Size');
    await hand.choose(radio(page, 'a percentage'));
    await hand.write(field(page, 'Size of the pattern'), '150');
    await expectFigure(page, 'Size', 'Scale', 150, 0.05);
    // Left flat, so that every bend is the one typed below.
    await hand.unfold(folded(page, 'What you know of the shell'));
    await hand.tick(page.getByRole('checkbox', { name: 'Fold the pattern up' }));

    await goTo(page, hand, 'Foam');
    await hand.write(field(page, /^Mountain folds/), '20');
    await hand.write(field(page, /^Valley folds/), '-15°');
    await hand.write(field(page, /^Seams \(/), '18');
    await expectFigure(page, 'Panels in foam', 'Bends not set', 0, 0);
    // Each side of a seam takes half of its bend.
    await expectFigure(page, 'Panels in foam', 'Steepest bevel', 9, 0.01);

    await goTo(page, hand, 'Pages');
    const pages = await print(page, hand, 'A4', 'all');
    expect(pages.length).toBeGreaterThanOrEqual(4);
    for (const { name, picture } of pages) {
      const square = measureSquare(picture);
      within(square.inner.across, 100, ruler, `${name}, across`);
      within(square.inner.up, 100, ruler, `${name}, up`);
      within(square.outer.across, 101.6, ruler, `${name}, 4 in across`);
      within(square.outer.up, 101.6, ruler, `${name}, 4 in up`);
    }

    // Taped together by their marks, the pages show each panel as the untiled drawing has it.
    const taped = tape(pages);
    expect(taped.joints).toBeGreaterThanOrEqual(pages.length - 1);
    expect(taped.worstMark).toBeLessThan(ruler);
    const drawing = await handedOut(page, () =>
      hand.press(page.getByRole('button', { name: 'Panels as SVG' })),
    );
    expect(drawing.name).toBe('Bollard pauldron-panels.svg');
    const { panels } = await readPanels(page, drawing.bytes.toString('utf8'));
    expect(panels).toHaveLength(9);
    const compared = panels.map((panel) => ({
      name: panel.name,
      ...compareOutline(taped, panel.rings[0]!),
    }));
    for (const panel of compared) {
      expect(panel.compared, `panel ${panel.name}: part compared`).toBeGreaterThan(0.85);
      within(panel.worst, 0, sameLine, `panel ${panel.name} on ${panel.pages.join(', ')}`);
    }
    expect(compared.filter((panel) => panel.pages.length > 1).length).toBeGreaterThanOrEqual(2);

    await hand.pick(page.getByRole('combobox', { name: 'Paper size' }), 'Letter');
    const [letter] = await print(page, hand, 'Letter', 1);
    within(measureSquare(letter!.picture).inner.across, 100, ruler, 'Letter, across');
    within(measureSquare(letter!.picture).inner.up, 100, ruler, 'Letter, up');

    // A printer that makes 99 of 100 across and 100.5 of 100 up gets more across and less up.
    await hand.unfold(folded(page, 'Printer check'));
    await hand.write(field(page, 'Line A, across'), '158.4');
    await hand.write(field(page, 'Line B, up'), '201');
    await hand.press(page.getByRole('button', { name: 'Use these figures' }));
    const [corrected] = await print(page, hand, 'Letter', 1);
    // A page that lies sideways goes through the printer the short way round: its across is the printer's up.
    const { width, height } = corrected!.picture;
    const [across, up] = width < height ? [99, 100.5] : [100.5, 99];
    const square = measureSquare(corrected!.picture);
    within(square.inner.across, (100 * 100) / across, ruler, 'corrected, across');
    within(square.inner.up, (100 * 100) / up, ruler, 'corrected, up');
    within(square.outer.across, (101.6 * 100) / across, ruler, 'corrected, 4 in across');
    within(square.outer.up, (101.6 * 100) / up, ruler, 'corrected, 4 in up');
  });
}
