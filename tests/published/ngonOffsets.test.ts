import { describe, expect, it } from 'vitest';
import { makePanels } from '../../src/foam';
import { distance, type Point, point, ringArea } from '../../src/math';
import { shiftEdges } from '../../src/plane';
import { foamWith, marks, prismWalls } from '../foam/strips';

// A regular n-gon moved out by d with mitred corners: perimeter + 2 n tan(π/n) d, area + P d + n tan(π/n) d², corners
// d / cos(π/n) further out. Classical plane geometry; the factors 2 n tan(π/n) below are those in common tables of
// circumscribed polygons (n = 3: 10.3923, 4: 8, 6: 6.9282, 8: 6.6274, limit 2π).
const ngon = (n: number, radius: number): Point[] =>
  Array.from({ length: n }, (_, k) =>
    point(radius * Math.cos((2 * Math.PI * k) / n), radius * Math.sin((2 * Math.PI * k) / n)),
  );
const girth = (ring: readonly Point[]) =>
  ring.reduce((n, p, k) => n + distance(p, ring[(k + 1) % ring.length]!), 0);

describe.each([
  [3, 10.3923],
  [4, 8],
  [6, 6.9282],
  [8, 6.6274],
  [17, 2 * 17 * Math.tan(Math.PI / 17)],
])('regular polygon with %s sides', (n, factor) => {
  it.each([5, 1.25, -2])('moved by %s', (d) => {
    const ring = ngon(n, 60);
    const edges = ring.map((p, k) => ({ id: `${k}`, points: [p, ring[(k + 1) % n]!], shift: d }));
    const moved = shiftEdges([edges], { mitreLimit: 3 }).rings[0]!;
    expect(girth(moved) - girth(ring)).toBeCloseTo(factor * d, 3);
    expect(ringArea(moved) - ringArea(ring)).toBeCloseTo(
      girth(ring) * d + n * Math.tan(Math.PI / n) * d * d,
      7,
    );
    for (const p of moved) expect(Math.hypot(p.x, p.y)).toBeCloseTo(60 + d / Math.cos(Math.PI / n), 9);
  });
});

// An upright n-gon prism whose outside perimeter is P: the inside perimeter is P − 2 n t tan(π/n), from the same
// geometry; it tends to P − 2πt (Steiner's formula for convex sections).
describe.each([3, 4, 5, 7, 12, 40])('a foam prism with %s sides', (n) => {
  const width = 480 / n;
  const { pattern, seams } = prismWalls(n, width, 70);
  const bend = (2 * Math.PI) / n;
  const widths = (skin: 'inside' | 'outside', thickness: number, preparation: 'bevel' | 'square') =>
    makePanels(
      pattern,
      seams,
      1,
      foamWith({
        thickness,
        preparation,
        roleBends: { mountain: null, valley: null, unknown: null, seam: bend },
      }),
      marks,
    ).panels.map((panel) => {
      const xs = panel.outlines[skin][0]!.map((p) => p.x);
      return Math.max(...xs) - Math.min(...xs);
    });
  const sum = (numbers: readonly number[]) => numbers.reduce((p, q) => p + q, 0);

  it.each([2, 5])('of %s mm', (t) => {
    const inside = 480 - 2 * n * t * Math.tan(Math.PI / n);
    expect(sum(widths('outside', t, 'bevel'))).toBeCloseTo(480, 9);
    expect(sum(widths('inside', t, 'bevel'))).toBeCloseTo(inside, 9);
    expect(sum(widths('inside', t, 'square'))).toBeCloseTo(inside, 9);
    expect(sum(widths('outside', t, 'square'))).toBeCloseTo(inside, 9);
    expect(Math.abs(inside - (480 - 2 * Math.PI * t))).toBeLessThan(
      ((2 * Math.PI ** 3 * t) / (3 * n * n)) * 2.2,
    );
  });
});
