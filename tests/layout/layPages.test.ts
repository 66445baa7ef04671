import { describe, expect, it } from 'vitest';
import { Cancelled, type Work } from '../../src/base';
import { layPages, tileCoverage } from '../../src/layout';
import { boxOf, distance, type Point } from '../../src/math';
import { defaultDecisions, type MarkedPanels, type Page, placePoint } from '../../src/model';
import { testFont } from '../support/lettering';
import { lay, markFixture, panelPages, plainContext } from '../support/pages';
import { buildFixture, gores, largePlate, randomRing, sidesOf } from '../support/panels';

const rectangles = (sizes: readonly (readonly [number, number])[]): MarkedPanels => {
  let x = 0;
  return markFixture(
    buildFixture(
      'rectangles',
      sizes.map(([w, h], i) => {
        const left = x;
        x += w + 10;
        const ring = [
          { x: left, y: 0 },
          { x: left + w, y: 0 },
          { x: left + w, y: h },
          { x: left, y: h },
        ];
        return { name: `Plate ${i + 1}`, loops: [sidesOf(ring)] };
      }),
      [],
    ),
  );
};

/** Squares of a side among the page's closed strokes. */
const squares = (page: Page, side: number): Point[][] =>
  page.strokes
    .filter((s) => s.closed && s.points.length === 4)
    .map((s) => [...s.points])
    .filter((points) => {
      const box = boxOf(points);
      return Math.abs(box.maxX - box.minX - side) < 1e-6 && Math.abs(box.maxY - box.minY - side) < 1e-6;
    });

const words = (page: Page): string[] => page.lettering.map((l) => l.text);

describe('pages', () => {
  it('hold all panels, each once, unturned in size', async () => {
    const marked = markFixture(gores(6, 8, 300, 640));
    const plan = await lay(marked);
    expect(plan.placements.map((p) => p.panel).sort()).toEqual(marked.panels.map((p) => p.panel.id).sort());
    for (const placement of plan.placements) {
      const panel = marked.panels.find((p) => p.panel.id === placement.panel)!.panel;
      const [a, b] = panel.outlines.traced[0]!;
      expect(distance(placePoint(a!, placement), placePoint(b!, placement))).toBeCloseTo(distance(a!, b!), 9);
      expect((placement.angle / (Math.PI / 2)) % 1).toBe(0);
    }
  });

  it('start with the map, then go row by row', async () => {
    const plan = await lay(markFixture(largePlate()), { orientation: 'portrait' });
    expect(plan.pages.map((p) => p.name)).toEqual(['map', 'A1', 'B1', 'C1', 'A2', 'B2', 'C2']);
    expect(plan.pages[2]!.neighbours).toEqual({ left: 'A1', right: 'C1', above: '', below: 'B2' });
    expect((await lay(markFixture(largePlate()), { mapPage: false })).pages.map((p) => p.name)).not.toContain(
      'map',
    );
  });

  it('each carry a check square of exactly 100 mm and one of 4 in, a footer and the names of their neighbours', async () => {
    const plan = await lay(markFixture(largePlate()));
    for (const page of plan.pages) {
      expect(squares(page, 100), page.name).toHaveLength(1);
      expect(squares(page, 101.6), page.name).toHaveLength(1);
    }
    const count = plan.pages.length;
    panelPages(plan).forEach((page, i) => {
      expect(words(page)).toContain(page.name);
      expect(words(page)).toContain('Gannet helm');
      expect(words(page).some((w) => w.startsWith(`page ${i + 2} of ${count}`))).toBe(true);
      for (const name of Object.values(page.neighbours).filter((n) => n !== ''))
        expect(words(page)).toContain(name);
    });
  });

  it('correct positions, marks and check square by what a printed square measured', async () => {
    const marked = markFixture(largePlate());
    const plan = await lay(marked, { measured: { x: 98, y: 101 } });
    expect(plan.correction.x).toBeCloseTo(100 / 98, 12);
    expect(plan.correction.y).toBeCloseTo(100 / 101, 12);
    for (const page of plan.pages) {
      const widths = page.strokes
        .filter((s) => s.closed && s.points.length === 4)
        .map((s) => boxOf(s.points))
        .filter(
          (b) =>
            Math.abs(b.maxX - b.minX - 100 * (100 / 98)) < 1e-6 &&
            Math.abs(b.maxY - b.minY - 100 * (100 / 101)) < 1e-6,
        );
      expect(widths, page.name).toHaveLength(1);
    }
    // Printed by that printer, every line of every panel is at true size again.
    expect(tileCoverage(plan, marked).missing).toBeLessThan(1e-6);
  });

  it('mirror the panels when the inside face is drawn, and keep their lettering readable', async () => {
    const marked = markFixture(gores(5, 5, 180, 500, 0.2));
    const plan = await lay(marked, {}, { tracedFace: 'inside' });
    expect(plan.placements.every((p) => p.mirrored)).toBe(true);
    // Readable: every letter keeps the winding that it has on the panel.
    const letters = panelPages(plan).flatMap((p) => p.lettering.filter((l) => l.use === 'name'));
    expect(letters.length).toBeGreaterThan(0);
    const winding = (rings: readonly (readonly Point[])[]) => {
      const ring = rings[0]!;
      let twice = 0;
      ring.forEach((p, i) => {
        const q = ring[(i + 1) % ring.length]!;
        twice += p.x * q.y - p.y * q.x;
      });
      return Math.sign(twice);
    };
    const own = new Map(marked.panels.flatMap((p) => p.lettering).map((l) => [l.text, winding(l.rings)]));
    for (const l of letters) expect(winding(l.rings)).toBe(own.get(l.text));
    expect(words(plan.pages[0]!).join(' ')).toContain('mirrored');
  });

  it('are left out where no panel reaches', async () => {
    // The angle of a large L covers pages along two sides of a square; those in its open corner stay blank.
    const ring = [
      { x: 0, y: 0 },
      { x: 700, y: 0 },
      { x: 700, y: 60 },
      { x: 60, y: 60 },
      { x: 60, y: 700 },
      { x: 0, y: 700 },
    ];
    const marked = markFixture(buildFixture('angle', [{ name: 'Angle', loops: [sidesOf(ring)] }], []));
    const plan = await lay(marked);
    const pages = panelPages(plan);
    for (const page of pages) expect(page.panels.length, page.name).toBeGreaterThan(0);
    const columns = Math.max(...pages.map((p) => p.column)) + 1;
    const rows = Math.max(...pages.map((p) => p.row)) + 1;
    expect(columns * rows - pages.length).toBeGreaterThanOrEqual(2);
    expect(tileCoverage(plan, marked).missing).toBe(0);
  });

  it('keep the middle of a panel larger than a page', async () => {
    const plan = await lay(rectangles([[700, 900]]), { orientation: 'portrait' });
    const columns = Math.max(...panelPages(plan).map((p) => p.column)) + 1;
    const rows = Math.max(...panelPages(plan).map((p) => p.row)) + 1;
    expect(panelPages(plan)).toHaveLength(columns * rows);
  });

  it('take the orientation that needs fewer', async () => {
    const wide = rectangles([[270, 180]]);
    const best = await lay(wide);
    expect(panelPages(best)).toHaveLength(1);
    const upright = await lay(rectangles([[180, 260]]), { orientation: 'landscape' });
    // Turned by a quarter it fits a landscape page as well.
    expect(panelPages(upright)).toHaveLength(1);
    expect(upright.width).toBeGreaterThan(upright.height);
  });

  it('keep panels whole where they fit', async () => {
    const marked = markFixture(randomRing(5));
    const plan = await lay(marked, { arrangement: 'whole' });
    const shown = panelPages(plan).flatMap((p) => p.panels);
    expect([...shown].sort()).toEqual(marked.panels.map((p) => p.panel.id).sort());
    expect(panelPages(plan).flatMap((p) => p.registration)).toEqual([]);
    expect(tileCoverage(plan, marked).missing).toBe(0);
  });

  it('cut only panels larger than a page in whole mode, and say so', async () => {
    const marked = rectangles([
      [500, 100],
      [100, 100],
      [120, 90],
    ]);
    const plan = await lay(marked, { arrangement: 'whole' });
    expect(plan.issues.map((i) => i.code)).toEqual(['panels-larger-than-page']);
    const pagesOf = (id: string) => panelPages(plan).filter((p) => p.panels.includes(id)).length;
    expect(pagesOf('P0')).toBeGreaterThan(1);
    expect([pagesOf('P1'), pagesOf('P2')]).toEqual([1, 1]);
    expect(new Set(plan.pages.map((p) => p.name)).size).toBe(plan.pages.length);
    expect(tileCoverage(plan, marked).missing).toBe(0);
  });

  it('are the same for the same input', async () => {
    const plan = () => lay(markFixture(gores(6, 8, 300, 640, 0.1)));
    expect(JSON.stringify(await plan())).toBe(JSON.stringify(await plan()));
  });

  it('are none for no panels', async () => {
    const plan = await lay({ panels: [], issues: [] });
    expect(plan.pages).toEqual([]);
    expect(plan.issues).toEqual([]);
  });

  it('let dashes run on from page to page', async () => {
    const marked = markFixture(largePlate());
    const plan = await lay(marked, { orientation: 'portrait' });
    const bends = panelPages(plan).flatMap((p) => p.strokes.filter((s) => s.kind === 'softBend'));
    expect(bends.length).toBeGreaterThan(2);
    expect(bends.filter((s) => s.dashStart !== undefined).length).toBeGreaterThan(0);
  });
});

describe('settings that leave no usable page', () => {
  const marked = rectangles([[100, 100]]);
  const cases = [
    { code: 'page-too-small', pages: { paper: 'own', ownSize: { width: 120, height: 400 } } },
    { code: 'page-too-small', pages: { margin: 60 } },
    { code: 'overlap-too-small', pages: { overlap: 1 } },
    { code: 'overlap-too-large', pages: { overlap: 80 } },
    { code: 'measured-square-implausible', pages: { measured: { x: 3.94, y: 3.94 } } },
    { code: 'page-settings-wrong', pages: { margin: Number.NaN } },
    { code: 'page-settings-wrong', pages: { margin: -3 } },
  ] as const;
  it.each(cases)('give no pages and say why: $code', async ({ code, pages }) => {
    const plan = await lay(marked, pages);
    expect(plan.pages).toEqual([]);
    expect(plan.issues.map((i) => [i.code, i.severity])).toEqual([[code, 'error']]);
    expect(plan.issues[0]!.message).toMatch(/^[A-Z].*\.$/);
    expect(plan.issues[0]!.remedy).toMatch(/^[A-Z].*\.$/);
  });

  it('speak in the unit of the person', async () => {
    const plan = await lay(marked, { margin: 60 }, { lengthUnit: 'in' });
    expect(plan.issues[0]!.message).toContain('2.36 in');
  });
});

describe('the map page', () => {
  it('explains what is on the pages, and only that', async () => {
    const plan = await lay(markFixture(gores(5, 5, 180, 500, 0.2)));
    const text = words(plan.pages[0]!).join(' ');
    expect(text).toContain('Gannet helm');
    expect(text).toContain('96.4 %');
    expect(text).toContain('The finished shell is costume.');
    expect(text).toContain('Mountain fold');
    expect(text).toContain('Valley fold');
    expect(text).toContain('tilt of the blade');
    expect(text).not.toContain('Soft bend');
    expect(text).not.toContain('mirrored');
    const plain = await lay(rectangles([[100, 100]]));
    const plainText = words(plain.pages[0]!).join(' ');
    expect(plainText).not.toContain('Mountain fold');
    expect(plainText).not.toContain('tilt of the blade');
    expect(plainText).not.toContain('Registration mark');
  });

  it('shows each kind of line as it is drawn', async () => {
    const plan = await lay(markFixture(gores(5, 5, 180, 500, 0.2)));
    const kinds = new Set(plan.pages[0]!.strokes.map((s) => s.kind));
    for (const kind of ['cut', 'border', 'mountain', 'valley', 'notch', 'frame'])
      expect(kinds).toContain(kind);
  });

  it('names folds as seen from outside, whichever face is drawn', async () => {
    const plan = await lay(markFixture(gores(5, 5, 180, 500)), {}, { tracedFace: 'inside' });
    expect(words(plan.pages[0]!).join(' ')).toContain('ridge on the outside, away from you');
  });

  it('stays on one sheet of usual paper with the full cautions', async () => {
    const { cautions } = await import('../../src/model');
    for (const paper of ['A4', 'Letter'] as const) {
      const plan = await lay(
        markFixture(gores(6, 8, 300, 640, 0.1)),
        { paper },
        {
          cautions: cautions.map((c) => c.text),
          figures: Array.from({ length: 10 }, (_, i) => ({ label: `Setting ${i}`, value: `${i} mm` })),
        },
      );
      expect(plan.pages.filter((p) => p.name.startsWith('map')).map((p) => p.name)).toEqual(['map']);
    }
  });

  it('goes on on a second sheet when the paper is small, and loses nothing', async () => {
    const { cautions } = await import('../../src/model');
    const plan = await lay(
      markFixture(gores(5, 5, 180, 500, 0.2)),
      { paper: 'own', ownSize: { width: 148, height: 210 } },
      { cautions: cautions.map((c) => c.text) },
    );
    const sheets = plan.pages.filter((p) => p.name.startsWith('map'));
    expect(sheets.length).toBeGreaterThan(1);
    const all = sheets.flatMap(words).join(' ');
    for (const caution of cautions) expect(all).toContain(caution.text.split(' ').slice(-2).join(' '));
    for (const sheet of sheets) {
      const box = boxOf(sheet.lettering.flatMap((l) => l.rings.flat()));
      expect(box.minY).toBeGreaterThanOrEqual(plan.margin);
      expect(box.maxX).toBeLessThanOrEqual(plan.width - plan.margin + 1e-9);
    }
  });
});

describe('long work', () => {
  it('reports progress and stops when cancelled', async () => {
    const marked = markFixture(largePlate());
    const seen: string[] = [];
    const watching: Work = {
      step: async (done, total, what) => {
        expect(done).toBeLessThanOrEqual(total);
        seen.push(what);
      },
    };
    await layPages(marked, defaultDecisions.pages, testFont(), plainContext, watching);
    expect(new Set(seen)).toEqual(new Set(['Measuring panels', 'Placing panels', 'Drawing pages']));
    let left = 3;
    const cancelling: Work = {
      step: async () => {
        if (left-- === 0) throw new Cancelled();
      },
    };
    await expect(
      layPages(marked, defaultDecisions.pages, testFont(), plainContext, cancelling),
    ).rejects.toThrow(Cancelled);
  });
});
