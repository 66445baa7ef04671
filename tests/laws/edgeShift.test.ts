import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { distance, type Point, point, ringArea, rotate } from '../../src/math';
import { type ShiftEdge, shiftDeviations, shiftEdges, subtractRings } from '../../src/plane';
import { cutByHalfPlanes, loopOf, starRing, sweptArea } from '../plane/edgeShiftOracle';

const mitreLimit = 3;
const total = (rings: readonly (readonly Point[])[]) => rings.reduce((n, ring) => n + ringArea(ring), 0);

/** Star-shaped outlines with a shift for every edge. Small against the radii, so that edges seldom vanish. */
const outline = (least: number, most: number) =>
  fc.integer({ min: 4, max: 12 }).chain((count) =>
    fc.record({
      ring: fc
        .tuple(
          fc.array(fc.double({ min: 30, max: 60, noNaN: true }), { minLength: count, maxLength: count }),
          fc.array(fc.double({ min: 0, max: 0.5, noNaN: true }), { minLength: count, maxLength: count }),
        )
        .map(([radii, wobbles]) => starRing(radii, wobbles)),
      shifts: fc.array(fc.double({ min: least, max: most, noNaN: true }), {
        minLength: count,
        maxLength: count,
      }),
    }),
  );

/** Convex outlines whose corners all turn by 20° or more, inscribed in a circle. */
const convexOutline = fc.integer({ min: 3, max: 9 }).chain((count) =>
  fc.record({
    ring: fc
      .array(fc.double({ min: 0, max: 0.4, noNaN: true }), { minLength: count, maxLength: count })
      .map((wobbles) =>
        starRing(
          Array.from({ length: count }, () => 40),
          wobbles,
        ),
      ),
    shifts: fc.array(fc.double({ min: -14, max: 0, noNaN: true }), { minLength: count, maxLength: count }),
  }),
);

const sameRing = (a: readonly Point[], b: readonly Point[], within: number) => {
  expect(a).toHaveLength(b.length);
  const start = b.findIndex((p) => distance(p, a[0]!) <= within);
  expect(start).toBeGreaterThanOrEqual(0);
  a.forEach((p, k) => {
    expect(distance(p, b[(start + k) % b.length]!)).toBeLessThanOrEqual(within);
  });
};

describe('shifting edges', () => {
  it('by zero changes nothing', () => {
    fc.assert(
      fc.property(outline(0, 0), ({ ring }) => {
        expect(shiftEdges([loopOf(ring, 0)], { mitreLimit }).rings).toEqual([ring]);
      }),
    );
  });

  it('keeps every edge parallel at its own distance, to 1e-9 mm, except where corners are blended or capped', () => {
    fc.assert(
      fc.property(outline(-4, 4), ({ ring, shifts }) => {
        const loops = [loopOf(ring, shifts)];
        for (const edge of shiftDeviations(loops, shiftEdges(loops, { mitreLimit })))
          if (!edge.blended) expect(edge.deviation).toBeLessThan(1e-9);
      }),
    );
  });

  it('commutes with moving, turning and mirroring', () => {
    const motion = fc.record({
      angle: fc.double({ min: -3, max: 3, noNaN: true }),
      x: fc.double({ min: -500, max: 500, noNaN: true }),
      y: fc.double({ min: -500, max: 500, noNaN: true }),
      mirror: fc.boolean(),
    });
    fc.assert(
      fc.property(outline(-3, 3), motion, ({ ring, shifts }, { angle, x, y, mirror }) => {
        const move = (p: Point) => {
          const q = rotate(mirror ? { x: -p.x, y: p.y } : p, angle);
          return point(q.x + x, q.y + y);
        };
        // A mirrored outline is walked the other way round: edges and their ends in reverse.
        const moveLoop = (loop: readonly ShiftEdge[]) => {
          const moved = loop.map((edge) => ({ ...edge, points: edge.points.map(move) }));
          return mirror ? moved.reverse().map((e) => ({ ...e, points: [...e.points].reverse() })) : moved;
        };
        const plain = shiftEdges([loopOf(ring, shifts)], { mitreLimit });
        const moved = shiftEdges([moveLoop(loopOf(ring, shifts))], { mitreLimit });
        fc.pre(plain.clean && plain.rings.length === 1);
        const expected = plain.rings[0]!.map(move);
        sameRing(moved.rings[0]!, mirror ? expected.reverse() : expected, 1e-7);
      }),
    );
  });

  it('does not depend on where the outline starts', () => {
    fc.assert(
      fc.property(outline(-3, 3), fc.nat(11), ({ ring, shifts }, by) => {
        const loop = loopOf(ring, shifts);
        const n = by % loop.length;
        const turned = [...loop.slice(n), ...loop.slice(0, n)];
        const plain = shiftEdges([loop], { mitreLimit });
        fc.pre(plain.clean && plain.rings.length === 1);
        sameRing(shiftEdges([turned], { mitreLimit }).rings[0]!, plain.rings[0]!, 1e-9);
      }),
    );
  });

  it('an outset never loses area and covers what it grew from', () => {
    fc.assert(
      fc.property(outline(0, 8), ({ ring, shifts }) => {
        const grown = shiftEdges([loopOf(ring, shifts)], { mitreLimit }).rings;
        expect(total(grown)).toBeGreaterThanOrEqual(ringArea(ring) - 1e-6);
        // What sticks out is at most the rounding to the grid along the outline.
        expect(total(subtractRings([ring], grown))).toBeLessThan(0.1);
      }),
    );
  });

  it('a larger shift on any edge gives a larger part', () => {
    fc.assert(
      fc.property(
        outline(-3, 3),
        fc.double({ min: 0, max: 2, noNaN: true }),
        fc.nat(11),
        (given, more, at) => {
          const { ring, shifts } = given;
          const k = at % shifts.length;
          const larger = shifts.map((shift, n) => (n === k ? shift + more : shift));
          const small = shiftEdges([loopOf(ring, shifts)], { mitreLimit: 1e4 });
          const large = shiftEdges([loopOf(ring, larger)], { mitreLimit: 1e4 });
          // Where an edge vanishes its neighbours meet instead, and a blended edge tilts: neither is monotone.
          fc.pre(
            [small, large].every((r) => r.vanished.length === 0 && r.loops[0]!.every((e) => !e.blended)),
          );
          expect(total(subtractRings(small.rings, large.rings))).toBeLessThan(0.1);
        },
      ),
    );
  });

  it('comes back when the result is shifted by the opposite distances', () => {
    fc.assert(
      fc.property(outline(0, 4), ({ ring, shifts }) => {
        const out = shiftEdges([loopOf(ring, shifts)], { mitreLimit: 1e4 });
        fc.pre(out.clean && out.vanished.length === 0 && out.loops[0]!.every((edge) => !edge.blended));
        const backLoop = out.loops[0]!.map((edge) => ({
          id: edge.id,
          points: edge.line,
          shift: -edge.shift,
        }));
        const back = shiftEdges([backLoop], { mitreLimit: 1e4 });
        sameRing(back.rings[0]!, ring, 1e-7);
      }),
    );
  });

  it('gains the area that its edges sweep', () => {
    fc.assert(
      fc.property(outline(-4, 4), ({ ring, shifts }) => {
        const loops = [loopOf(ring, shifts)];
        const result = shiftEdges(loops, { mitreLimit: 1e4 });
        fc.pre(result.clean && result.vanished.length === 0 && result.loops[0]!.every((e) => !e.blended));
        expect(total(result.rings)).toBeCloseTo(ringArea(ring) + sweptArea(loops, result), 6);
      }),
    );
  });

  it('an inset of a convex outline is what its moved half planes have in common, vanished edges included', () => {
    fc.assert(
      fc.property(convexOutline, ({ ring, shifts }) => {
        const loop = loopOf(ring, shifts);
        fc.pre(loop.every((edge, k) => turnAt(edge, loop[(k + 1) % loop.length]!) > (20.1 * Math.PI) / 180));
        const result = shiftEdges([loop], { mitreLimit });
        expect(total(result.rings)).toBeCloseTo(Math.max(0, ringArea(cutByHalfPlanes(loop))), 2);
      }),
      { numRuns: 400 },
    );
  });
});

function turnAt(before: ShiftEdge, after: ShiftEdge): number {
  const d = (edge: ShiftEdge) =>
    point(edge.points[1]!.x - edge.points[0]!.x, edge.points[1]!.y - edge.points[0]!.y);
  const p = d(before);
  const q = d(after);
  return Math.atan2(p.x * q.y - p.y * q.x, p.x * q.x + p.y * q.y);
}
