import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  angleText,
  lengthStep,
  lengthText,
  nextStep,
  numberText,
  readAngle,
  readLength,
  readNumber,
} from '../../app/ui/fields/entry';
import { radians } from '../../src/units';

const readAs = (read: { ok: boolean; value?: number }) => (read.ok ? read.value : null);

describe('length fields', () => {
  it('read any unit and fall back to the one shown', () => {
    expect(readAs(readLength('58cm', 'mm'))).toBeCloseTo(580, 9);
    expect(readAs(readLength('22 7/8', 'in'))).toBeCloseTo(22.875 * 25.4, 9);
    expect(readAs(readLength('5', 'mm'))).toBe(5);
  });

  it('say the range in the unit shown when a length is out of it', () => {
    const low = readLength('0.5', 'mm', { min: 1, max: 30 });
    expect(low).toEqual({ ok: false, reason: 'Too small: it goes from 1 mm to 30 mm.' });
    const high = readLength('2', 'in', { min: 0, max: 25.4 });
    expect(high).toEqual({ ok: false, reason: 'Too large: it goes from 0 in to 1 in.' });
    expect(readLength('1', 'mm', { min: 1 }).ok).toBe(true);
    expect(readLength('0.9', 'mm', { min: 1 })).toEqual({
      ok: false,
      reason: 'Too small: 1 mm is the least here.',
    });
  });

  it('show nothing for a length that is not given', () => {
    expect(lengthText(null, 'mm')).toBe('');
    expect(lengthText(4.5, 'mm')).toBe('4.5');
    expect(lengthText(25.4, 'in')).toBe('1');
  });
});

describe('angle fields', () => {
  it('show and read degrees with their sign', () => {
    expect(angleText(radians(-12.5))).toBe('−12.5');
    expect(angleText(null)).toBe('');
    expect(readAs(readAngle('−12.5'))).toBeCloseTo(radians(-12.5), 12);
    expect(readAngle('200', { min: -Math.PI, max: Math.PI })).toEqual({
      ok: false,
      reason: 'Too large: it goes from −180 to 180.',
    });
  });

  it('read what they show, to a tenth of a degree', () => {
    fc.assert(
      fc.property(fc.integer({ min: -1800, max: 1800 }), (tenths) => {
        const angle = radians(tenths / 10);
        expect(readAs(readAngle(angleText(angle)))).toBeCloseTo(angle, 9);
      }),
    );
  });
});

describe('number fields', () => {
  it('read percent with and without the sign', () => {
    expect(readAs(readNumber('97.5 %', 'percent'))).toBeCloseTo(0.975, 12);
    expect(readAs(readNumber('97,5', 'percent'))).toBeCloseTo(0.975, 12);
    expect(numberText(0.975, 'percent')).toBe('97.5');
  });

  it('take only whole counts', () => {
    expect(readAs(readNumber('3', 'count'))).toBe(3);
    expect(readNumber('2.5', 'count')).toEqual({ ok: false, reason: '"2.5" is not a whole number.' });
    expect(readNumber('', 'count').ok).toBe(false);
  });
});

describe('stepping with the arrow keys', () => {
  it('goes to the next multiple of the step', () => {
    expect(nextStep(5.3, 1, 1, false)).toBe(6);
    expect(nextStep(5.3, -1, 1, false)).toBe(5);
    expect(nextStep(5, 1, 1, false)).toBe(6);
    expect(nextStep(7, 1, 1, true)).toBe(10);
  });

  it('stays in range', () => {
    expect(nextStep(0, -1, 1, false, { min: 0 })).toBe(0);
    expect(nextStep(29.5, 1, 1, false, { max: 30 })).toBe(30);
  });

  it('gathers no rounding dust: up and down again is where it started, on any multiple', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: -2000, max: 2000 }),
        fc.constantFrom(
          lengthStep('mm', true),
          lengthStep('mm', false),
          lengthStep('in', true),
          lengthStep('in', false),
          0.05,
          radians(1),
        ),
        (count, step) => {
          const value = Number((count * step).toPrecision(12));
          expect(nextStep(nextStep(value, 1, step, false), -1, step, false)).toBe(value);
        },
      ),
    );
  });

  it('always moves, in the direction of the key', () => {
    fc.assert(
      fc.property(fc.double({ min: -500, max: 500, noNaN: true }), fc.boolean(), (value, large) => {
        expect(nextStep(value, 1, 0.5, large)).toBeGreaterThan(value);
        expect(nextStep(value, -1, 0.5, large)).toBeLessThan(value);
      }),
    );
  });
});
