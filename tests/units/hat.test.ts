import { describe, expect, it } from 'vitest';
import { formatHatSize, headOfUsSize, parseHatSize, parseHead, usSizeOfHead } from '../../src/units';

describe('hat sizes', () => {
  it.each(['7 3/8', '7⅜', '7-3/8', '7.375', '7,375'])('reads the US size %s', (text) => {
    const parsed = parseHatSize(text, 'us');
    // "7,375" is 7.375 or 7375: the reader must not guess.
    if (text === '7,375') expect(parsed.ok).toBe(false);
    else expect(parsed.ok && usSizeOfHead(parsed.value)).toBe(7.375);
  });

  it('takes EU sizes in cm, whatever the shown unit is', () => {
    const parsed = parseHead('58', 'eu', 'in');
    expect(parsed.ok && parsed.value).toBe(580);
  });

  it('takes the tape in the unit of the field', () => {
    const parsed = parseHead('23', 'tape', 'in');
    expect(parsed.ok && parsed.value).toBeCloseTo(584.2, 9);
  });

  it('comes back from every eighth to itself', () => {
    for (let size = 5; size <= 9; size += 1 / 8) expect(usSizeOfHead(headOfUsSize(size))).toBe(size);
    expect(formatHatSize(headOfUsSize(7.25), 'us')).toBe('7 1/4');
    expect(formatHatSize(583, 'eu')).toBe('58.5');
  });

  it('refuses zero and words', () => {
    expect(parseHatSize('0', 'us').ok).toBe(false);
    expect(parseHatSize('large', 'us').ok).toBe(false);
  });
});
