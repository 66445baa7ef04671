import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { addBendMarks, addDashed, addHatch, marksOf } from '../../app/shellview/strokes';
import { shellTheme } from '../../app/shellview/theme';
import { point3 } from '../../src/math';

const lengths = (list: readonly number[]) => {
  const out: number[] = [];
  for (let i = 0; i < list.length; i += 6)
    out.push(Math.hypot(list[i + 3]! - list[i]!, list[i + 4]! - list[i + 1]!, list[i + 5]! - list[i + 2]!));
  return out;
};

describe('strokes on the shell', () => {
  it('dash a line in its pattern, from half a dash on', () => {
    const out: number[] = [];
    addDashed(out, point3(0, 0, 0), point3(0, 20, 0), [6, 2]);
    // 0–3 drawn, 3–5 not, 5–11, 13–19, and what is left ends with the line.
    expect(out).toEqual([0, 0, 0, 0, 3, 0, 0, 5, 0, 0, 11, 0, 0, 13, 0, 0, 19, 0]);
    const whole: number[] = [];
    addDashed(whole, point3(0, 0, 0), point3(0, 5, 0), [6, 2]);
    expect(lengths(whole)).toEqual([5]);
  });

  it('mark a bend once for each 10° begun, upright or as a zigzag by its sign', () => {
    const rad = (d: number) => (d * Math.PI) / 180;
    expect([0.2, 3, 10, 11, 45, 90, 170].map((d) => marksOf(rad(d)))).toEqual([0, 1, 1, 2, 5, 9, 12]);
    const up: number[] = [];
    addBendMarks(up, point3(0, 0, 0), point3(100, 0, 0), point3(0, 1, 0), rad(30), 4);
    expect(lengths(up)).toEqual([4, 4, 4]);
    const down: number[] = [];
    addBendMarks(down, point3(0, 0, 0), point3(100, 0, 0), point3(0, 1, 0), rad(-30), 4);
    const leans = [0, 1, 2].map((i) => Math.sign(down[6 * i + 3]! - down[6 * i]!));
    expect(leans).toEqual([1, -1, 1]);
  });

  it('hatch a face in its plane', () => {
    const ring = [point3(0, 5, 0), point3(-30, 5, 0), point3(-30, 5, 20), point3(0, 5, 20)];
    const out: number[] = [];
    addHatch(out, ring, point3(0, 1, 0), 5);
    expect(out.length % 6).toBe(0);
    expect(out.length / 6).toBeGreaterThanOrEqual(4);
    for (let i = 1; i < out.length; i += 3) expect(out[i]).toBeCloseTo(5, 9);
    for (const length of lengths(out)) expect(length).toBeCloseTo(30, 6);
  });
});

describe('tints', () => {
  const css = readFileSync(new URL('../../app/ui/theme.css', import.meta.url), 'utf8');
  const [light = '', dark = ''] = css.split(':root[data-theme="dark"]');
  const reader = (part: string) => (name: string) =>
    new RegExp(`${name}: (#[0-9a-f]{6});`).exec(part)?.[1] ?? '';
  const luminance = (rgb: readonly number[]) =>
    rgb.reduce((sum, v, k) => {
      const linear = v <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4;
      return sum + linear * [0.2126, 0.7152, 0.0722][k]!;
    }, 0);
  // WCAG 2.2, definition of contrast ratio.
  const contrast = (a: readonly number[], b: readonly number[]) => {
    const [x, y] = [luminance(a), luminance(b)].sort((p, q) => q - p);
    return (x! + 0.05) / (y! + 0.05);
  };

  it.each([
    ['light', light],
    ['dark', dark],
  ])('keep lines legible in the %s theme, in full light and in shade', (_name, part) => {
    const theme = shellTheme(reader(part));
    expect(new Set(theme.tints.map(String)).size).toBe(theme.tints.length);
    for (const tint of [...theme.tints, theme.inside])
      for (const lit of [1, 0.8]) {
        const shaded = tint.map((v) => v * lit);
        expect(contrast(theme.ink, shaded)).toBeGreaterThan(4.5);
        expect(contrast(theme.accent, shaded)).toBeGreaterThan(3);
      }
  });

  it('refuse a style sheet without a colour', () => {
    expect(() => shellTheme(() => '')).toThrow(/is not a colour/);
  });
});
