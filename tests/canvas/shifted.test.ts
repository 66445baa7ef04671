/** Panning by whole pixels: what is left to draw is exactly what the moved picture does not show. */
import { describe, expect, it } from 'vitest';
import { reaches, shiftBetween, uncovered } from '../../app/canvas/paint/shifted';

const from = { scale: 2, x: 10.4, y: 20.25 };

describe('the shift between two views', () => {
  it('is in device pixels', () => {
    expect(shiftBetween(from, { scale: 2, x: 13.4, y: 18.25 }, 2)).toEqual({ x: 6, y: -4 });
  });

  it('is none between pixels and at another zoom', () => {
    expect(shiftBetween(from, { scale: 2, x: 10.9, y: 20.25 }, 1)).toBeNull();
    expect(shiftBetween(from, { scale: 2.1, x: 10.4, y: 20.25 }, 1)).toBeNull();
  });
});

describe('what a shift uncovers', () => {
  const [width, height] = [12, 9];
  const fixed = [{ left: 0, top: 0, right: 12, bottom: 1.5 }];

  it.each([
    [3, 0],
    [-3, 2],
    [0, -4],
    [0, 0],
    [40, -40],
  ])('by %i, %i is every pixel that comes from outside or from under what stays', (x, y) => {
    const boxes = uncovered(width, height, { x, y }, fixed);
    for (let px = 0; px < width; px++)
      for (let py = 0; py < height; py++) {
        const cameFrom = { x: px - x, y: py - y };
        const inside = cameFrom.x >= 0 && cameFrom.x < width && cameFrom.y >= 0 && cameFrom.y < height;
        const stale = !inside || cameFrom.y < 2;
        expect(reaches(boxes, 1, px + 0.5, py + 0.5, 0.25, 0.25), `${px} ${py}`).toBe(stale);
      }
  });
});
