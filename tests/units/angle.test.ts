import { describe, expect, it } from 'vitest';
import { degrees, formatAngle, parseAngle, radians } from '../../src/units';

const read = (text: string) => {
  const parsed = parseAngle(text);
  return parsed.ok ? parsed.value : parsed.reason;
};

describe('angles', () => {
  it.each([
    ['45', Math.PI / 4],
    ['45°', Math.PI / 4],
    ['-12,5 deg', -radians(12.5)],
    ['−30', -Math.PI / 6],
    ['+30', Math.PI / 6],
    ['0.5 rad', 0.5],
  ])('reads %s', (text, rad) => {
    expect(read(text)).toBeCloseTo(rad, 12);
  });

  it('refuses what is no angle', () => {
    expect(read('steep')).toContain('not an angle');
    expect(read('')).toContain('Nothing');
    expect(read('45 mm')).toContain('not an angle');
  });

  it('writes degrees to 0.1', () => {
    expect(formatAngle(Math.PI / 2)).toBe('90°');
    expect(formatAngle(-radians(12.54))).toBe('−12.5°');
    expect(formatAngle(-1e-9)).toBe('0°');
  });

  it('converts both ways', () => {
    expect(degrees(radians(72.5))).toBeCloseTo(72.5, 12);
  });
});
