import { describe, expect, it } from 'vitest';
import {
  homeView,
  keyed,
  panned,
  pictureSight,
  seenFrom,
  sightOf,
  toScreen,
  turned,
  zoomed,
} from '../../app/shellview/orbit';
import type { Shell } from '../../src/model';
import { linesSeen } from '../../src/shell';

const ball = { middle: { x: 5, y: -3, z: 100 }, radius: 150 };

describe('looking at the shell', () => {
  it('says in words from where', () => {
    const words = (azimuth: number, elevation: number) => seenFrom({ ...homeView, azimuth, elevation });
    expect(words(0, 0)).toBe('Seen from the front');
    expect(words(Math.PI / 2, 0)).toBe('Seen from the right');
    expect(words(-Math.PI / 2, 0.5)).toBe('Seen from the left, a little above');
    expect(words(Math.PI, -1)).toBe('Seen from the back, far below');
    expect(words(Math.PI / 4, 0)).toBe('Seen from front right');
    expect(words(0, Math.PI / 2)).toBe('Seen from above');
    expect(seenFrom(homeView)).toBe('Seen from front right, a little above');
  });

  it('shows the wearer’s left at the viewer’s right, and up as up', () => {
    const sight = sightOf({ ...homeView, azimuth: 0, elevation: 0 }, ball, 400, 300);
    const middle = toScreen(sight, ball.middle);
    expect(middle).toMatchObject({ x: 200, y: 150 });
    expect(toScreen(sight, { ...ball.middle, x: ball.middle.x - 10 }).x).toBeGreaterThan(200);
    expect(toScreen(sight, { ...ball.middle, z: ball.middle.z + 10 }).y).toBeLessThan(150);
    expect(toScreen(sight, { ...ball.middle, y: ball.middle.y + 10 }).near).toBeCloseTo(10, 9);
  });

  it('picks on the drawn picture what is drawn there', () => {
    const [a, b, c] = [
      { x: 10, y: 60, z: 20 },
      { x: -40, y: 55, z: 25 },
      { x: -20, y: 50, z: 90 },
    ] as const;
    const faces = [{ piece: 'p', face: 'f', vertices: [0, 1, 2], flat: [] }];
    const shell = { vertices: [a, b, c], faces } as unknown as Shell;
    const direction = { azimuth: 0.3, elevation: 0.2 };
    const [width, height] = [1, 1].map((_, axis) => {
      const along = linesSeen(shell, direction, [
        [a, b],
        [b, c],
        [c, a],
      ]).flatMap((l) => [l.from, l.to]);
      return Math.max(...along.map((p) => (axis === 0 ? p.x : p.y)));
    }) as [number, number];
    const sight = pictureSight(shell, { width, height }, direction);
    for (const [p, q] of [
      [a, b],
      [b, c],
      [c, a],
    ] as const) {
      const [line] = linesSeen(shell, direction, [[p, q]]);
      const [from, to] = [toScreen(sight, p), toScreen(sight, q)];
      expect(from.x).toBeCloseTo(line!.from.x, 9);
      expect(height - from.y).toBeCloseTo(line!.from.y, 9);
      expect(to.x).toBeCloseTo(line!.to.x, 9);
    }
  });

  it('drags what is seen with the pointer', () => {
    const front = { ...homeView, azimuth: 0, elevation: 0 };
    // A point on the side turned to the viewer.
    const spot = { ...ball.middle, y: ball.middle.y + 100 };
    const at = (view: typeof homeView) => toScreen(sightOf(view, ball, 400, 400), spot);
    expect(at(turned(front, 0.1, 0)).x).toBeGreaterThan(at(front).x);
    expect(at(turned(front, 0, 0.1)).y).toBeGreaterThan(at(front).y);
    expect(at(panned(front, 0.1, 0)).x).toBeGreaterThan(at(front).x);
    expect(at(panned(front, 0, 0.1)).y).toBeLessThan(at(front).y);
  });

  it('zooms about the pointer', () => {
    const size = 400;
    const sight = (view: typeof homeView) => sightOf(view, ball, size, size);
    const view = { ...homeView, azimuth: 0.3, elevation: 0.2 };
    const spot = { x: 60, y: 20, z: 150 };
    const before = toScreen(sight(view), spot);
    // Radii from the middle at zoom 1.
    const perPixel = 1 / (sight({ ...view, zoom: 1 }).scale * ball.radius);
    const about = { x: (before.x - size / 2) * perPixel, y: (size / 2 - before.y) * perPixel };
    const nearer = zoomed(view, 2, about);
    const after = toScreen(sight(nearer), spot);
    expect(nearer.zoom).toBe(2);
    expect(after.x).toBeCloseTo(before.x, 6);
    expect(after.y).toBeCloseTo(before.y, 6);
  });

  it('never turns over the poles, and keeps its bounds', () => {
    let view = homeView;
    for (let i = 0; i < 30; i++) view = keyed(view, 'ArrowDown', false)!;
    expect(view.elevation).toBe(Math.PI / 2);
    for (let i = 0; i < 60; i++) view = keyed(view, 'ArrowRight', false)!;
    expect(Math.abs(view.azimuth)).toBeLessThanOrEqual(Math.PI + 1e-9);
    for (let i = 0; i < 60; i++) view = keyed(view, '+', false)!;
    expect(view.zoom).toBeLessThanOrEqual(12);
    for (let i = 0; i < 60; i++) view = keyed(view, 'ArrowLeft', true)!;
    expect(Math.abs(view.panX)).toBeLessThanOrEqual(2);
    expect(keyed(view, 'Home', false)).toEqual(homeView);
    expect(keyed(view, 'a', false)).toBeNull();
  });
});
