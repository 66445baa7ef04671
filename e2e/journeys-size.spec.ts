/**
 * Fitting a pattern whose girth the person measures: on the bench or typed, the head by tape and by hat size, room and
 * foam. Every figure on screen is worked out here once more, from the formula alone.
 */
import { expect, type Page, test } from '@playwright/test';
import { drawPattern, keelPattern } from '../tests/support/harbourWatch';
import { clickAt, dragAlong, lookAt, walkTo } from './support/bench';
import { type Hand, handOf } from './support/hands';
import {
  expectFigure,
  field,
  figure,
  folded,
  goTo,
  listed,
  type Manner,
  openSample,
  radio,
  redoButton,
  undoButton,
} from './support/work';

/** Lengths of the loose drawings: lines end up to 0.1 mm beside their corners. */
const drawn: Readonly<Record<Manner, number>> = { clean: 0.01, loose: 0.2 };
/** Figures are shown to a tenth. */
const tenth = 0.05 + 1e-6;

interface Given {
  readonly head: number;
  readonly padding: number;
  readonly clearance: number;
  readonly thickness: number;
  /** Part of the foam within the paper. */
  readonly within: number;
  readonly girth: number;
  /** How far the girth may be off, mm. */
  readonly off: number;
}

/**
 * Girth of a convex section at a distance d from it: + 2πd (Steiner). Wanted inside = head + 2π × room; the paper lies
 * `within` of the foam outside of that.
 */
function fit({ head, padding, clearance, thickness, within, girth }: Given) {
  const wanted = head + 2 * Math.PI * (padding + clearance);
  const paper = wanted + 2 * Math.PI * thickness * within;
  return {
    wanted,
    paper,
    scale: paper / girth,
    inside: wanted,
    outside: wanted + 2 * Math.PI * thickness,
    foamInside: thickness * within,
  };
}

async function expectFigures(page: Page, given: Given) {
  const want = fit(given);
  // The scale is shown to a tenth of a percent.
  const scaleOff = (100 * want.scale * given.off) / given.girth;
  await expectFigure(page, 'Size', 'Scale', 100 * want.scale, tenth + scaleOff);
  await expectFigure(page, 'Size', 'Inside girth wanted', want.wanted, tenth);
  await expectFigure(page, 'Size', 'Inside girth', want.inside, tenth);
  await expectFigure(page, 'Size', 'Outside girth', want.outside, tenth);
}

const expectGirth = (page: Page, length: number, off: number) =>
  expectFigure(page, 'Size', 'Pattern’s girth', length, tenth + off);

/** The working, line by line. */
async function expectArithmetic(page: Page, hand: Hand, given: Given) {
  const part = folded(page, /^Why [\d.]+ %\?$/);
  await hand.unfold(part);
  const lines = await part.locator('ol.arithmetic > li').evaluateAll((items) =>
    items.map((item) => ({
      label: item.querySelector('span')?.firstChild?.textContent?.trim() ?? '',
      value: Number.parseFloat(item.querySelector('.number')?.textContent ?? ''),
    })),
  );
  const want = fit(given);
  const expected: readonly (readonly [string, number, number])[] = [
    ['Head girth', given.head, tenth],
    ['Ease', given.padding + given.clearance, tenth],
    ['Inside girth wanted', want.wanted, tenth],
    ['Foam inside the paper', want.foamInside, tenth],
    ['Paper girth wanted', want.paper, tenth],
    ['Pattern girth', given.girth, tenth + given.off],
    ['Scale', want.scale, 0.00005 + 1e-9 + (want.scale * given.off) / given.girth],
    ['Inside girth', want.inside, tenth],
    ['Outside girth', want.outside, tenth],
  ];
  expect(lines.map((l) => l.label)).toEqual(expected.map(([label]) => label));
  for (const [i, [label, value, bound]] of expected.entries())
    expect(Math.abs(lines[i]!.value - value), label).toBeLessThanOrEqual(bound);
}

const distance = (a: { x: number; y: number }, b: { x: number; y: number }) =>
  Math.hypot(a.x - b.x, a.y - b.y);

/** Measures with the tape along two straight edges, then along three edges by clicks, and takes it all back. */
async function measureByPointer(page: Page, hand: Hand, manner: Manner, girth: number) {
  const { truth } = drawPattern(keelPattern(), { manner });
  const straight = truth.pieces
    .flatMap((p) => p.outline.filter((e) => e.points.length === 2).slice(0, 1))
    .map((e) => [e.points[0]!, e.points[1]!] as const)
    .filter(([a, b]) => distance(a, b) > 12)
    .slice(0, 2);
  expect(straight).toHaveLength(2);
  await hand.choose(radio(page, 'with a tape'));
  await hand.press(page.getByRole('button', { name: 'Start over' }));
  await expect(page.getByText('Not measured yet')).toBeVisible();
  await hand.choose(radio(page, 'with a tape'));
  let sum = 0;
  for (const [a, b] of straight) {
    await lookAt(page, { x: (a.x + b.x) / 2, y: (a.y + b.y) / 2 }, 4);
    // A little beside the corners: the tape's ends go to them.
    await dragAlong(page, { x: a.x + 0.4, y: a.y - 0.3 }, { x: b.x - 0.4, y: b.y + 0.3 });
    sum += distance(a, b);
    await expectGirth(page, sum, drawn[manner]);
  }
  await expect(page.getByText('in 2 parts of tape')).toBeVisible();

  const chain = listed(bracer, manner)
    .measure!.middles.slice(0, 3)
    .map(([x, y]) => ({ x, y }));
  const lengths = chain.map((at) => {
    const edges = truth.pieces.flatMap((p) => p.outline);
    const near = edges.find((e) => middlesMeet(e.points, at));
    if (!near) throw new Error('The listed edge is not in the pattern.');
    return lengthOf(near.points);
  });
  await hand.choose(radio(page, 'along edges'));
  for (const at of chain) {
    await lookAt(page, at, 3);
    await clickAt(page, at);
  }
  await page.keyboard.press('Enter');
  await expect(page.getByText('along 3 edges')).toBeVisible();
  const chained = lengths.reduce((a, b) => a + b, 0);
  await expectGirth(page, chained, drawn[manner]);

  // One step for the chain, one for each tape, one for starting over.
  for (let step = 0; step < 4; step++) await hand.press(undoButton(page));
  await expectGirth(page, girth, drawn[manner]);
}

/** Takes edges on the bench by keys, then types the girth, and takes both back. */
async function measureByKeys(page: Page, hand: Hand, manner: Manner, girth: number) {
  await hand.press(page.getByRole('button', { name: 'Start over' }));
  await hand.choose(radio(page, 'along edges'));
  let sum = 0;
  const first = await walkTo(page, /^Edge/);
  const lengthSaid = (words: string) => Number(/, ([\d.]+) mm/.exec(words)?.[1]);
  sum += lengthSaid(first);
  await page.keyboard.press('Enter');
  await page.keyboard.press('.');
  const second = await walkTo(page, /^Edge 3 /);
  sum += lengthSaid(second);
  await page.keyboard.press('Enter');
  await page.keyboard.press('Shift+Enter');
  // Each length is read out to a tenth.
  await expectGirth(page, sum, 2 * tenth);
  await expect(page.getByText('along 2 edges')).toBeVisible();

  await hand.choose(radio(page, 'typed'));
  await hand.write(field(page, 'Girth as drawn'), '25.2 in');
  await expectGirth(page, 25.2 * 25.4, 0);

  // By key, away from any field: typing, the chain, starting over.
  await walkTo(page, /^Edge/);
  for (let step = 0; step < 3; step++) await page.keyboard.press('Control+z');
  await expectGirth(page, girth, drawn[manner]);
}

type Points = readonly { readonly x: number; readonly y: number }[];

const lengthOf = (points: Points) => points.slice(1).reduce((sum, p, i) => sum + distance(points[i]!, p), 0);

function middlesMeet(points: Points, at: { x: number; y: number }): boolean {
  let left = lengthOf(points) / 2;
  for (let i = 1; i < points.length; i++) {
    const [a, b] = [points[i - 1]!, points[i]!];
    const d = distance(a, b);
    if (left <= d) {
      const t = left / d;
      return distance({ x: a.x + (b.x - a.x) * t, y: a.y + (b.y - a.y) * t }, at) < 0.01;
    }
    left -= d;
  }
  return false;
}

/** Its girth is that of a wrist, which the folded shell does not propose. */
const bracer = 'keel-bracer';

for (const [manner, handName] of [
  ['clean', 'keyboard'],
  ['loose', 'pointer'],
] as const) {
  test(`the bracer (${manner}) is fitted to a head, by ${handName}`, async ({ page }) => {
    test.setTimeout(240_000);
    const hand = handOf(handName, page);
    const { length: girth } = listed(bracer, manner).measure!;
    await openSample(page, hand, bracer, manner);
    await goTo(page, hand, 'Size');
    await expectGirth(page, girth, drawn[manner]);
    if (manner === 'clean') await expect(undoButton(page)).toBeDisabled();

    if (handName === 'pointer') await measureByPointer(page, hand, manner, girth);
    else await measureByKeys(page, hand, manner, girth);

    const given: Given = {
      head: 580,
      padding: 6,
      clearance: 4,
      thickness: 5,
      within: 1,
      girth,
      off: drawn[manner],
    };
    await hand.write(field(page, 'Head girth'), '58 cm');
    await hand.write(field(page, 'Padding'), '6');
    await hand.write(field(page, 'Clearance'), '4 mm');
    await hand.pick(page.getByRole('combobox', { name: 'Foam thickness' }), '5 mm');
    await expectFigures(page, given);
    await expectArithmetic(page, hand, given);

    await hand.choose(radio(page, 'middle'));
    await expectFigures(page, { ...given, within: 0.5 });
    await expectArithmetic(page, hand, { ...given, within: 0.5 });
    await hand.pick(page.getByRole('combobox', { name: 'Foam thickness' }), '10 mm');
    await expectFigures(page, { ...given, within: 0.5, thickness: 10 });
    for (let step = 0; step < (handName === 'pointer' ? 1 : 3); step++) await hand.press(undoButton(page));
    await expectFigures(page, { ...given, within: 0.5 });
    await hand.press(undoButton(page));
    await expectFigures(page, given);

    // A US hat size is the girth in inches over π: 7 1/4 is 578.5 mm.
    await hand.choose(radio(page, 'US hat size'));
    await hand.write(field(page, 'US hat size'), '7 1/4');
    const hat = { ...given, head: 7.25 * Math.PI * 25.4 };
    await expectFigures(page, hat);
    await expectArithmetic(page, hand, hat);
    await hand.press(undoButton(page));
    await expectFigures(page, given);
    await hand.press(redoButton(page));
    await expectFigures(page, hat);
    await expect(figure(page, 'Size', 'Scale')).toContainText('%');
  });
}
