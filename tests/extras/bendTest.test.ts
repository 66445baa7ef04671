/** The bend test by examples worked by hand, and against the handbook's bend deduction. */
import { describe, expect, it } from 'vitest';
import { bendTestPanels, neutralRatioFrom, sidesFor, squeezeFrom } from '../../src/extras';
import { seamCut } from '../../src/foam';
import { boxOf } from '../../src/math';
import { defaultDecisions } from '../../src/model';

const foam = (thickness: number, bendRadius = 0) => ({ thickness, bendRadius });
const read = <T>(outcome: { ok: true; value: T } | { ok: false }) => {
  if (!outcome.ok) throw new Error('refused');
  return outcome.value;
};

describe('K from the strip', () => {
  it('is 0.5 where 200 mm of 10 mm foam measure 212.146 mm', () => {
    // By hand: BA = π/2 · 5 = 7.854, 2 · OSSB = 20, BD = 12.146; both legs 200 + 12.146.
    expect(read(neutralRatioFrom(212.146, foam(10)))).toBeCloseTo(0.5, 4);
  });

  it('is 0.4 on 5 mm foam at 206.858 mm', () => {
    // By hand: BA = π/2 · 2 = 3.142, BD = 10 − 3.142 = 6.858.
    expect(read(neutralRatioFrom(206.858, foam(5)))).toBeCloseTo(0.4, 3);
  });

  it('agrees with DIN 6935 (as public code bases quote it) at r = s', () => {
    // k = 0.65 + 0.5 log10(1) = 0.65, allowance φ (r + k s / 2): K = 0.325.
    const [r, s] = [4, 4];
    const allowance = (Math.PI / 2) * (r + (0.65 * s) / 2);
    const sides = 200 + 2 * (r + s) - allowance;
    expect(read(neutralRatioFrom(sides, foam(s, r)))).toBeCloseTo(0.325, 9);
    expect(sidesFor(0.325, foam(s, r))).toBeCloseTo(sides, 9);
  });

  it('refuses what no foam does', () => {
    for (const sides of [200, 213, Number.NaN]) expect(neutralRatioFrom(sides, foam(5)).ok).toBe(false);
  });
});

describe('the squeeze from the corner', () => {
  it('is nothing where the wedge is that of plane geometry, 1 mm where it is 1.414 mm less', () => {
    expect(read(squeezeFrom(7.0711, foam(5)))).toBeCloseTo(0, 3);
    expect(read(squeezeFrom(5.6569, foam(5)))).toBeCloseTo(1, 3);
    expect(read(squeezeFrom(7.4, foam(5)))).toBe(0);
    expect(squeezeFrom(8, foam(5)).ok).toBe(false);
    expect(squeezeFrom(3, foam(5)).ok).toBe(false);
  });

  it('lets square seams reach further, and leaves that wedge', () => {
    const depths = { outside: 0, inside: 5 };
    const cut = (bend: number, squeeze: number) => seamCut(bend, 'square', depths, { squeeze });
    expect(cut(Math.PI / 2, 1).inside).toBeCloseTo(-4, 9);
    expect(cut(Math.PI / 2, 1).openWedge).toBeCloseTo(5.6569, 4);
    expect(cut(-Math.PI / 2, 1).outside).toBeCloseTo(1, 9);
    expect(cut(Math.PI / 2, 0)).toEqual(seamCut(Math.PI / 2, 'square', depths));
  });
});

it('prints strip, plates and angle at their size, whatever the kerf', () => {
  const panels = bendTestPanels({ ...defaultDecisions.foam, kerf: 2 });
  const sizes = panels.map((p) => {
    const box = boxOf(p.outlines.traced.flat());
    return [box.maxX - box.minX, box.maxY - box.minY];
  });
  expect(sizes).toEqual([
    [200, 25],
    [60, 40],
    [143, 143],
  ]);
  const ticks = panels[2]!.guides!.filter((g) => g.id.startsWith('bend-test:x'));
  expect(ticks.map((t) => t.points[0]!.x)).toEqual(Array.from({ length: 36 }, (_, i) => 85 + i));
});
