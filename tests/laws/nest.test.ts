/** Laws of nesting: whatever the panels, gap, margin and turns, nothing overlaps and everything is there once. */
import fc from 'fast-check';
import { describe, expect, it, vi } from 'vitest';
import { unwatched } from '../../src/base';
import { type NestLayout, nestOverlap, nestPanels } from '../../src/nest';
import { blob, panel, rectangle, settings } from '../nest/support';

/** A busy machine needs its time. */
vi.setConfig({ testTimeout: 120_000 });

const turns = fc.constantFrom('free' as const, 'quarter' as const, 'half' as const, 'fixed' as const);
const job = fc.record({
  panels: fc.array(
    fc.record({
      seed: fc.integer({ min: 1, max: 1000 }),
      size: fc.integer({ min: 30, max: 140 }),
      vertices: fc.integer({ min: 5, max: 60 }),
      quantity: fc.integer({ min: 1, max: 2 }),
      turns,
      mayMirror: fc.boolean(),
    }),
    { minLength: 1, maxLength: 6 },
  ),
  gap: fc.double({ min: 0, max: 8, noNaN: true }),
  margin: fc.double({ min: 0, max: 12, noNaN: true }),
  seed: fc.integer({ min: 1, max: 99 }),
});

describe('laws of nesting', () => {
  it('nothing overlaps, gap and margin are kept, each panel is there once, same seed same layout', async () => {
    let seen = 0;
    await fc.assert(
      fc.asyncProperty(job, async ({ panels: drawn, gap, margin, seed }) => {
        const panels = drawn.map((d, k) => panel(`p${k}`, blob(d.seed, d.size, d.vertices), d));
        const sheets = [rectangle('s', 260, 200, 20)];
        const layouts: NestLayout[] = [];
        const run = () => nestPanels(panels, sheets, settings(2500, { gap, margin, seed }), unwatched);
        const last = await nestPanels(
          panels,
          sheets,
          settings(2500, { gap, margin, seed }),
          unwatched,
          (layout) => layouts.push(layout),
        );
        for (const layout of layouts)
          expect(nestOverlap(panels, sheets, layout.placed, layout.left, gap, margin)).toEqual([]);
        expect(await run()).toEqual(last);
        // A larger gap is another layout, and a sound one.
        const wide = await nestPanels(
          panels,
          sheets,
          settings(500, { gap: gap + 4, margin, seed }),
          unwatched,
        );
        expect(nestOverlap(panels, sheets, wide.placed, wide.left, gap + 4, margin)).toEqual([]);
        seen += last.placed.length;
      }),
      { numRuns: 8 },
    );
    expect(seen).toBeGreaterThan(10);
  });
});
