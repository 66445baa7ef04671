/** Depths of no-fit polygons against what they stand for, found without them. */
import { Clipper, FillRule } from 'clipper2-ts';
import { describe, expect, it } from 'vitest';
import { seededRandom } from '../../src/base';
import type { Point } from '../../src/math';
import { FormTable, makeForm } from '../../src/nest/forms';
import { NoFitPool } from '../../src/nest/noFit';
import { freeDepth } from '../../src/nest/tolerance';
import { blob, box } from './support';

/** Sides with vertices on them at which nothing turns, and a pocket. */
const comb: Point[] = [
  { x: 0, y: 0 },
  { x: 40, y: 0 },
  { x: 80, y: 0 },
  { x: 80, y: 60 },
  { x: 60, y: 60 },
  { x: 60, y: 20 },
  { x: 30, y: 20 },
  { x: 30, y: 60 },
  { x: 0, y: 60 },
  { x: 0, y: 30 },
];
/** An octagon whose sums with itself have collinear joints. */
const octagon: Point[] = [
  [20, 0],
  [60, 0],
  [80, 20],
  [80, 60],
  [60, 80],
  [20, 80],
  [0, 60],
  [0, 20],
].map(([x, y]) => ({ x: x!, y: y! }));

describe('depth of an overlap', () => {
  it('is the distance to the rim also square to a vertex at which nothing turns', () => {
    // A square with a vertex at every odd number of each side; the other form is a point.
    const side = 48;
    const along = [0, ...Array.from({ length: side / 2 }, (_, k) => 2 * k + 1)];
    const ring = [
      ...along.map((t) => ({ x: t, y: 0 })),
      ...along.map((t) => ({ x: side, y: t })),
      ...along.map((t) => ({ x: side - t, y: side })),
      ...along.map((t) => ({ x: 0, y: side - t })),
    ];
    const pool = new NoFitPool();
    const k = pool.add([ring], [[{ x: 0, y: 0 }]]);
    for (let x = 1; x < side; x++)
      for (let y = 1; y < side; y++)
        expect(pool.depth(k, x, y)).toBeCloseTo(Math.min(x, y, side - x, side - y), 9);
  });

  it('is nothing exactly where the two regions share no area', () => {
    const forms = [comb, octagon, box(25, 90), blob(4, 70, 20), blob(9, 90, 14)].map((outline) =>
      makeForm({ outline, holes: [] }, 0, false),
    );
    const table = new FormTable(forms, 8);
    const random = seededRandom(5);
    const scaled = (ring: readonly Point[], c: number, s: number, x: number, y: number) =>
      ring.map((p) => ({
        x: Math.round((c * p.x - s * p.y + x) * 1e6),
        y: Math.round((s * p.x + c * p.y + y) * 1e6),
      }));
    const shared = (a: number, b: number, turn: number, u: number, v: number) => {
      const one = forms[a]!.rings.map((r) => scaled(r, 1, 0, 0, 0));
      const two = forms[b]!.rings.map((r) => scaled(r, table.cos[turn]!, table.sin[turn]!, u, v));
      const both = Clipper.intersect(one, two, FillRule.NonZero);
      return both.reduce((sum, r) => sum + Math.abs(area(r)), 0) / 1e12;
    };
    let [inside, outside] = [0, 0];
    for (let t = 0; t < 450; t++) {
      const a = Math.floor(random() * forms.length);
      const b = a + Math.floor(random() * (forms.length - a));
      const turn = Math.floor(random() * 8);
      const k = table.pair(a, b, turn);
      // Round numbers meet the places where something happens exactly.
      const [u, v] = [Math.round((random() - 0.5) * 26) * 7.5, Math.round((random() - 0.5) * 26) * 7.5];
      const depth = table.pool.depth(k, u, v);
      const common = shared(a, b, turn, u, v);
      if (depth > 0) {
        inside++;
        // What reaches in by a depth shares some area; what was moved out by the way shares none.
        if (depth > 0.01) expect(common).toBeGreaterThan(0);
        expect(table.pool.line(k, u, v, 0)).toBe(depth);
        expect(Math.hypot(table.pool.wayX, table.pool.wayY)).toBeCloseTo(1, 9);
        const [wayX, wayY] = [table.pool.wayX * depth, table.pool.wayY * depth];
        expect(shared(a, b, turn, u + wayX, v + wayY)).toBeLessThan(200 * freeDepth);
        // No shorter shift does: a little less leaves them overlapping.
        if (depth > 1) expect(table.pool.depth(k, u + 0.9 * wayX, v + 0.9 * wayY)).toBeCloseTo(depth / 10, 6);
      } else {
        outside++;
        expect(common).toBeLessThan(200 * freeDepth);
        const away = -table.pool.line(k, u, v, 1e4);
        const { wayX, wayY } = table.pool;
        // Against the way out, the rim is there after that distance, not before.
        expect(table.pool.depth(k, u - (away + 0.01) * wayX, v - (away + 0.01) * wayY)).toBeGreaterThan(0);
        for (const part of [0.3, 0.6, 0.99])
          expect(table.pool.depth(k, u - part * away * wayX, v - part * away * wayY)).toBe(0);
      }
    }
    expect(inside).toBeGreaterThan(100);
    expect(outside).toBeGreaterThan(100);
  });
});

function area(ring: readonly { x: number; y: number }[]): number {
  return ring.reduce((sum, p, i) => {
    const q = ring[(i + 1) % ring.length]!;
    return sum + (p.x * q.y - q.x * p.y) / 2;
  }, 0);
}
