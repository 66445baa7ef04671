/** Decisions about sheets and back: what is laid out comes back as it was, and what changed since is said. */
import { areaD } from 'clipper2-ts';
import { describe, expect, it } from 'vitest';
import { boxOf, type Point } from '../../src/math';
import {
  defaultSheets,
  isCuttable,
  type LaidPanel,
  type Panel,
  placePoints,
  type SheetDecisions,
  sheetPlacing,
} from '../../src/model';
import { laidOf, nestPanels, planSheets, type SheetSurroundings, sheetJobOf } from '../../src/nest';
import { intersectRings } from '../../src/plane';

const ring = (w: number, h: number): Point[] => [
  { x: 300, y: 40 },
  { x: 300 + w, y: 40 },
  { x: 300 + w, y: 40 + h },
  { x: 320, y: 40 + h / 2 },
];
const panel = (id: string, w: number, h: number, more: Partial<Panel> = {}): Panel => ({
  ...{ id, name: id, pieces: [id], quantity: 1, mirrored: false, thickness: 5, folds: [] },
  loops: [[{ id: 'e', seam: null, shift: 0, bevel: 0.3, bend: null, points: [], curved: false }]],
  outlines: { inside: [], traced: [ring(w, h)], outside: [] },
  ...more,
});
const panels = [panel('A', 120, 80, { mirrored: true, quantity: 2 }), panel('B', 60, 200)];
const around: SheetSurroundings = { traced: 'outside', kerf: 0, usual: { width: 300, height: 300 } };
const quiet = { step: async () => {} };

async function laidOut(decisions: SheetDecisions, where: SheetSurroundings, of = panels) {
  const job = sheetJobOf(of, decisions, where);
  const settings = {
    ...{ gap: job.gap, margin: job.margin, seed: 1, clock: () => 0 },
    effort: { kind: 'evaluations' as const, evaluations: 2000 },
  };
  const layout = await nestPanels(job.panels, job.sheets, settings, quiet);
  return { ...decisions, laid: laidOf(layout, job) };
}

const withFirst = (d: SheetDecisions, change: Partial<LaidPanel>): SheetDecisions => {
  const [first, ...rest] = d.laid!.placed;
  return { ...d, laid: { ...d.laid!, placed: [{ ...first!, ...change }, ...rest] } };
};

describe('sheets from decisions', () => {
  it.each(['outside', 'inside'] as const)(
    'lay every copy free of the others, %s face drawn',
    async (traced) => {
      const where = { ...around, traced };
      const plan = planSheets(panels, await laidOut(defaultSheets, where), where)!;
      expect(plan.faults).toEqual([]);
      expect(isCuttable(plan)).toBe(true);
      const placed = plan.sheets.flatMap((sheet) =>
        sheet.placements.map((p) => {
          const drawn = placePoints(
            panels.find((q) => q.id === p.panel)!.outlines.traced[0]!,
            sheetPlacing(p),
          );
          return { sheet: sheet.name, panel: p.panel, mirrored: p.mirrored, drawn };
        }),
      );
      // Two of A as drawn and two mirrored, one of B; seen from inside all the other way round.
      const mirrored = placed.filter((p) => p.mirrored).map((p) => p.panel);
      expect(mirrored.sort()).toEqual(traced === 'outside' ? ['A', 'A'] : ['A', 'A', 'B']);
      expect(placed).toHaveLength(5);
      for (const [i, a] of placed.entries()) {
        const box = boxOf(a.drawn);
        expect(Math.min(box.minX, box.minY, 300 - box.maxX, 300 - box.maxY)).toBeGreaterThan(5 - 1e-5);
        for (const b of placed.slice(i + 1)) {
          if (a.sheet !== b.sheet) continue;
          const both = [a, b].map((p) => (p.mirrored ? [...p.drawn].reverse() : p.drawn));
          const shared = intersectRings([both[0]!], [both[1]!]);
          expect(shared.reduce((sum, r) => sum + Math.abs(areaD(r)), 0)).toBeLessThan(1e-6);
        }
      }
    },
  );

  it('add the kerf to the room between cuts, and half of it to the rim', () => {
    const job = sheetJobOf(panels, defaultSheets, { ...around, kerf: 0.4 });
    expect([job.gap, job.margin]).toEqual([3.4, 5.2]);
  });

  it('say which panels changed since, and are not cut from', async () => {
    const decisions = await laidOut(defaultSheets, around);
    const grown = [panels[0]!, panel('B', 60.01, 200)];
    const plan = planSheets(grown, decisions, around)!;
    expect(plan.changed).toEqual(['B']);
    expect(isCuttable(plan)).toBe(false);
    expect(plan.issues.map((i) => i.code)).toContain('sheets-old');
    const more = planSheets([...panels, panel('C', 50, 50)], decisions, around)!;
    expect([more.changed, more.left]).toEqual([['C'], ['C']]);
  });

  it('say what collides, by the panels concerned', async () => {
    const decisions = await laidOut(defaultSheets, around);
    const other = decisions.laid.placed[1]!;
    const { x, y, sheet, sheetCopy } = other;
    const plan = planSheets(panels, withFirst(decisions, { x, y, sheet, sheetCopy }), around)!;
    const overlap = plan.faults.find((f) => f.kind === 'overlap')!;
    const keys = decisions.laid.placed.slice(0, 2).map((p) => `${p.panel}#${p.copy}`);
    expect(keys.every((key) => plan.faults.some((f) => f.at.includes(key)))).toBe(true);
    expect(overlap.by).toBe(Number.POSITIVE_INFINITY);
    expect(isCuttable(plan)).toBe(false);
    const said = plan.issues.find((i) => i.code === 'sheets-collide')!.message;
    expect(said).toMatch(/^Panels [AB] \(.*copy [12]\) and [AB].* lie on each other\./);
  });

  it('keep a locked panel where it lies when nested again, even when it has grown a little', async () => {
    const decisions = await laidOut(defaultSheets, around);
    const locked = withFirst(decisions, { locked: true, x: 150, y: 150 });
    const { panel: id } = locked.laid!.placed[0]!;
    for (const w of [120, 121]) {
      const own = [panel('A', w, 80, { mirrored: true, quantity: 2 }), panels[1]!];
      const again = await laidOut(locked, around, own);
      const kept = again.laid.placed.filter((p) => p.locked);
      expect(kept.map((p) => [p.panel, Math.round(p.x * 1e6) / 1e6, Math.round(p.y * 1e6) / 1e6])).toEqual([
        [id, 150, 150],
      ]);
      expect(isCuttable(planSheets(own, again, around)!)).toBe(true);
    }
  });

  it('use offcuts first and buy whole sheets beside them', async () => {
    const offcut = {
      ...{ id: 'o', thickness: 5, material: '', count: 1, price: null },
      shape: {
        kind: 'offcut' as const,
        outline: [0, 1, 2].map((k) => ({ x: k === 1 ? 400 : 0, y: k === 2 ? 400 : 0 })),
      },
    };
    const decisions = { ...defaultSheets, stock: [offcut] };
    const plan = planSheets(panels, await laidOut(decisions, around), around)!;
    expect(isCuttable(plan)).toBe(true);
    expect(plan.sheets.some((s) => s.outline && s.price === 0)).toBe(true);
  });
});
