import type { Mm } from './flavour';

/** Paper that printers take. */
export type StandardPaper = 'A4' | 'A3' | 'Letter' | 'Legal' | 'Tabloid';

/** Portrait sizes, mm. A sizes after ISO 216; Letter 8.5 × 11 in, Legal 8.5 × 14 in, Tabloid 11 × 17 in. */
export const paperSizes: Readonly<Record<StandardPaper, { readonly width: Mm; readonly height: Mm }>> = {
  A4: { width: 210, height: 297 },
  A3: { width: 297, height: 420 },
  Letter: { width: 215.9, height: 279.4 },
  Legal: { width: 215.9, height: 355.6 },
  Tabloid: { width: 279.4, height: 431.8 },
};
