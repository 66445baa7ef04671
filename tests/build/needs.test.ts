/** What a build takes, by an example worked out by hand, and areas against the polygon library. */
import { areaD } from 'clipper2-ts';
import { describe, expect, it } from 'vitest';
import { unwatched } from '../../src/base';
import { planBuild } from '../../src/build';
import { defaultDecisions, defaultSheets, type FoamSeamRow, type SheetPlan } from '../../src/model';
import { laidOf, nestPanels, planSheets, sheetJobOf } from '../../src/nest';
import { settings } from '../nest/support';
import { buildFixture, family, sidesOf } from '../support/panels';

/** Two plates of 500 × 400 mm, one with a hole of 100 × 100 mm and to be cut twice, glued along 400 mm with a bevel of 60°. */
const plate = (x: number) =>
  sidesOf([
    { x, y: 0 },
    { x: x + 500, y: 0 },
    { x: x + 500, y: 400 },
    { x, y: 400 },
  ]);
const hole = sidesOf([
  { x: 100, y: 100 },
  { x: 100, y: 200 },
  { x: 200, y: 200 },
  { x: 200, y: 100 },
]);
const fixture = buildFixture(
  'two plates',
  [
    { name: 'A', loops: [plate(0), hole], quantity: 2 },
    { name: 'B', loops: [plate(600)], bevel: [0, 0, 0, Math.PI / 3] },
  ],
  [[[0, 1, 1, 3]]],
);
const row: FoamSeamRow = {
  seam: fixture.seams.seams[0]!.id,
  run: 1,
  preparation: 'bevel',
  bend: null,
  bevel: Math.PI / 3,
  lengthA: 400,
  lengthB: 400,
  mismatch: 0,
  openWedge: 0,
  touches: 'both',
  way: 'flat',
  neutralA: 400,
  neutralB: 400,
  stretchA: 0,
  stretchB: 0,
};
const foam = { ...fixture.foam, rows: [row] };
const decisions = {
  ...defaultDecisions.build,
  sheet: { width: 1000, height: 500 },
  rates: {
    sheetPrice: 4,
    waste: 0.2,
    adhesiveCoverage: 4,
    adhesivePrice: 20,
    sealerCoats: 2,
    sealerCoverage: 5,
    sealerPrice: 10,
    paintCoats: 3,
    paintCoverage: 10,
    paintPrice: 30,
    padShare: 0.5,
    padPrice: 8,
    tapePerSeam: 2,
    tapePrice: 0.5,
    pageTime: 5,
    cutTime: 10,
    bevelTime: 20,
    glueTime: 30,
    smoothTime: 40,
    heatTime: 100,
    coatTime: 15,
    fitOutTime: 60,
    dayHours: 2,
  },
};
const base = {
  foam,
  seams: fixture.seams,
  marked: null,
  shell: null,
  sheets: null,
  pages: 6,
  padding: 5,
  decisions,
};

const laidOut = (sheets: SheetPlan['sheets']): SheetPlan => ({
  ...{ sheets, left: [], changed: [], faults: [], issues: [] },
  density: 0.7,
});

describe('what a build takes', () => {
  it('is what a pencil gives', () => {
    const { needs, cutList } = planBuild(base);
    // Areas: A 0.2 − 0.01 = 0.19 m², twice; B 0.2 m²; together 0.58 m².
    expect(cutList).toEqual([
      {
        thickness: 5,
        rows: [
          { panel: 'P0', name: 'A', quantity: 2, mirrored: 0, area: 190_000, edge: 2200 },
          { panel: 'P1', name: 'B', quantity: 1, mirrored: 0, area: 200_000, edge: 1800 },
        ],
      },
    ]);
    const cost = Object.fromEntries(needs.materials.map((r) => [r.label, [r.amount, r.total]]));
    const near = (label: string, amount: number, total: number) => {
      expect(cost[label]![0]).toBeCloseTo(amount, 9);
      expect(cost[label]![1]).toBeCloseTo(total, 9);
    };
    // 0.58 ÷ 0.8 ÷ 0.5 = 1.45, so 2 sheets of 4.
    near('Foam, 5 mm', 2, 8);
    // 2 × 0.4 m × 0.005 m ÷ cos 60° = 0.008 m²; ÷ 4 = 0.002 l; × 20 = 0.04.
    near('Contact adhesive', 0.002, 0.04);
    // 0.58 × 2 ÷ 5 = 0.232 l; 0.58 × 3 ÷ 10 = 0.174 l; 0.58 × 0.5 = 0.29 m²; 0.4 × 2 = 0.8 m.
    near('Sealer', 0.232, 2.32);
    near('Paint', 0.174, 5.22);
    near('Padding, 5 mm', 0.29, 2.32);
    near('Tape', 0.8, 0.4);
    expect(needs.cost).toBeCloseTo(8 + 0.04 + 2.32 + 5.22 + 2.32 + 0.4, 9);
    // Minutes: 6 × 5, 6.2 m × 10, 0.4 m × 20, 0.4 × 30, 0.4 × 40, 0.58 × 100, 5 × 15, 60.
    expect(needs.work.map((r) => Math.round(r.total * 1e6) / 1e6)).toEqual([30, 62, 8, 12, 16, 58, 75, 60]);
    expect(needs.minutes).toBeCloseTo(321, 9);
    expect(needs.days).toBeCloseTo(321 / 120, 9);
  });

  it('counts sheets that are laid out, and no padding where there is none', () => {
    const sheet = { name: 'Sheet 1', thickness: 5, width: 1000, height: 500, placements: [] };
    const { needs } = planBuild({
      ...base,
      padding: 0,
      sheets: laidOut([sheet, sheet, sheet]),
    });
    expect(needs.materials[0]!.amount).toBe(3);
    expect(needs.materials.some((r) => r.label.startsWith('Padding'))).toBe(false);
  });

  it('pays each sheet at its own price, and no offcut', () => {
    const sheet = { name: 'Sheet', thickness: 5, width: 1000, height: 500, placements: [] };
    const triangle = [
      { x: 0, y: 0 },
      { x: 400, y: 0 },
      { x: 0, y: 400 },
    ];
    const sheets = laidOut([
      sheet,
      { ...sheet, price: 7 },
      { ...sheet, price: 7 },
      { ...sheet, outline: triangle, price: 0 },
    ]);
    const [foamRow] = planBuild({ ...base, sheets }).needs.materials;
    // The usual price is 4: 4 + 7 + 7.
    expect([foamRow!.amount, foamRow!.total]).toEqual([3, 18]);
    expect(foamRow!.formula).toContain('1 sheet × 4 each + 2 sheets × 7 each + 1 offcut at hand');
  });

  it('reckons with the listed sheets at their own prices until panels are laid out', () => {
    const listed = (id: string, width: number, count: number, price: number | null) => ({
      ...{ id, thickness: 5, material: '', count, price },
      shape: { kind: 'rectangle' as const, width, height: 500 },
    });
    const foamRow = (stock: Parameters<typeof planBuild>[0]['stock']) =>
      planBuild({ ...base, stock: stock ?? [] }).needs.materials[0]!;
    // 0.58 ÷ 0.8 = 0.725 m²: one sheet of 0.4 m² at 7, then one of 0.5 m² at the usual 4 covers the last 0.325 m².
    const mixed = foamRow([listed('s1', 800, 1, 7), listed('s2', 1000, 9, null)]);
    expect([mixed.amount, mixed.total]).toEqual([2, 11]);
    expect(mixed.formula).toBe(
      '0.58 m² ÷ (1 − 0.2 waste) = 0.725 m²: 1 of 0.4 m² × 7 each + 1 of 0.5 m² × 4 each',
    );
    // Too few sheets are said: 0.725 − 0.4.
    const few = foamRow([listed('s1', 800, 1, 7)]);
    expect([few.amount, few.total]).toEqual([1, 7]);
    expect(few.formula).toContain('0.325 m² more than your sheets hold');
    // Sheets of another thickness, and offcuts, leave the sheets that Build buys: 1.45 of them.
    const triangle = [
      { x: 0, y: 0 },
      { x: 400, y: 0 },
      { x: 0, y: 400 },
    ];
    const other = foamRow([
      { ...listed('s1', 800, 1, 7), thickness: 3 },
      { ...listed('s2', 800, 1, null), shape: { kind: 'offcut', outline: triangle } },
    ]);
    expect([other.amount, other.total]).toEqual([2, 8]);
  });

  it('pays the sheets that panels really go on', async () => {
    // Three plates of 500 × 400 mm. Sheets of 1020 × 820 mm take four, ones of 1020 × 420 mm two, ones of 520 × 420 mm one.
    const countOn = async (width: number, height: number) => {
      const decided = { ...defaultSheets, turns: 'fixed' } as const;
      const around = { traced: 'outside', kerf: 0, usual: { width, height } } as const;
      const job = sheetJobOf(foam.panels, decided, around);
      const layout = await nestPanels(job.panels, job.sheets, settings(2000), unwatched);
      const sheets = planSheets(foam.panels, { ...decided, laid: laidOf(layout, job) }, around);
      expect(sheets!.left).toEqual([]);
      const [foamRow] = planBuild({ ...base, sheets }).needs.materials;
      expect(foamRow!.total).toBe(4 * foamRow!.amount);
      return foamRow!.amount;
    };
    expect(await countOn(1020, 820)).toBe(1);
    expect(await countOn(1020, 420)).toBe(2);
    expect(await countOn(520, 420)).toBe(3);
  });

  it.each(family())('has the areas that the polygon library gives: $name', ({ foam: own, seams }) => {
    const { cutList } = planBuild({ ...base, foam: own, seams });
    const rows = cutList.flatMap((g) => g.rows);
    expect(rows).toHaveLength(own.panels.length);
    rows.forEach((r, i) => {
      const rings = own.panels[i]!.outlines.traced;
      const area = rings.reduce((sum, ring) => sum + areaD(ring.map((p) => ({ x: p.x, y: p.y }))), 0);
      expect(Math.abs(r.area - Math.abs(area))).toBeLessThan(1e-6 * Math.abs(area));
    });
  });
});
