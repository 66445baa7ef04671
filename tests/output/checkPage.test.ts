/** The printer's check page and what follows from it, measured on rendered pages. */
import { beforeAll, describe, expect, it } from 'vitest';
import { unwatched } from '../../src/base';
import { checkLines, layCheckPage, readPrinterCheck } from '../../src/layout';
import { boxOf } from '../../src/math';
import { defaultDecisions, type PageDecisions, type PagePlan } from '../../src/model';
import { writePagesPdf } from '../../src/output';
import { inkAlong, type RenderedPage } from '../support/inkPlaces';
import { testFont } from '../support/lettering';
import { lay, markFixture } from '../support/pages';
import { largePlate } from '../support/panels';
import { itWith, renderPages } from '../support/pdfTools';

const dotsPerInch = 300;
const within = 0.1;

const planOf = (pages: Partial<PageDecisions> = {}, unit: 'mm' | 'in' = 'mm'): PagePlan => {
  const plan = layCheckPage({ ...defaultDecisions.pages, ...pages }, testFont(), unit);
  if (!plan.ok) throw new Error(plan.issues[0]!.message);
  return plan.value;
};

async function rendered(plan: PagePlan): Promise<RenderedPage> {
  const bytes = await writePagesPdf(plan, { title: 'check' }, unwatched);
  return { picture: renderPages(bytes, dotsPerInch)[0]!, height: plan.height, dotsPerInch };
}

describe('the printed check page', () => {
  let page: RenderedPage;
  const plan = planOf();
  beforeAll(async () => {
    page = await rendered(plan);
  });

  itWith(['pdftoppm'], 'has both lines as long as it says', () => {
    const lines = checkLines(defaultDecisions.pages, 'mm');
    expect(lines).toEqual({ across: 150, up: 220 });
    const long = plan.pages[0]!.strokes.filter((s) => s.kind === 'notch' && s.points.length === 2);
    const between = (axis: 'x' | 'y', length: number) => {
      const stroke = long.find(
        (s) => Math.abs(Math.abs(s.points[1]![axis] - s.points[0]![axis]) - length) < 1e-9,
      )!;
      const [a, b] = stroke.points as [{ x: number; y: number }, { x: number; y: number }];
      // Beside the line itself, where only the end ticks are as long: 4.5 mm to the outer side.
      const other = axis === 'x' ? a.y + 4.5 : a.x - 4.5;
      return inkAlong(page, axis, b[axis], other)! - inkAlong(page, axis, a[axis], other)!;
    };
    expect(Math.abs(between('x', 150) - 150)).toBeLessThan(within);
    expect(Math.abs(between('y', 220) - 220)).toBeLessThan(within);
  });

  itWith(['pdftoppm'], 'has squares of their size both ways', () => {
    for (const side of [100, 2 * 25.4]) {
      const square = plan.pages[0]!.strokes.filter((s) => s.closed && s.kind === 'notch')
        .map((s) => boxOf(s.points))
        .find((b) => Math.abs(b.maxX - b.minX - side) < 1e-9)!;
      // Rows and columns that miss the diagonals and the other square's sides.
      const at = 0.23 * side;
      const wide =
        inkAlong(page, 'x', square.maxX, square.minY + at)! -
        inkAlong(page, 'x', square.minX, square.minY + at)!;
      const high =
        inkAlong(page, 'y', square.maxY, square.minX + at)! -
        inkAlong(page, 'y', square.minY, square.minX + at)!;
      expect(Math.abs(wide - side)).toBeLessThan(within);
      expect(Math.abs(high - side)).toBeLessThan(within);
    }
  });

  itWith(['pdftoppm'], 'has tick n of each ladder n millimetres from the edge', () => {
    const { width, height } = plan;
    for (let n = 1; n <= 20; n++) {
      const along = (length: number) => length / 2 + (n - 10.5) * 4.6;
      const places = [
        inkAlong(page, 'x', n, along(height))!,
        width - inkAlong(page, 'x', width - n, along(height))!,
        inkAlong(page, 'y', n, along(width))!,
        height - inkAlong(page, 'y', height - n, along(width))!,
      ];
      for (const place of places) expect(Math.abs(place - n)).toBeLessThan(within);
    }
  });

  it('has strips whose arrows are 100 mm apart when their marks meet', () => {
    for (const overlap of [6, 10, 15]) {
      const { strokes } = planOf({ overlap }).pages[0]!;
      const strips = strokes.filter((s) => s.closed && s.kind === 'valley').map((s) => boxOf(s.points));
      const centres = strokes
        .filter((s) => s.closed && s.kind === 'registration')
        .map((s) => boxOf(s.points))
        .map((b) => ({ x: (b.minX + b.maxX) / 2, y: (b.minY + b.maxY) / 2 }));
      const [first, second] = strips.map((box) => {
        const mine = centres.filter((c) => c.y > box.minY && c.y < box.maxY);
        expect(mine).toHaveLength(2);
        const shaft = strokes.find(
          (s) =>
            s.kind === 'notch' &&
            s.points.length === 2 &&
            s.points.every((p) => Math.abs(p.y - (box.minY + box.maxY) / 2) < 1e-9),
        )!;
        return { mark: mine[0]!.x, tip: shaft.points[0]!.x, box };
      });
      const moved = first!.mark - second!.mark;
      expect(second!.tip + moved - first!.tip).toBeCloseTo(100, 9);
      expect(first!.box.maxX - (second!.box.minX + moved)).toBeCloseTo(overlap, 9);
    }
  });

  it('keeps everything on the paper and off the ladders, on every paper and in both units', () => {
    for (const paper of ['A4', 'A3', 'Letter', 'Legal', 'Tabloid'] as const)
      for (const unit of ['mm', 'in'] as const) {
        const made = planOf({ paper }, unit);
        const box = boxOf(made.pages[0]!.lettering.flatMap((l) => l.rings.flat()));
        expect(Math.min(box.minX, box.minY, made.width - box.maxX, made.height - box.maxY)).toBeGreaterThan(
          20,
        );
        const all = boxOf(made.pages[0]!.strokes.flatMap((s) => s.points));
        expect(Math.min(all.minX, all.minY, made.width - all.maxX, made.height - all.maxY)).toBeCloseTo(1, 9);
      }
  });

  it('is refused on paper that cannot hold it', () => {
    const plan = layCheckPage(
      { ...defaultDecisions.pages, paper: 'own', ownSize: { width: 100, height: 300 } },
      testFont(),
      'mm',
    );
    expect(plan).toMatchObject({ ok: false, issues: [{ code: 'paper-too-small-for-check' }] });
  });
});

describe('what was measured', () => {
  const lines = { across: 150, up: 220 };
  const none = { left: null, right: null, top: null, bottom: null };
  const ticks = { left: 4, right: 5, top: 3, bottom: 13 };
  const read = (check: Partial<Parameters<typeof readPrinterCheck>[0]>, unit: 'mm' | 'in' = 'mm') =>
    readPrinterCheck({ across: null, up: null, ticks: none, ...check }, lines, unit);
  const codes = (outcome: ReturnType<typeof read>) => outcome.issues.map((i) => i.code);

  it('becomes a correction and a reach', () => {
    const both = read({ across: 149.25, up: 220.44, ticks });
    expect(both).toMatchObject({ ok: true, issues: [] });
    if (!both.ok) return;
    expect(both.value.measured!.x).toBeCloseTo(99.5, 9);
    expect(both.value.measured!.y).toBeCloseTo(100.2, 9);
    expect(both.value.reach).toEqual(ticks);
    expect(read({ ticks })).toEqual({ ok: true, value: { reach: ticks }, issues: [] });
  });

  it('is refused with its own word for each slip', () => {
    expect(codes(read({}))).toEqual(['check-nothing-typed']);
    expect(codes(read({ across: 150 }))).toEqual(['check-one-line']);
    expect(codes(read({ across: 15, up: 22 }))).toEqual(['check-line-implausible', 'check-line-implausible']);
    expect(read({ across: 15, up: 220 }).issues[0]!.message).toContain('centimetres');
    expect(read({ across: 5.9, up: 220 }).issues[0]!.message).toContain('inches');
    expect(read({ across: 150, up: 300 }).issues[0]!.message).toContain('no printer');
    expect(codes(read({ ticks: { ...ticks, top: null } }))).toEqual(['check-ticks-missing']);
    expect(codes(read({ ticks: { ...ticks, top: 21 } }))).toEqual(['check-tick-implausible']);
    expect(codes(read({ ticks: { ...ticks, top: 2.5 } }))).toEqual(['check-tick-implausible']);
    for (const slip of [{}, { across: 150 }, { across: 15, up: 22 }]) expect(read(slip).ok).toBe(false);
    for (const issue of read({ across: 15, up: 22 }).issues) expect(issue.remedy).not.toBe('');
  });

  it('is questioned where the print dialog fitted the page, or the ruler slipped', () => {
    const fitted = read({ across: 145.5, up: 213.4 });
    expect(fitted.ok).toBe(true);
    expect(codes(fitted)).toEqual(['check-page-fitted', 'check-page-fitted']);
    expect(codes(read({ across: 150, up: 216.5 }))).toEqual(['check-lines-differ']);
  });
});

describe('pages for a measured printer', () => {
  const marked = markFixture(largePlate());

  itWith(
    ['pdftoppm'],
    'print what becomes 100 mm on it, upright and sideways, and keep off its dead edges',
    async () => {
      const measured = { x: 98.5, y: 101 };
      const reach = { left: 5, right: 11, top: 4, bottom: 14 };
      for (const orientation of ['portrait', 'landscape'] as const) {
        const plan = await lay(marked, { orientation, measured, reach, mapPage: false });
        const only = { ...plan, pages: plan.pages.slice(0, 1) };
        const frames = {
          ...only,
          pages: only.pages.map((p) => ({
            ...p,
            lettering: [],
            strokes: p.strokes.filter((s) => s.kind === 'frame'),
          })),
        };
        const page = await rendered(frames);
        const along = orientation === 'portrait' ? measured : { x: measured.y, y: measured.x };
        const side = { x: 100 * (100 / along.x), y: 100 * (100 / along.y) };
        const square = frames.pages[0]!.strokes.filter((s) => s.closed)
          .map((s) => boxOf(s.points))
          .find((b) => Math.abs(b.maxX - b.minX - side.x) < 1e-6)!;
        const wide =
          inkAlong(page, 'x', square.maxX, square.minY + 37.3)! -
          inkAlong(page, 'x', square.minX, square.minY + 37.3)!;
        const high =
          inkAlong(page, 'y', square.maxY, square.minX + 62.2)! -
          inkAlong(page, 'y', square.minY, square.minX + 62.2)!;
        // What this printer makes of it.
        expect(Math.abs((wide * along.x) / 100 - 100)).toBeLessThan(within);
        expect(Math.abs((high * along.y) / 100 - 100)).toBeLessThan(within);

        const full = await rendered(only);
        const ink = inkBox(full);
        const dead =
          orientation === 'portrait'
            ? { left: 8, right: 11, top: 8, bottom: 14 }
            : { left: 14, right: 14, top: 11, bottom: 11 };
        expect(ink.left).toBeGreaterThan(dead.left - 0.2);
        expect(plan.width - ink.right).toBeGreaterThan(dead.right - 0.2);
        expect(ink.bottom).toBeGreaterThan(dead.bottom - 0.2);
        expect(plan.height - ink.top).toBeGreaterThan(dead.top - 0.2);
        // The frame stands on the limit, so the room is used.
        expect(ink.left).toBeLessThan(dead.left + 0.3);
        expect(plan.width - ink.right).toBeLessThan(dead.right + 0.3);
      }
    },
    120_000,
  );

  it('says when a reach cannot be', async () => {
    const plan = await lay(marked, { reach: { left: 30, right: 4, top: 4, bottom: 4 } });
    expect(plan.pages).toEqual([]);
    expect(plan.issues.map((i) => i.code)).toEqual(['printer-reach-implausible']);
  });
});

/** Limits of all ink, mm from the lower-left corner. */
function inkBox({ picture, height, dotsPerInch: dots }: RenderedPage) {
  const perMm = dots / 25.4;
  const box = { left: Number.POSITIVE_INFINITY, right: 0, top: 0, bottom: Number.POSITIVE_INFINITY };
  for (let y = 0; y < picture.height; y++)
    for (let x = 0; x < picture.width; x++) {
      if (picture.pixels[y * picture.width + x]! > 200) continue;
      const up = height - (y + 0.5) / perMm;
      box.left = Math.min(box.left, (x + 0.5) / perMm);
      box.right = Math.max(box.right, (x + 0.5) / perMm);
      box.top = Math.max(box.top, up);
      box.bottom = Math.min(box.bottom, up);
    }
  return box;
}
