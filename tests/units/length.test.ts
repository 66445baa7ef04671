import { describe, expect, it } from 'vitest';
import { formatLength, type LengthUnit, parseLength } from '../../src/units';

const read = (text: string, unit: LengthUnit = 'mm') => {
  const parsed = parseLength(text, unit);
  return parsed.ok ? parsed.value : parsed.reason;
};

describe('parseLength', () => {
  it.each([
    ['58cm', 580],
    ['58 cm', 580],
    ['58,5 cm', 585],
    ['.5 cm', 5],
    ['5', 5],
    ['0,125 in', 3.175],
    ['22 7/8 in', 22.875 * 25.4],
    ['22-7/8"', 22.875 * 25.4],
    ['22⅞ in', 22.875 * 25.4],
    ['7/8 in', 0.875 * 25.4],
    ['1\'2"', 14 * 25.4],
    ["1'2", 14 * 25.4],
    ['1′ 2 1/2″', 14.5 * 25.4],
    ['1 ft 2 in', 14 * 25.4],
    ['1 m 20 cm', 1200],
    ['72pt', 25.4],
    ['6 Inches', 152.4],
    ['0', 0],
  ])('reads %s', (text, mm) => {
    expect(read(text)).toBeCloseTo(mm, 9);
  });

  it('takes a number without unit in the unit of the field', () => {
    expect(read('22.5', 'in')).toBeCloseTo(571.5, 9);
    expect(read('58', 'cm')).toBe(580);
  });

  it.each([
    ['', 'Nothing'],
    ['-5 mm', 'negative'],
    ['100px', 'real length'],
    ['97%', 'real length'],
    ['1,250 mm', 'two ways'],
    ['1.250,5 mm', 'separators'],
    ['5 furlong', 'furlong'],
    ['wide', 'not a length'],
    ['5 mm 3 cm', 'not a length'],
    ['5 cm 3', 'no unit'],
    ['1/0 in', 'zero'],
    ['1e3 mm', 'unit of length'],
    ['5000 m', 'kilometre'],
  ])('refuses "%s" with a reason', (text, part) => {
    expect(read(text)).toContain(part);
  });
});

describe('formatLength', () => {
  it('rounds mm to 0.1 and inches to 0.01, without trailing zeros', () => {
    expect(formatLength(580, 'mm')).toBe('580 mm');
    expect(formatLength(580.26, 'mm')).toBe('580.3 mm');
    expect(formatLength(580, 'in')).toBe('22.83 in');
    expect(formatLength(-0.01, 'mm')).toBe('0 mm');
    expect(formatLength(-1.25, 'mm', { decimals: 2 })).toBe('−1.25 mm');
    expect(formatLength(25.4, 'in', { bare: true })).toBe('1');
  });

  it('writes fractions in lowest terms', () => {
    expect(formatLength(22.875 * 25.4, 'in', { fractionsOf: 16 })).toBe('22 7/8 in');
    expect(formatLength(0.5 * 25.4, 'in', { fractionsOf: 8 })).toBe('1/2 in');
    expect(formatLength(0.99 * 25.4, 'in', { fractionsOf: 8 })).toBe('1 in');
    expect(formatLength(0, 'in', { fractionsOf: 8 })).toBe('0 in');
  });

  it('is read back within its rounding', () => {
    for (const mm of [0, 0.4, 12.34, 571.5, 1234.5]) {
      expect(Math.abs(Number(read(formatLength(mm, 'mm'))) - mm)).toBeLessThanOrEqual(0.05 + 1e-12);
      expect(Math.abs(Number(read(formatLength(mm, 'in'))) - mm)).toBeLessThanOrEqual(0.127 + 1e-12);
    }
  });
});
