import type { Mm } from './flavour';

/** Absolute units of CSS, as they stand in SVG files. */
export type CssUnit = 'px' | 'mm' | 'cm' | 'in' | 'pt' | 'pc' | 'q';

/**
 * Millimetres in one of each CSS unit (CSS Values and Units 4, section 5.2: 1 in = 2.54 cm = 96 px, 1 pt = 1/72 in,
 * 1 pc = 1/6 in, 1 Q = 1/40 cm). Keys are lower case; CSS units are case-insensitive.
 */
export const cssUnits: Readonly<Record<CssUnit, Mm>> = {
  px: 25.4 / 96,
  mm: 1,
  cm: 10,
  in: 25.4,
  pt: 25.4 / 72,
  pc: 25.4 / 6,
  q: 0.25,
};
