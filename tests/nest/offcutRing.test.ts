import { describe, expect, it } from 'vitest';
import { ringArea } from '../../src/math';
import { offcutRing } from '../../src/nest';

const ring = (...points: readonly (readonly [number, number])[]) => points.map(([x, y]) => ({ x, y }));
const code = (points: Parameters<typeof offcutRing>[0]) => {
  const read = offcutRing(points);
  return read.ok ? 'kept' : read.issues[0]!.code;
};

describe('the outline of an offcut', () => {
  it('lies at the origin and runs against the clock, whichever way it was drawn', () => {
    const drawn = ring([10, -20], [210, -20], [210, -120], [110, -60], [10, -120]);
    for (const way of [drawn, [...drawn].reverse()]) {
      const read = offcutRing(way);
      if (!read.ok) throw new Error(read.issues[0]!.message);
      expect(ringArea(read.value)).toBeCloseTo(200 * 100 - (200 * 60) / 2, 9);
      expect(new Set(read.value.map((p) => `${p.x} ${p.y}`))).toEqual(
        new Set(['0 100', '200 100', '200 0', '100 60', '0 0']),
      );
    }
  });

  it('is refused when it crosses itself, has too few corners, or is no size for foam', () => {
    expect(code(ring([0, 0], [100, 0], [100, 80], [0, 80]))).toBe('kept');
    expect(code(ring([0, 0], [100, 80], [100, 0], [0, 80]))).toBe('offcut-crosses');
    // Round twice.
    expect(code(ring([0, 0], [100, 0], [100, 80], [0, 80], [10, 10], [90, 10], [90, 70], [10, 70]))).toBe(
      'offcut-crosses',
    );
    expect(code(ring([0, 0], [100, 0]))).toBe('offcut-open');
    expect(code(ring([0, 0], [100, 0], [200, 0]))).toBe('offcut-small');
    expect(code(ring([0, 0], [100, 0], [100, 19]))).toBe('offcut-small');
    expect(code(ring([0, 0], [5000, 0], [0, 500]))).toBe('offcut-large');
  });
});
