import { expect, it } from 'vitest';
import { formatUsSize } from '../../src/units';

// Public hat-size conversion pages (several agree): US size = head girth in inches / π to the nearest eighth.
// Worked there: 22 in is size 7, 23.25 in is size 7 3/8.
it.each([
  [22, '7'],
  [23.25, '7 3/8'],
])('%s in', (inches, size) => {
  expect(formatUsSize(inches * 25.4)).toBe(size);
});

// Whole cm worked out by hand from the same rule; the printed rows of such tables were not compared one by one.
it.each([
  [54, '6 3/4'],
  [55, '6 7/8'],
  [56, '7'],
  [57, '7 1/8'],
  [58, '7 1/4'],
  [59, '7 3/8'],
  [60, '7 1/2'],
  [61, '7 5/8'],
  [62, '7 3/4'],
])('%s cm', (cm, size) => {
  expect(formatUsSize(cm * 10)).toBe(size);
});
