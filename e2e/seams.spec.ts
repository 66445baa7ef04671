/**
 * Marking seams: found by their numbers, one taken apart and paired again by hand, an edge left open; then the notches
 * in the exported drawing, read with the browser's own XML parser and measured with plain geometry against what the
 * generator knows about the pattern.
 */
import { expect, type Page, test } from '@playwright/test';
import { clickAt, lookAt, walkTo } from './support/bench';
import { type Hand, type HandName, handOf } from './support/hands';
import { type DrawnNotch, type DrawnPanel, readPanels } from './support/panelsSvg';
import { apart, type Known, type KnownEdge, knownOf, nearestOn } from './support/truth';
import {
  expectFigure,
  field,
  folded,
  goTo,
  handedOut,
  type Manner,
  openSample,
  settled,
  undoButton,
} from './support/work';

/** Notches of two sides, and their distances along the outline, agree within this, mm. */
const sameNotch = 0.01;
/** Corners of a panel from a shell are moved along its edges so that mates agree; the share of a stretch shows it, mm. */
const cornersBeside = 1;
/** Folds and seams bent as below move the edges of 5 mm foam by less than this on the flat, mm. */
const bentAway = 4;

/** What the bench reads out for an edge; lengths of loose drawings may round another way. */
function saidOf(edge: KnownEdge, state: string): RegExp {
  const lengths = [-0.1, 0, 0.1].map((d) => `${Math.round((edge.length + d) * 10) / 10}`.replace('.', '\\.'));
  return new RegExp(`^Edge \\d+ of piece ${edge.piece}, (${lengths.join('|')}) mm, ${state}`);
}

const alone = (known: Known, edge: KnownEdge) =>
  known.edges.every((e) => e === edge || e.piece !== edge.piece || Math.abs(e.length - edge.length) > 0.4);

/** A seam whose edges can be told by their lengths: the only one between its pieces, so that it has its own notches. */
function someSeam(known: Known): readonly [KnownEdge, KnownEdge] {
  const mateOf = (e: KnownEdge) => (e.mate ? known.edge(e.mate) : null);
  for (const a of known.edges) {
    const b = mateOf(a);
    if (!b || a.length < 35 || !alone(known, a) || !alone(known, b)) continue;
    const joined = known.edges.filter((e) => e.piece === a.piece && mateOf(e)?.piece === b.piece);
    if (joined.length === 1) return [a, b];
  }
  throw new Error('No such seam');
}

async function expectSeams(page: Page, paired: number, open: number, borders: number) {
  await expectFigure(page, 'Seams found', 'Paired', paired, 0);
  await expectFigure(page, 'Seams found', 'Open', open, 0);
  await expectFigure(page, 'Seams found', 'Ambiguous', 0, 0);
  await expectFigure(page, 'Seams found', 'Borders', borders, 0);
}

async function breakSeam(page: Page, hand: Hand, edge: KnownEdge) {
  if (hand.name === 'pointer') {
    await lookAt(page, edge.middle, 3);
    await clickAt(page, edge.middle);
    await hand.press(page.getByRole('button', { name: /^Unpair seam \d+$/ }));
  } else {
    await walkTo(page, saidOf(edge, 'seam'));
    await page.keyboard.press('Enter');
    await page.keyboard.press('Delete');
  }
}

/** With the pair tool, by pointer or by keys on the bench. */
async function pairOnBench(page: Page, hand: Hand, a: KnownEdge, b: KnownEdge) {
  await hand.press(
    page.getByRole('toolbar', { name: 'Tools' }).getByRole('button', { name: 'Pair two edges' }),
  );
  for (const edge of [a, b]) {
    if (hand.name === 'pointer') {
      await lookAt(page, edge.middle, 3);
      await clickAt(page, edge.middle);
    } else {
      await walkTo(page, saidOf(edge, 'no mate yet'));
      await page.keyboard.press('Enter');
    }
  }
  await page.keyboard.press('Escape');
}

/** With the two lists of the sheet. */
async function pairInLists(page: Page, hand: Hand, a: KnownEdge, b: KnownEdge) {
  const form = page.locator('section.part').filter({ hasText: 'Pair two edges' });
  for (const [edge, label] of [
    [a, 'Edge'],
    [b, 'Its mate'],
  ] as const) {
    const list = form.getByRole('combobox', { name: label, exact: true });
    const options = await list.locator('option').allTextContents();
    const option = options.find((text) => {
      const [, piece, length] = /^(\w+) \d+, ([\d.]+) mm/.exec(text) ?? [];
      return piece === edge.piece && Math.abs(Number(length) - edge.length) < 0.2;
    });
    if (option === undefined) throw new Error(`${label}: no option for ${edge.piece}, ${edge.length}`);
    await hand.pick(list, option);
  }
  await hand.press(form.getByRole('button', { name: 'Pair these edges' }));
}

async function leaveOpen(page: Page, hand: Hand, edge: KnownEdge) {
  if (hand.name === 'pointer') {
    await hand.press(
      page.getByRole('toolbar', { name: 'Tools' }).getByRole('button', { name: 'Select', exact: true }),
    );
    await lookAt(page, edge.middle, 3);
    await clickAt(page, edge.middle);
    await hand.press(page.getByRole('button', { name: 'Mark 1 selected edge as border' }));
  } else {
    await walkTo(page, saidOf(edge, 'no mate yet'));
    await page.keyboard.press('Enter');
    await page.keyboard.press('b');
  }
}

interface Side {
  readonly panel: DrawnPanel;
  readonly notches: readonly DrawnNotch[];
}

/** Notches of every seam, side by side. */
function sidesBySeam(panels: readonly DrawnPanel[]): Map<string, Map<string, Side>> {
  const seams = new Map<string, Map<string, Side>>();
  for (const panel of panels)
    for (const notch of panel.notches) {
      const sides = seams.get(notch.seam) ?? new Map<string, Side>();
      seams.set(notch.seam, sides);
      const notches = [...(sides.get(notch.edge)?.notches ?? []), notch].sort((p, q) => p.along - q.along);
      sides.set(notch.edge, { panel, notches });
    }
  return seams;
}

/**
 * Ways round the outline in which all notches of an edge lie as far as they say from one of its corners: +1 with the
 * outline, −1 against it. The outline is the panel's own drawn ring.
 */
function waysFromCorner({ panel, notches }: Side): ReadonlySet<1 | -1> {
  const ring = panel.rings.find((r) => notches.every((n) => nearestOn([...r, r[0]!], n.at).off < sameNotch));
  if (!ring) throw new Error(`Notches of panel ${panel.name} lie beside its outline.`);
  const closed = [...ring, ring[0]!];
  const steps = ring.map((p, i) => apart(p, closed[i + 1]!));
  const whole = steps.reduce((a, b) => a + b, 0);
  const places = notches.map((n) => nearestOn(closed, n.at).along);
  const ways = new Set<1 | -1>();
  let corner = 0;
  for (const step of steps) {
    for (const way of [1, -1] as const) {
      const fits = notches.every((n, k) => {
        const from = ((((places[k]! - corner) * way) % whole) + whole) % whole;
        return Math.abs(from - n.along) <= sameNotch;
      });
      if (fits) ways.add(way);
    }
    corner += step;
  }
  return ways;
}

/** The known edge that notches stand on, and how far each is from its two corners; the drawing's y points down. */
function standsOn(known: Known, notches: readonly DrawnNotch[], within: number) {
  const flipped = notches.map((n) => ({ x: n.at.x, y: -n.at.y }));
  const off = (edge: KnownEdge) => Math.max(...flipped.map((at) => nearestOn(edge.points, at).off));
  const edge = [...known.edges].sort((p, q) => off(p) - off(q))[0]!;
  expect(off(edge), `notches of ${notches[0]!.edge} beside an edge`).toBeLessThanOrEqual(within);
  const fromStart = flipped.map((at) => nearestOn(edge.points, at).along);
  return { edge, fromStart, fromEnd: fromStart.map((s) => edge.length - s) };
}

/**
 * Where a notch stands on the side of the outline that it is on, as a part of that side's length in the outline's
 * direction, with the side's length.
 */
function partOfSide({ panel, notches }: Side, i: number): { readonly part: number; readonly length: number } {
  const { at } = notches[i]!;
  const sides = panel.rings.flatMap((ring) => ring.map((p, k) => [p, ring[(k + 1) % ring.length]!] as const));
  const [p, q] = sides.sort((s, t) => nearestOn(s, at).off - nearestOn(t, at).off)[0]!;
  const length = apart(p, q);
  return { part: apart(p, at) / length, length };
}

/** Each manner of drawing once, each hand once. */
const ways: readonly (readonly [Manner, HandName])[] = [
  ['clean', 'pointer'],
  ['loose', 'keyboard'],
];

for (const [manner, handName] of ways) {
  test(`seams of the bollard-pauldron (${manner}) are paired and get matching notches, by ${handName}`, async ({
    page,
  }) => {
    test.setTimeout(240_000);
    const hand = handOf(handName, page);
    const known = knownOf('bollard-pauldron', manner);
    const open = known.edges.filter((e) => e.mate === null).length;
    const [a, b] = someSeam(known);
    const border = known.edges.find((e) => e.mate === null && e.length > 30 && alone(known, e))!;

    await openSample(page, hand, 'bollard-pauldron', manner);
    await goTo(page, hand, 'Seams');
    await expectSeams(page, known.seams, open, 0);
    const runs = await page.getByRole('button', { name: /^Seam \d+$/ }).count();

    await breakSeam(page, hand, a);
    await expectSeams(page, known.seams - 1, open + 2, 0);
    await hand.press(undoButton(page));
    await expectSeams(page, known.seams, open, 0);
    await page.keyboard.press('Control+Shift+z');
    await expectSeams(page, known.seams - 1, open + 2, 0);
    // On the bench in the clean drawing, from the lists in the loose one.
    if (manner === 'clean') await pairOnBench(page, hand, a, b);
    else await pairInLists(page, hand, a, b);
    await expectSeams(page, known.seams, open, 0);
    await leaveOpen(page, hand, border);
    await expectSeams(page, known.seams, open - 1, 1);
    await expect(page.locator('option', { hasText: 'Paired by hand (1)' })).toBeAttached();

    // The clean drawing is left flat, so that every notch lies on an edge that is known; the loose one is folded up and
    // gets bends typed for what the shell leaves.
    const flat = manner === 'clean';
    if (flat) {
      await goTo(page, hand, 'Size');
      await hand.unfold(folded(page, 'What you know of the shell'));
      await hand.tick(page.getByRole('checkbox', { name: 'Fold the pattern up' }));
    } else {
      await goTo(page, hand, 'Foam');
      await hand.write(field(page, /^Mountain folds/), '20');
      await hand.write(field(page, /^Valley folds/), '-15');
      await hand.write(field(page, /^Seams \(/), '18');
    }
    await goTo(page, hand, 'Pages');
    await settled(page);
    const file = await handedOut(page, () => hand.press(page.getByRole('button', { name: 'Panels as SVG' })));
    const { panels } = await readPanels(page, file.bytes.toString('utf8'));
    expect(panels).toHaveLength(9);

    const seams = sidesBySeam(panels);
    // Each numbered seam is notched in one of its stretches at least.
    expect(runs).toBeGreaterThan(10);
    expect(seams.size).toBeGreaterThanOrEqual(runs);
    const joined: string[] = [];
    for (const [id, sides] of seams) {
      expect([...sides.keys()], `sides of ${id}`).toHaveLength(2);
      const [one, two] = [...sides.values()] as [Side, Side];
      expect(one.notches.length, `notches of ${id}`).toBe(two.notches.length);
      // Flat they are as far along; from the shell they stand where they meet once folds beside them are bent.
      for (const [i, notch] of one.notches.entries())
        if (flat) expect(Math.abs(notch.along - two.notches[i]!.along), id).toBeLessThanOrEqual(sameNotch);
        else {
          // Corners of panels lie beside the shell's own, so between them mates share out a stretch nearly alike.
          const [first, second] = [partOfSide(one, i), partOfSide(two, i)];
          const apartBy = Math.abs(first.part + second.part - 1) * Math.min(first.length, second.length);
          expect(apartBy, `${id}: share of the stretch`).toBeLessThanOrEqual(cornersBeside);
        }
      // Counted from the corner that both sides share: one runs with its outline, the other against it.
      const [first, second] = [waysFromCorner(one), waysFromCorner(two)];
      const meet = (first.has(1) && second.has(-1)) || (first.has(-1) && second.has(1));
      expect(meet, `${id}: as far from a corner as they say`).toBe(true);

      const within = flat ? sameNotch : bentAway;
      const [p, q] = [standsOn(known, one.notches, within), standsOn(known, two.notches, within)];
      // So no notch is on an edge that stays open either.
      expect(p.edge.mate, `${id} joins edges of ${p.edge.piece} and ${q.edge.piece}`).toBe(q.edge.id);
      joined.push(p.edge.id, q.edge.id);
      if (!flat) continue;
      const off = (from: readonly number[], side: Side) =>
        Math.max(...side.notches.map((n, i) => Math.abs(n.along - from[i]!)));
      const worst = Math.min(
        Math.max(off(p.fromStart, one), off(q.fromEnd, two)),
        Math.max(off(p.fromEnd, one), off(q.fromStart, two)),
      );
      expect(worst, `${id}: from the pattern’s own corners`).toBeLessThanOrEqual(sameNotch);
    }
    expect(joined).toContain(a.id);
    expect(joined).toContain(b.id);
  });
}
