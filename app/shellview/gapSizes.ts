/** How far a seam has to gape or press to be drawn, and how. */
import type { Mm } from '../../src/units';

export type GapSize = 'wide' | 'some' | 'little';

/** From large to small. Below the last width nothing is drawn: it says little about real foam. */
export const gapSizes: readonly {
  readonly name: GapSize;
  readonly from: Mm;
  readonly words: string;
  /** CSS pixels. */
  readonly width: number;
  readonly dash: readonly Mm[];
}[] = [
  { name: 'wide', from: 1, words: 'thick and whole', width: 6, dash: [] },
  { name: 'some', from: 0.5, words: 'dashed', width: 4.5, dash: [6, 4] },
  { name: 'little', from: 0.2, words: 'dotted', width: 3.4, dash: [1.6, 3.2] },
];
