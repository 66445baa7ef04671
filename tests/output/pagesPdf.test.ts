import { describe, expect, it } from 'vitest';
import { Cancelled, unwatched } from '../../src/base';
import { boxOf, type Point } from '../../src/math';
import { type LineKind, lineLooks, type Page, type PagePlan, placePoints } from '../../src/model';
import { writePagesPdf } from '../../src/output';
import { lay, markFixture, panelKinds, panelPages } from '../support/pages';
import { gores, largePlate } from '../support/panels';
import { itWith, type Picture, renderPages, run, unpacked, withPdf } from '../support/pdfTools';

const meta = { title: 'Gannet helm' };
const large = markFixture(largePlate());
const write = (plan: PagePlan) => writePagesPdf(plan, meta, unwatched);

describe('the PDF file', () => {
  it('is the same for the same plan, byte by byte', async () => {
    const plan = await lay(markFixture(gores(5, 5, 180, 500, 0.2)));
    const [a, b] = [await write(plan), await write(structuredClone(plan))];
    expect(Buffer.from(a).equals(Buffer.from(b))).toBe(true);
    const other = await writePagesPdf(plan, { title: 'Keel bracer' }, unwatched);
    expect(Buffer.from(a).equals(Buffer.from(other))).toBe(false);
  });

  it('is written page by page and stops when cancelled', async () => {
    const plan = await lay(large);
    const steps: number[] = [];
    await writePagesPdf(plan, meta, { step: async (done) => void steps.push(done) });
    expect(steps).toEqual(plan.pages.map((_, i) => i));
    const cancelling = writePagesPdf(plan, meta, {
      step: async (done) => {
        if (done === 2) throw new Cancelled();
      },
    });
    await expect(cancelling).rejects.toThrow(Cancelled);
  });

  itWith(['qpdf'], 'has no fault that a checker finds', async () => {
    const bytes = await write(await lay(large));
    expect(withPdf(bytes, (file) => run('qpdf', ['--check', file]))).toContain(
      'No syntax or stream encoding errors',
    );
  });

  itWith(['pdfinfo', 'qpdf'], 'carries title, page count and page names', async () => {
    const plan = await lay(large);
    const bytes = await write(plan);
    const info = withPdf(bytes, (file) => run('pdfinfo', [file]));
    expect(info).toMatch(/Title: +Gannet helm/);
    expect(info).toMatch(new RegExp(`Pages: +${plan.pages.length}\\n`));
    expect(info).toMatch(/CreationDate: +Sat Jan +1 00:00:00 2000/);
    const text = unpacked(bytes);
    for (const page of plan.pages) {
      const label = Buffer.from(`\ufeff${page.name}`, 'utf16le').swap16().toString('hex');
      expect(text.toLowerCase()).toContain(`<${label}>`);
    }
  });

  itWith(['qpdf'], 'draws each kind of line with its own dash and width', async () => {
    const text = unpacked(await write(await lay(markFixture(gores(5, 5, 180, 500, 0.2)))));
    for (const kind of ['mountain', 'valley'] as const) {
      const dash = lineLooks[kind].dash.map((d) => String(d).replace(/^0\./, '.')).join(' ');
      expect(text).toContain(`[${dash}] 0 d`);
    }
    for (const kind of ['cut', 'notch', 'frame'] as const) {
      expect(text).toContain(` G ${String(lineLooks[kind].width).replace(/^0\./, '.')} w`);
    }
  });

  itWith(['qpdf'], 'holds lettering as paths, no font and no picture', async () => {
    const text = unpacked(await write(await lay(large)));
    expect(text).not.toMatch(/\/Font\b|\/XObject|\bBT\b/);
  });
});

describe('the printed page', () => {
  itWith(
    ['pdftoppm'],
    'shows a check square of 100.0 mm both ways, on every page',
    async () => {
      const plan = await lay(large);
      const squareOf = (page: Page) =>
        page.strokes
          .filter((s) => s.closed && s.points.length === 4)
          .map((s) => boxOf(s.points))
          .find((box) => Math.abs(box.maxX - box.minX - 100) < 1e-6)!;
      const measured: number[] = [];
      const measure = (picture: Picture, page: Page) => {
        const size = measureSquare(picture, plan, squareOf(page), 300);
        measured.push(size.width, size.height);
      };
      // The map page has its square free. On panels other lines may cross it: there only frames are printed.
      expect(plan.pages[0]!.name).toBe('map');
      measure(renderPages(await write({ ...plan, pages: plan.pages.slice(0, 1) }), 300)[0]!, plan.pages[0]!);
      const frames = renderPages(await write(onlyKinds(plan, (kind) => kind === 'frame')), 300);
      expect(frames).toHaveLength(plan.pages.length);
      frames.forEach((picture, i) => {
        measure(picture, plan.pages[i]!);
      });
      for (const side of measured) expect(Math.abs(side - 100)).toBeLessThan(0.1);
    },
    120_000,
  );

  itWith(
    ['pdftoppm'],
    'joins by its registration marks to what an undivided print shows, within 0.2 mm',
    async () => {
      const plan = await lay(large, { mapPage: false });
      expect(panelPages(plan).length).toBeGreaterThanOrEqual(6);
      const perMm = 10;
      const marks = renderPages(
        await write(onlyKinds(plan, (kind) => kind === 'registration')),
        perMm * 25.4,
      );
      const ink = renderPages(await write(onlyKinds(plan, (kind) => panelKinds.has(kind))), perMm * 25.4);
      const whole = renderPages(await write(undivided(plan)), perMm * 25.4)[0]!;

      // Where each mark was printed, pixels from the page's upper-left corner.
      const printed = plan.pages.map((page, i) =>
        page.registration.map((mark) => ({
          id: mark.id,
          layoutAt: mark.layoutAt,
          at: centreOfInk(marks[i]!, plan, mark.at, perMm),
        })),
      );
      // The first page is laid down by one of its marks; every other by the marks it shares with pages already there.
      const offsets = new Map<number, Point>();
      const anchor = printed[0]![0]!;
      offsets.set(0, {
        x: (anchor.layoutAt.x + rim) * perMm - anchor.at.x,
        y: whole.height - (anchor.layoutAt.y + rim) * perMm - anchor.at.y,
      });
      for (let round = 0; round < plan.pages.length; round++) {
        plan.pages.forEach((_, i) => {
          if (offsets.has(i)) return;
          const pairs = printed[i]!.flatMap((mark) =>
            [...offsets].flatMap(([k, off]) =>
              printed[k]!.filter((m) => m.id === mark.id).map((m) => ({
                x: off.x + m.at.x - mark.at.x,
                y: off.y + m.at.y - mark.at.y,
              })),
            ),
          );
          if (pairs.length < 2) return;
          const mean = (pick: (p: Point) => number) =>
            pairs.reduce((sum, p) => sum + pick(p), 0) / pairs.length;
          // All shared marks ask for the same shift: no page is turned or stretched against another.
          for (const p of pairs) {
            expect(Math.abs(p.x - mean((q) => q.x))).toBeLessThan(0.1 * perMm);
            expect(Math.abs(p.y - mean((q) => q.y))).toBeLessThan(0.1 * perMm);
          }
          offsets.set(i, { x: mean((p) => p.x), y: mean((p) => p.y) });
        });
      }
      expect(offsets.size).toBe(plan.pages.length);

      const joined = new Uint8Array(whole.width * whole.height).fill(255);
      ink.forEach((picture, i) => {
        const off = offsets.get(i)!;
        paste(joined, whole.width, whole.height, picture, Math.round(off.x), Math.round(off.y));
      });
      const dark = (pixels: Uint8Array) => pixels.reduce((sum, p) => sum + (p < 128 ? 1 : 0), 0);
      expect(dark(whole.pixels)).toBeGreaterThan(50_000);
      const reach = 0.2 * perMm;
      const size = { width: whole.width, height: whole.height };
      expect(inkOff(joined, whole.pixels, size, reach)).toBe(0);
      expect(inkOff(whole.pixels, joined, size, reach)).toBe(0);
    },
    180_000,
  );
});

const rim = 10;

/** The plan with only some strokes and no lettering. */
function onlyKinds(plan: PagePlan, keep: (kind: LineKind) => boolean): PagePlan {
  return {
    ...plan,
    pages: plan.pages.map((p) => ({ ...p, lettering: [], strokes: p.strokes.filter((s) => keep(s.kind)) })),
  };
}

/** One page as large as the layout, with the panels as placed. */
function undivided(plan: PagePlan): PagePlan {
  const move = (p: Point): Point => ({ x: p.x + rim, y: p.y + rim });
  const strokes = plan.placements.flatMap((placement) => {
    const panel = large.panels.find((p) => p.panel.id === placement.panel)!;
    return [
      ...panel.lines.map((l) => ({
        kind: l.kind,
        closed: l.closed,
        points: placePoints(l.points, placement).map(move),
      })),
      ...panel.notches.map((n) => ({
        kind: 'notch' as const,
        closed: false,
        points: placePoints([n.at, n.to], placement).map(move),
      })),
    ];
  });
  const page = { ...plan.pages[0]!, strokes, lettering: [], registration: [] };
  return { ...plan, width: plan.extent.width + 2 * rim, height: plan.extent.height + 2 * rim, pages: [page] };
}

/** Middles of the square's lines along a row and a column that meet no tick. */
function measureSquare(
  picture: Picture,
  plan: PagePlan,
  box: ReturnType<typeof boxOf>,
  dotsPerInch: number,
): { width: number; height: number } {
  const perMm = dotsPerInch / 25.4;
  const column = (y: number) => (x: number) => picture.pixels[y * picture.width + x]!;
  const row = (x: number) => (y: number) => picture.pixels[y * picture.width + x]!;
  const y = Math.round((plan.height - (box.minY + 37.3)) * perMm);
  const x = Math.round((box.minX + 62.2) * perMm);
  const left = darkMiddle(column(y), box.minX * perMm, perMm);
  const right = darkMiddle(column(y), box.maxX * perMm, perMm);
  const top = darkMiddle(row(x), (plan.height - box.maxY) * perMm, perMm);
  const bottom = darkMiddle(row(x), (plan.height - box.minY) * perMm, perMm);
  return { width: (right - left) / perMm, height: (bottom - top) / perMm };
}

/** Middle of the darkness within 0.7 mm of a place. */
function darkMiddle(at: (i: number) => number, near: number, perMm: number): number {
  let weight = 0;
  let sum = 0;
  for (let i = Math.round(near - 0.7 * perMm); i <= near + 0.7 * perMm; i++) {
    const dark = 255 - at(i);
    weight += dark;
    sum += dark * (i + 0.5);
  }
  expect(weight).toBeGreaterThan(100);
  return sum / weight;
}

/** Middle of the ink round a mark, pixels. */
function centreOfInk(picture: Picture, plan: PagePlan, at: Point, perMm: number): Point {
  let weight = 0;
  const sum = { x: 0, y: 0 };
  const cx = at.x * perMm;
  const cy = (plan.height - at.y) * perMm;
  for (let y = Math.floor(cy - 4.6 * perMm); y <= cy + 4.6 * perMm; y++) {
    for (let x = Math.floor(cx - 4.6 * perMm); x <= cx + 4.6 * perMm; x++) {
      const dark = 255 - picture.pixels[y * picture.width + x]!;
      weight += dark;
      sum.x += dark * (x + 0.5);
      sum.y += dark * (y + 0.5);
    }
  }
  expect(weight).toBeGreaterThan(1000);
  return { x: sum.x / weight, y: sum.y / weight };
}

function paste(
  onto: Uint8Array,
  width: number,
  height: number,
  picture: Picture,
  dx: number,
  dy: number,
): void {
  for (let y = 0; y < picture.height; y++) {
    const row = y + dy;
    if (row < 0 || row >= height) continue;
    for (let x = 0; x < picture.width; x++) {
      const p = picture.pixels[y * picture.width + x]!;
      const column = x + dx;
      if (p === 255 || column < 0 || column >= width) continue;
      const i = row * width + column;
      if (p < onto[i]!) onto[i] = p;
    }
  }
}

/** Dark pixels of one picture that have no dark pixel of the other within reach. */
function inkOff(
  from: Uint8Array,
  to: Uint8Array,
  size: { width: number; height: number },
  reach: number,
): number {
  const r = Math.floor(reach);
  let off = 0;
  for (let y = r; y < size.height - r; y++) {
    for (let x = r; x < size.width - r; x++) {
      if (from[y * size.width + x]! >= 128) continue;
      let found = false;
      for (let v = -r; v <= r && !found; v++) {
        for (let u = -r; u <= r && !found; u++) {
          if (u * u + v * v <= reach * reach && to[(y + v) * size.width + x + u]! < 128) found = true;
        }
      }
      if (!found) off++;
    }
  }
  return off;
}
