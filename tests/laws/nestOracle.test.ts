/**
 * Layouts of panels with holes, locks, turns and mirrors against a polygon library that neither search nor check
 * uses: manifold-3d 3.5.4 (Apache-2.0, compiled to WebAssembly). Places are worked out here anew.
 */
import fc from 'fast-check';
import Module, { type CrossSection } from 'manifold-3d';
import { beforeAll, describe, expect, it, vi } from 'vitest';
import { unwatched } from '../../src/base';
import type { Point } from '../../src/math';
import { type NestPanel, nestPanels, type Pose } from '../../src/nest';
import { blob, panel, rectangle, settings } from '../nest/support';

/** A busy machine needs its time. */
vi.setConfig({ testTimeout: 120_000 });

const [sheetWidth, sheetHeight] = [320, 250];
/** What the search promises, mm, and the area that a strip of that width has along a panel's rim, mm². */
const touch = 2e-3;
const sliver = 600 * touch;

const stepsOf = { free: 16, quarter: 4, half: 2, fixed: 1 };
const job = fc.record({
  panels: fc.array(
    fc.record({
      seed: fc.integer({ min: 1, max: 1000 }),
      size: fc.integer({ min: 40, max: 120 }),
      vertices: fc.integer({ min: 5, max: 70 }),
      quantity: fc.integer({ min: 1, max: 2 }),
      turns: fc.constantFrom('free' as const, 'quarter' as const, 'half' as const, 'fixed' as const),
      mayMirror: fc.boolean(),
      hasHole: fc.boolean(),
      isLocked: fc.boolean(),
    }),
    { minLength: 2, maxLength: 5 },
  ),
  lockTurn: fc.double({ min: 0, max: 6, noNaN: true }),
  lockMirrored: fc.boolean(),
  gap: fc.double({ min: 0, max: 6, noNaN: true }),
  margin: fc.double({ min: 0, max: 10, noNaN: true }),
  seed: fc.integer({ min: 1, max: 99 }),
});

const holeOf = (outline: readonly Point[]): Point[] => {
  const n = outline.length;
  const middle = {
    x: outline.reduce((sum, p) => sum + p.x, 0) / n,
    y: outline.reduce((sum, p) => sum + p.y, 0) / n,
  };
  return outline
    .map((p) => ({ x: middle.x + 0.5 * (p.x - middle.x), y: middle.y + 0.5 * (p.y - middle.y) }))
    .reverse();
};

describe('laws of nesting, told by another library', () => {
  let Section: typeof CrossSection;
  beforeAll(async () => {
    const wasm = await Module();
    wasm.setup();
    Section = wasm.CrossSection;
  });

  const regionOf = (p: NestPanel, pose: Pose) => {
    const rings = [p.outline, ...p.holes].map((ring) =>
      ring.map((q): [number, number] => {
        const x = pose.mirrored ? -q.x : q.x;
        return [
          Math.cos(pose.turn) * x - Math.sin(pose.turn) * q.y + pose.x,
          Math.sin(pose.turn) * x + Math.cos(pose.turn) * q.y + pose.y,
        ];
      }),
    );
    return new Section(rings, 'EvenOdd');
  };

  it('gap and margin are kept, holes used soundly, locks left alone, turns and faces honoured, none missing', async () => {
    let [pairs, locks, mirrors, holes] = [0, 0, 0, 0];
    await fc.assert(
      fc.asyncProperty(job, async ({ panels: drawn, lockTurn, lockMirrored, gap, margin, seed }) => {
        let locked = 0;
        const panels = drawn.map((d, k) => {
          const outline = blob(d.seed, d.size, d.vertices);
          // One lock a job, on the second sheet, far from its rim.
          const isLocked = d.isLocked && locked++ === 0;
          return panel(`p${k}`, outline, {
            quantity: d.quantity,
            turns: d.turns,
            mayMirror: d.mayMirror,
            holes: d.hasHole ? [holeOf(outline)] : [],
            locked: isLocked
              ? [{ sheet: 's', sheetCopy: 1, x: 160, y: 125, turn: lockTurn, mirrored: lockMirrored }]
              : [],
          });
        });
        const sheets = [rectangle('s', sheetWidth, sheetHeight, 12)];
        const layout = await nestPanels(panels, sheets, settings(1500, { gap, margin, seed }), unwatched);
        expect(layout.left).toEqual([]);
        expect(layout.issues).toEqual([]);
        const room = new Section(
          [
            [
              [margin, margin],
              [sheetWidth - margin, margin],
              [sheetWidth - margin, sheetHeight - margin],
              [margin, sheetHeight - margin],
            ],
          ],
          'Positive',
        );
        for (const p of panels) {
          const mine = layout.placed.filter((q) => q.panel === p.id);
          expect(mine.map((q) => q.copy).sort()).toEqual(Array.from({ length: p.quantity }, (_, k) => k));
          holes += p.holes.length;
          for (const place of mine) {
            const lock = p.locked[place.copy];
            expect(place.locked).toBe(lock !== undefined);
            if (lock) {
              expect(place).toMatchObject(lock);
              locks++;
              continue;
            }
            if (place.mirrored) mirrors++;
            expect(place.mirrored && !p.mayMirror).toBe(false);
            const steps = (place.turn / (2 * Math.PI)) * stepsOf[p.turns];
            expect(steps).toBeCloseTo(Math.round(steps), 9);
          }
        }
        const shapes = layout.placed.map((place) => {
          const p = panels.find((q) => q.id === place.panel)!;
          const region = regionOf(p, place);
          return { place, region, wide: region.offset(gap - touch, 'Round', 2, 64) };
        });
        for (const { region } of shapes) expect(region.subtract(room).area()).toBeLessThan(sliver);
        shapes.forEach((one, k) => {
          for (const two of shapes.slice(0, k)) {
            if (one.place.sheet !== two.place.sheet || one.place.sheetCopy !== two.place.sheetCopy) continue;
            pairs++;
            expect(one.wide.intersect(two.region).area()).toBeLessThan(sliver);
          }
        });
      }),
      { numRuns: 12, seed: 11 },
    );
    // The corpus was not empty.
    for (const count of [pairs, locks, holes]) expect(count).toBeGreaterThan(3);
    expect(mirrors).toBeGreaterThan(0);
  });
});
