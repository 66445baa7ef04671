import { describe, expect, it } from 'vitest';
import { seededRandom } from '../../src/base';
import { distance, dot, type Point, point, ringArea, subtract, unitOf } from '../../src/math';
import {
  gridPitch,
  offsetRings,
  type ShiftEdge,
  shiftDeviations,
  shiftEdges,
  subtractRings,
} from '../../src/plane';
import { loopOf, positiveArea, starRing } from './edgeShiftOracle';

const ringOf = (...xy: readonly (readonly [number, number])[]): Point[] => xy.map(([x, y]) => point(x, y));
const square = (side: number) => ringOf([0, 0], [side, 0], [side, side], [0, side]);
const areas = (loops: readonly (readonly ShiftEdge[])[], mitreLimit = 3) =>
  shiftEdges(loops, { mitreLimit }).rings.map((ring) => ringArea(ring));
const total = (rings: readonly (readonly Point[])[]) => rings.reduce((n, ring) => n + ringArea(ring), 0);

describe('straight edges', () => {
  it('moves each edge by its own distance and meets at the corners', () => {
    const result = shiftEdges([loopOf(square(10), [1, 2, -1, 0])], { mitreLimit: 3 });
    expect(result.clean).toBe(true);
    expect(result.rings).toEqual([ringOf([0, -1], [12, -1], [12, 9], [0, 9])]);
    expect(result.loops[0]![1]!.line).toEqual(ringOf([12, -1], [12, 9]));
  });

  it('shrinks a hole when its edges move away from the material', () => {
    const hole = ringOf([10, 10], [10, 20], [20, 20], [20, 10]);
    expect(areas([loopOf(square(40), 1), loopOf(hole, 1, 'h')])).toEqual([42 * 42, -64]);
  });

  it('drops a hole that closes up and says which edges went', () => {
    const hole = ringOf([10, 10], [10, 20], [20, 20], [20, 10]);
    const result = shiftEdges([loopOf(square(40), 0), loopOf(hole, 6, 'h')], { mitreLimit: 3 });
    expect(total(result.rings)).toBe(1600);
    expect(result.vanished).toEqual(['h0', 'h1', 'h2', 'h3']);
  });

  it('cuts a sharp corner blunt beyond the mitre limit', () => {
    const sharp = ringOf([0, 0], [100, -10], [100, 10]);
    const tip = (limit: number) =>
      Math.min(...shiftEdges([loopOf(sharp, 2)], { mitreLimit: limit }).rings[0]!.map((p) => p.x));
    // Half the angle at the tip is atan(1/10): the full mitre stands 2 / sin(half) away.
    expect(tip(100)).toBeCloseTo(-2 / Math.sin(Math.atan(0.1)), 9);
    expect(tip(3)).toBeCloseTo(-6, 9);
    const blunt = shiftEdges([loopOf(sharp, 2)], { mitreLimit: 3 });
    expect(blunt.rings[0]).toHaveLength(4);
    expect(Math.max(...shiftDeviations([loopOf(sharp, 2)], blunt).map((d) => d.deviation))).toBeLessThan(
      1e-9,
    );
  });

  it('never limits a corner at which both edges shrink', () => {
    const sharp = ringOf([0, 0], [100, -10], [100, 10]);
    const result = shiftEdges([loopOf(sharp, -2)], { mitreLimit: 1 });
    expect(Math.min(...result.rings[0]!.map((p) => p.x))).toBeCloseTo(2 / Math.sin(Math.atan(0.1)), 9);
  });

  it('takes the bisector where neighbours turn by less than 20°: the mean, or the deeper of both', () => {
    const low = Math.tan((5 * Math.PI) / 180) * 50;
    const ring = ringOf([0, 0], [50, -low], [100, 0], [100, 60], [0, 60]);
    const shifts = [1, 3, 0, 0, 0];
    const mean = shiftEdges([loopOf(ring, shifts)], { mitreLimit: 3 });
    const half = (5 * Math.PI) / 180;
    expect(mean.rings[0]![1]!.x).toBeCloseTo(50, 9);
    expect(mean.rings[0]![1]!.y).toBeCloseTo(-low - 2 / Math.cos(half), 9);
    expect(mean.loops[0]!.map((edge) => edge.blended)).toEqual([true, true, false, false, false]);
    const deep = loopOf(ring, shifts).map((edge) => ({ ...edge, blend: 'deeper' as const }));
    expect(shiftEdges([deep], { mitreLimit: 3 }).rings[0]![1]!.y).toBeCloseTo(-low - 1 / Math.cos(half), 9);
  });

  it('reports edges that vanish, and lets their neighbours meet', () => {
    const chamfered = ringOf([0, 0], [8, 0], [10, 2], [10, 10], [0, 10]);
    const result = shiftEdges([loopOf(chamfered, -4)], { mitreLimit: 3 });
    expect(result.vanished).toEqual(['e1']);
    expect(total(result.rings)).toBeCloseTo(4, 9);
  });
});

describe('what can go wrong', () => {
  it.each([
    ['square', square(10), -6],
    ['square at the last moment', square(10), -5],
    ['strip', ringOf([0, 0], [100, 0], [100, 10], [0, 10]), -6],
    ['triangle', ringOf([0, 0], [30, 0], [0, 30]), -9],
  ])('says when nothing is left of a %s', (_, ring, shift) => {
    const result = shiftEdges([loopOf(ring, shift)], { mitreLimit: 3 });
    expect(result.rings).toEqual([]);
    expect(result.vanished).toHaveLength(ring.length);
  });

  it('lets a stem go that is narrower than twice the inset', () => {
    const tee = ringOf([0, 0], [30, 0], [30, 10], [17, 10], [17, 30], [13, 30], [13, 10], [0, 10]);
    const result = shiftEdges([loopOf(tee, -3)], { mitreLimit: 3 });
    expect(total(result.rings)).toBeCloseTo(24 * 4, 3);
    expect(result.vanished).toEqual(['e3', 'e4', 'e5']);
  });

  it('leaves no ghost of a part that collapsed behind a neck', () => {
    const ring = ringOf(
      [0, 0],
      [10, 0],
      [10, 4],
      [30, 4],
      [30, -10],
      [60, -10],
      [60, 20],
      [30, 20],
      [30, 6],
      [10, 6],
      [10, 10],
      [0, 10],
    );
    const result = shiftEdges([loopOf(ring, -6)], { mitreLimit: 3 });
    expect(result.rings).toHaveLength(1);
    expect(total(result.rings)).toBeCloseTo(18 * 18, 3);
  });

  it('parts a panel at a neck that closes', () => {
    const ring = ringOf(
      [0, 0],
      [20, 0],
      [20, 8],
      [40, 8],
      [40, 0],
      [60, 0],
      [60, 20],
      [40, 20],
      [40, 12],
      [20, 12],
      [20, 20],
      [0, 20],
    );
    const result = shiftEdges([loopOf(ring, -3)], { mitreLimit: 3 });
    expect(result.rings.map((r) => ringArea(r))).toEqual([expect.closeTo(196, 3), expect.closeTo(196, 3)]);
    expect(result.vanished).toEqual(['e2', 'e8']);
    expect(result.clean).toBe(false);
  });

  it('closes a notch whose walls grow into each other, and names the walls', () => {
    const notch = ringOf([0, 0], [40, 0], [40, 30], [22, 30], [24, 10], [16, 10], [18, 30], [0, 30]);
    const result = shiftEdges([loopOf(notch, 3)], { mitreLimit: 3 });
    expect(result.clean).toBe(false);
    // Narrow at the mouth, wide at the bottom: a hole stays.
    expect(result.rings).toHaveLength(2);
    expect(result.crossings).toContainEqual(['e3', 'e5']);
  });

  it('cuts through where a growing hole meets the outline', () => {
    const hole = ringOf([10, 10], [10, 20], [20, 20], [20, 10]);
    const result = shiftEdges([loopOf(square(40), 0), loopOf(hole, -12, 'h')], { mitreLimit: 3 });
    expect(total(result.rings)).toBeCloseTo(1600 - 32 * 32, 3);
    expect(result.vanished).toEqual(['h0', 'h3']);
  });

  it('finds the parts of each edge again after a clean-up', () => {
    const notch = ringOf([0, 0], [40, 0], [40, 30], [22, 30], [24, 10], [16, 10], [18, 30], [0, 30]);
    const result = shiftEdges([loopOf(notch, 3)], { mitreLimit: 3 });
    const girth = result.rings.reduce(
      (n, ring) => n + ring.reduce((m, p, k) => m + distance(p, ring[(k + 1) % ring.length]!), 0),
      0,
    );
    const inParts = result.loops
      .flat()
      .flatMap((edge) => edge.parts)
      .reduce((n, part) => n + part.slice(1).reduce((m, p, k) => m + distance(part[k]!, p), 0), 0);
    expect(inParts).toBeCloseTo(girth, 6);
  });

  it('refuses shifts that are no numbers and mitre limits below 1', () => {
    expect(() => shiftEdges([loopOf(square(10), Number.NaN)], { mitreLimit: 3 })).toThrow('shift of edge e0');
    expect(() => shiftEdges([loopOf(square(10), 1)], { mitreLimit: 0.5 })).toThrow('mitre limit');
  });
});

describe('curved edges', () => {
  /** A closed circle as one edge, flattened to 0.02 mm. */
  const circle = (radius: number, shift: number, clockwise = false): ShiftEdge[] => {
    const count = Math.ceil(Math.PI / Math.acos(1 - 0.02 / radius));
    const points = Array.from({ length: count + 1 }, (_, k) => {
      const angle = ((clockwise ? -k : k) / count) * 2 * Math.PI;
      return point(radius * Math.cos(angle), radius * Math.sin(angle));
    });
    return [{ id: 'circle', points, shift }];
  };

  it.each([
    [20, 3],
    [20, -3],
    [20, -19],
    [5, 5],
  ])('a circle of radius %s moved by %s is the circle of the other radius', (radius, shift) => {
    const loops = [circle(radius, shift)];
    const result = shiftEdges(loops, { mitreLimit: 3 });
    // Every moved corner is 0…0.02 mm × (moved / source radius) outside the mitre of the polygon.
    for (const p of result.rings[0]!) {
      expect(Math.abs(Math.hypot(p.x, p.y) - (radius + shift))).toBeLessThan(
        0.02 * Math.max(1, (radius + shift) / radius),
      );
    }
    expect(Math.max(...shiftDeviations(loops, result).map((d) => d.deviation))).toBeLessThan(1e-9);
  });

  it('a circle moved in by more than its radius is gone', () => {
    expect(shiftEdges([circle(5, -5.1)], { mitreLimit: 3 }).rings).toEqual([]);
  });

  it('keeps a bulge clean where the inset is deeper than its radius', () => {
    // A half disc of radius 4 on top of a wide block, everything moved in by 6: the bulge is gone, no loops stay.
    const arc = Array.from({ length: 41 }, (_, k) => {
      const angle = (k / 40) * Math.PI;
      return point(50 + 4 * Math.cos(angle), 40 + 4 * Math.sin(angle));
    });
    const corners = ringOf([46, 40], [0, 40], [0, 0], [100, 0], [100, 40], [54, 40]);
    const loop: ShiftEdge[] = [
      { id: 'bulge', points: arc, shift: -6 },
      ...corners.slice(1).map((p, k) => ({ id: `s${k}`, points: [corners[k]!, p], shift: -6 })),
    ];
    const result = shiftEdges([loop], { mitreLimit: 3 });
    expect(result.rings).toHaveLength(1);
    const area = total(result.rings);
    // Between the plain block and the block with a corner of the bulge's chord left.
    expect(area).toBeGreaterThanOrEqual(88 * 28 - 1e-3);
    expect(area).toBeLessThan(88 * 28 + 8);
  });

  it('rounds a kink on its outer side', () => {
    const bent: ShiftEdge = { id: 'bent', points: ringOf([0, 0], [50, 0], [50, 50]), shift: 5 };
    const back: ShiftEdge = { id: 'back', points: ringOf([50, 50], [0, 50], [0, 0]), shift: 0 };
    const line = shiftEdges([[bent, back]], { mitreLimit: 3 }).loops[0]![0]!.line;
    const inner = line.filter((p) => p.x > 50 && p.y < 0);
    expect(inner.length).toBeGreaterThan(5);
    for (const p of inner) expect(distance(p, point(50, 0))).toBeCloseTo(5, 9);
  });
});

describe('equal shifts against the uniform offset of the polygon library', () => {
  const mitreLimit = 40;
  /** Beyond the mitre limit the two cut differently on purpose; such spikes are left out. */
  const hasSpike = (ring: readonly Point[]) =>
    ring.some((p, k) => {
      const a = unitOf(subtract(ring[(k + 1) % ring.length]!, p));
      const b = unitOf(subtract(ring[(k + ring.length - 1) % ring.length]!, p));
      return Math.acos(Math.min(1, dot(a, b))) < 2.2 * Math.asin(1 / mitreLimit);
    });
  const random = seededRandom(20_26);
  const cases = Array.from({ length: 1500 }, () => {
    const count = 3 + Math.floor(random() * 14);
    const ring = starRing(
      Array.from({ length: count }, () => 10 + random() * 40),
      Array.from({ length: count }, () => random() * 0.9),
    );
    return { ring, shift: (random() * 2 - 1) * 14 };
  }).filter(({ ring }) => ringArea(ring) > 0 && !hasSpike(ring));
  const results = cases.map(({ ring, shift }) => ({
    ring,
    shift,
    ours: shiftEdges([loopOf(ring, shift)], { mitreLimit }),
    theirs: offsetRings([ring], shift, { kind: 'mitre', limit: mitreLimit }),
  }));

  it('agrees to the grid wherever no edge vanishes', () => {
    const same = results.filter(({ ours }) => ours.vanished.length === 0);
    expect(same.length).toBeGreaterThan(600);
    for (const { ring, ours, theirs } of same) {
      const off = total(subtractRings(ours.rings, theirs)) + total(subtractRings(theirs, ours.rings));
      const girth = ring.reduce((n, p, k) => n + distance(p, ring[(k + 1) % ring.length]!), 0);
      // The library rounds the source to the grid before it offsets, which sharp corners enlarge.
      expect(off).toBeLessThan(girth * 10 * gridPitch);
    }
  });

  it('where edges vanish differs only by ground that is far enough: the library still cuts by their mitres', () => {
    const gone = results.filter(({ ours }) => ours.vanished.length > 0);
    expect(gone.length).toBeGreaterThan(200);
    for (const { ring, shift, ours, theirs } of gone) {
      const [more, less] = shift < 0 ? [ours.rings, theirs] : [theirs, ours.rings];
      expect(total(subtractRings(less, more))).toBeLessThan(0.1);
      for (const extra of subtractRings(more, less).filter((r) => Math.abs(ringArea(r)) > 0.05)) {
        const middle = point(
          extra.reduce((n, p) => n + p.x, 0) / extra.length,
          extra.reduce((n, p) => n + p.y, 0) / extra.length,
        );
        expect(distanceToRing(middle, ring)).toBeGreaterThan(Math.abs(shift));
      }
    }
  });
});

/** Straight distance from a point to the nearest side of a ring. */
function distanceToRing(p: Point, ring: readonly Point[]): number {
  return Math.min(
    ...ring.map((a, k) => {
      const d = subtract(ring[(k + 1) % ring.length]!, a);
      const t = Math.max(0, Math.min(1, dot(subtract(p, a), d) / dot(d, d)));
      return Math.hypot(p.x - a.x - t * d.x, p.y - a.y - t * d.y);
    }),
  );
}

it('covers what the moved lines wind round positively, counted by scan lines', () => {
  const random = seededRandom(7);
  let crossed = 0;
  for (let n = 0; n < 150; n++) {
    // A comb: a block with notches that are often narrower at the mouth, each edge moved by a distance of its own.
    const ring: Point[] = [point(0, 0), point(120, 0)];
    for (let x = 120; x > 20; x -= 24) {
      const mouth = 2 + random() * 8;
      const floor = 4 + random() * 10;
      const deep = 8 + random() * 12;
      const tilt = (random() - 0.5) * 6;
      ring.push(point(x, 40), point(x - 12 + mouth / 2, 40), point(x - 12 + floor / 2 + tilt, 40 - deep));
      ring.push(point(x - 12 - floor / 2 + tilt, 40 - deep), point(x - 12 - mouth / 2, 40));
    }
    ring.push(point(0, 40));
    const outline = ring.filter((p, k) => distance(p, ring[(k + 1) % ring.length]!) > 1e-9);
    const loop = loopOf(
      outline,
      outline.map(() => random() * 5 - 1),
    );
    const result = shiftEdges([loop], { mitreLimit: 3 });
    const capped = result.loops[0]!.some((edge, k) => {
      const next = result.loops[0]![(k + 1) % outline.length]!;
      return edge.line.length === 0 || distance(edge.line.at(-1)!, next.line[0] ?? edge.line[0]!) > 1e-9;
    });
    if (result.clean || capped) continue;
    crossed += 1;
    const area = positiveArea([result.loops[0]!.map((edge) => edge.line[0]!)], 4000);
    expect(Math.abs(total(result.rings) - area)).toBeLessThan(1e-3 * area);
  }
  expect(crossed).toBeGreaterThan(20);
});
