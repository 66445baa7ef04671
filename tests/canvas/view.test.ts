import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  between,
  type Camera,
  fitted,
  panned,
  pinched,
  revealing,
  scaleLimits,
  toScene,
  toScreen,
  zoomed,
} from '../../app/canvas/view/camera';
import { CameraKeeper } from '../../app/canvas/view/cameraKeeper';
import { gridLevels, rulerTicks, scaleBarLength } from '../../app/canvas/view/ticks';

const num = (min: number, max: number) => fc.double({ min, max, noNaN: true });
const camera: fc.Arbitrary<Camera> = fc.record({
  scale: num(0.1, 50),
  x: num(-5000, 5000),
  y: num(-5000, 5000),
});
const place = fc.record({ x: num(-2000, 2000), y: num(-2000, 2000) });
const frame = { left: 46, top: 46, right: 1000, bottom: 700 };

describe('camera', () => {
  it('goes to the screen and back, with y turned', () => {
    expect(toScreen({ scale: 2, x: 10, y: 20 }, { x: 3, y: 4 })).toEqual({ x: 16, y: 12 });
    fc.assert(
      fc.property(camera, place, (c, p) => {
        const q = toScene(c, toScreen(c, p));
        expect(q.x).toBeCloseTo(p.x, 6);
        expect(q.y).toBeCloseTo(p.y, 6);
      }),
    );
  });

  it('zooms about the pointer, within its limits', () => {
    fc.assert(
      fc.property(camera, place, num(0.01, 100), (c, at, factor) => {
        const under = toScene(c, at);
        const z = zoomed(c, factor, at);
        expect(z.scale).toBeGreaterThanOrEqual(scaleLimits.min);
        expect(z.scale).toBeLessThanOrEqual(scaleLimits.max);
        const now = toScreen(z, under);
        expect(now.x).toBeCloseTo(at.x, 4);
        expect(now.y).toBeCloseTo(at.y, 4);
      }),
    );
  });

  it('keeps what is under two fingers under their middle, and zooms by their span', () => {
    const c = { scale: 2, x: 0, y: 0 };
    const p = pinched(
      c,
      [
        { x: 100, y: 100 },
        { x: 200, y: 100 },
      ],
      [
        { x: 90, y: 150 },
        { x: 290, y: 150 },
      ],
    );
    expect(p.scale).toBeCloseTo(4);
    const under = toScene(c, { x: 150, y: 100 });
    expect(toScreen(p, under).x).toBeCloseTo(190);
    expect(toScreen(p, under).y).toBeCloseTo(150);
    const same = { x: 5, y: 5 };
    expect(pinched(c, [same, same], [same, { x: 9, y: 9 }]).scale).toBe(2);
  });

  it('fits a box into the frame, touching two sides', () => {
    fc.assert(
      fc.property(place, num(1, 3000), num(1, 3000), ({ x, y }, w, h) => {
        const c = fitted({ minX: x, minY: y, maxX: x + w, maxY: y + h }, frame);
        const a = toScreen(c, { x, y: y + h });
        const b = toScreen(c, { x: x + w, y });
        expect(a.x).toBeGreaterThan(frame.left - 1e-6);
        expect(a.y).toBeGreaterThan(frame.top - 1e-6);
        expect(b.x).toBeLessThan(frame.right + 1e-6);
        expect(b.y).toBeLessThan(frame.bottom + 1e-6);
        const slack = Math.min(
          frame.right - frame.left - (b.x - a.x),
          frame.bottom - frame.top - (b.y - a.y),
        );
        expect(slack).toBeLessThan(1e-6 + (c.scale === scaleLimits.max ? 1e9 : 0));
      }),
    );
  });

  it('moves only as far as needed to show a box', () => {
    const c = { scale: 1, x: 0, y: 500 };
    expect(revealing(c, { minX: 100, minY: 100, maxX: 120, maxY: 120 }, frame)).toBe(c);
    const right = revealing(c, { minX: 1100, minY: 100, maxX: 1120, maxY: 120 }, frame);
    expect(right).toEqual(panned(c, -120, 0));
  });

  it('glides from start to end without overshooting', () => {
    const a = { scale: 1, x: 0, y: 0 };
    const b = { scale: 8, x: -900, y: 300 };
    expect(between(a, b, 0, frame).x).toBeCloseTo(a.x);
    expect(between(a, b, 1, frame)).toBe(b);
    const scales = [0, 0.25, 0.5, 0.75, 1].map((t) => between(a, b, t, frame).scale);
    expect(scales).toEqual([...scales].sort((p, q) => p - q));
    expect(scales[2]).toBeCloseTo(Math.sqrt(8));
  });
});

describe('views of the spaces', () => {
  const box = { minX: 0, minY: 0, maxX: 100, maxY: 100 };
  const keeper = () => {
    const k = new CameraKeeper();
    k.calm = true;
    k.resize(frame);
    k.show('drawing', box);
    return k;
  };

  it('fits a space when it first has content and remembers it afterwards', () => {
    const k = keeper();
    const fit = k.camera;
    expect(fit).toEqual(fitted(box, frame, 12));
    k.zoomBy(2, { x: 500, y: 300 });
    const own = k.camera;
    k.show('layout', { ...box, maxX: 900 });
    expect(k.camera).not.toEqual(own);
    k.show('drawing', box);
    expect(k.camera).toEqual(own);
  });

  it('stays fitted while untouched, keeps the middle once touched', () => {
    const k = keeper();
    const larger = { ...frame, right: 1400 };
    k.resize(larger);
    expect(k.camera).toEqual(fitted(box, larger, 12));
    k.show('drawing', { ...box, maxX: 300 });
    expect(k.camera).toEqual(fitted({ ...box, maxX: 300 }, larger, 12));
    k.panBy(5, 0);
    const middle = toScene(k.camera, { x: (46 + 1400) / 2, y: 373 });
    k.resize(frame);
    const now = toScene(k.camera, { x: (46 + 1000) / 2, y: 373 });
    expect(now.x).toBeCloseTo(middle.x);
    k.show('drawing', { ...box, maxX: 500 });
    expect(toScene(k.camera, { x: (46 + 1000) / 2, y: 373 }).x).toBeCloseTo(middle.x);
  });

  it('jumps under reduced motion, else arrives after the glide', () => {
    const k = keeper();
    const to = { minX: 40, minY: 40, maxX: 50, maxY: 50 };
    k.showPlace(to, 0);
    expect(k.tick(1)).toBe(false);
    const arrived = k.camera;
    const slow = keeper();
    slow.calm = false;
    slow.showPlace(to, 0);
    expect(slow.tick(100)).toBe(true);
    expect(slow.camera).not.toEqual(arrived);
    expect(slow.tick(10_000)).toBe(false);
    expect(slow.camera).toEqual(arrived);
  });

  it('forgets all views with the document', () => {
    const k = keeper();
    k.panBy(50, 50);
    k.reset();
    k.show('drawing', box);
    expect(k.camera).toEqual(fitted(box, frame, 12));
  });
});

describe('rulers, grid and scale bar', () => {
  it('labels round lengths of the unit, far enough apart', () => {
    fc.assert(
      fc.property(num(0.03, 150), fc.constantFrom('mm' as const, 'in' as const), (scale, unit) => {
        const ticks = rulerTicks(-500 / scale, 900 / scale, scale, unit);
        const large = ticks.filter((t) => t.size === 'large');
        expect(large.length).toBeGreaterThan(0);
        for (let i = 1; i < large.length; i++)
          expect((large[i]!.at - large[i - 1]!.at) * scale).toBeGreaterThan(55.99);
        for (let i = 1; i < ticks.length; i++)
          expect((ticks[i]!.at - ticks[i - 1]!.at) * scale).toBeGreaterThan(3.99);
        for (const t of large) {
          const value = Number(t.text.replace('−', '-'));
          expect(value).toBeCloseTo(t.at / (unit === 'in' ? 25.4 : 1), 2);
        }
      }),
    );
  });

  it('divides whole inches into eighths when there is room', () => {
    const ticks = rulerTicks(0, 25.4, 20, 'in');
    expect(ticks.some((t) => Math.abs(t.at - 25.4 / 8) < 1e-9)).toBe(true);
    expect(ticks.find((t) => Math.abs(t.at - 25.4) < 1e-9)?.text).toBe('1');
  });

  it('shows the 10 mm grid at reading distance, 1 mm from near, 100 mm from afar', () => {
    const steps = (scale: number) =>
      gridLevels(scale, 'mm')
        .filter((l) => l.strength > 0.5)
        .map((l) => l.step);
    expect(steps(1.5)).toEqual([10, 100, 1000, 10_000]);
    expect(steps(15)).toContain(1);
    expect(steps(0.2)).toEqual([100, 1000, 10_000]);
    expect(gridLevels(2, 'in').map((l) => l.step)).toEqual([25.4 / 4, 25.4, 12 * 25.4, 120 * 25.4]);
  });

  it('has the longest round scale bar that fits', () => {
    expect(scaleBarLength(1, 'mm')).toBe(100);
    expect(scaleBarLength(2, 'mm')).toBe(50);
    expect(scaleBarLength(3, 'in') / 25.4).toBeCloseTo(1);
    fc.assert(
      fc.property(num(0.02, 200), (scale) => {
        expect(scaleBarLength(scale, 'mm') * scale).toBeLessThanOrEqual(150);
        expect(scaleBarLength(scale, 'mm') * scale).toBeGreaterThan(59);
      }),
    );
  });
});
