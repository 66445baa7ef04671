import { describe, expect, it } from 'vitest';
import { seededRandom } from '../../src/base';
import { fromSeats, mergeRow, seatsOf, shareOf, toSeats } from '../../src/shell/seats';

/** Partners 0–3 and 1–2; vertex 4 on the mirror plane. */
const mirror = Int32Array.from([3, 2, 1, 0, 4]);
const seats = seatsOf(mirror);
const random = seededRandom(3);
const drawn = (n: number) => Float64Array.from({ length: n }, () => random() - 0.5);
const dot = (a: Float64Array, b: Float64Array) => a.reduce((s, x, i) => s + x * b[i]!, 0);

describe('rows that mirror partners share', () => {
  it('are one for each pair and each vertex on the plane', () => {
    expect(seats.size).toBe(3);
    expect([0, 1, 2].map((row) => shareOf(seats, row))).toEqual([2, 2, 1]);
  });

  it('move partners as mirror images and keep the plane', () => {
    const moved = fromSeats(seats, drawn(9));
    mirror.forEach((w, v) => {
      expect(moved[w * 3]! + moved[v * 3]!).toBeCloseTo(0, 12);
      expect(moved[w * 3 + 1]).toBe(moved[v * 3 + 1]);
      expect(moved[w * 3 + 2]).toBe(moved[v * 3 + 2]);
    });
  });

  it('gain by a move what the vertices gain by it', () => {
    const [gradient, rows] = [drawn(15), drawn(9)];
    expect(dot(toSeats(seats, gradient), rows)).toBeCloseTo(dot(gradient, fromSeats(seats, rows)), 12);
  });

  it('take over a row of the least squares whose vertices are partners', () => {
    const list = [1, 4, 2, 0];
    const g = drawn(12);
    const whole = new Float64Array(15);
    list.forEach((v, i) => {
      whole.set(g.subarray(i * 3, i * 3 + 3), v * 3);
    });
    const count = mergeRow(seats, list, 4, g);
    const merged = new Float64Array(9);
    for (let i = 0; i < count; i++) merged.set(g.subarray(i * 3, i * 3 + 3), list[i]! * 3);
    expect(count).toBe(3);
    toSeats(seats, whole).forEach((x, i) => {
      expect(merged[i]).toBeCloseTo(x, 12);
    });
  });
});
