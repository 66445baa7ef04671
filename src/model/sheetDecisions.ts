/** What a person decides about panels on sheets of foam, and where the panels lie. Lengths in mm, angles in radians. */
import type { Point } from '../math';
import type { Mm, Rad } from '../units';

/** `free`: sixteen equal steps; `quarter`: by 90°; `half`: by 180°, for foam with a grain; `fixed`: as drawn. */
export type AllowedTurns = 'free' | 'quarter' | 'half' | 'fixed';

export interface SheetDecisions {
  /**
   * Sheets of foam that are there or are bought. A foam of which no whole sheet is among them comes in sheets as Build
   * buys them; offcuts are used first.
   */
  readonly stock: readonly StockSheet[];
  /** Free space between two panels after the cut. */
  readonly gap: Mm;
  /** Free space between a panel and the rim of its sheet. */
  readonly margin: Mm;
  readonly turns: AllowedTurns;
  /** Turns of single panels, by panel id. */
  readonly turnsOf: Readonly<Record<string, AllowedTurns>>;
  /** Both faces of the foam are equally good: panels without bevels may be turned over. */
  readonly facesAlike: boolean;
  /** The same for single panels, by panel id. */
  readonly turnOverOf: Readonly<Record<string, boolean>>;
  /** How long a search goes on by itself. */
  readonly seconds: number;
  /** It ends at once when the sheets are filled to this part; 1: never. */
  readonly enough: number;
  readonly seed: number;
  /** Null: nothing has been laid out. */
  readonly laid: LaidSheets | null;
}

export interface StockSheet {
  readonly id: string;
  readonly thickness: Mm;
  /** Name of the foam; empty: foam without a name. */
  readonly material: string;
  readonly count: number;
  /** What one costs; null: as in Build. Offcuts are there already and cost nothing. */
  readonly price: number | null;
  readonly shape:
    | { readonly kind: 'rectangle'; readonly width: Mm; readonly height: Mm }
    /** What is left of a used sheet, counter-clockwise, its box at the origin. */
    | { readonly kind: 'offcut'; readonly outline: readonly Point[] };
}

/** Where panels were laid. */
export interface LaidSheets {
  readonly placed: readonly LaidPanel[];
  /** What each panel was like then: a fingerprint of its outline, foam and number, by the id in `placed`. */
  readonly panels: Readonly<Record<string, string>>;
}

/**
 * A copy of a panel on a sheet: mirrored first if it is turned over, turned counter-clockwise, and put with the middle
 * of its unturned box at (x, y). By the middle, so that a panel that changed a little stays about where it was.
 */
export interface LaidPanel {
  /** A panel's id, or that of its mirrored twin. */
  readonly panel: string;
  readonly copy: number;
  /** Id of a sheet in `stock`, or of the sheets that Build buys. */
  readonly sheet: string;
  /** Which of the sheets of that id, from 0. */
  readonly sheetCopy: number;
  readonly x: Mm;
  readonly y: Mm;
  readonly turn: Rad;
  readonly mirrored: boolean;
  /** It stays there when panels are laid out again. */
  readonly locked: boolean;
}

export const defaultSheets: SheetDecisions = {
  stock: [],
  // Common practice, no source: room for a blade, and rims that are seldom clean.
  gap: 3,
  margin: 5,
  turns: 'free',
  turnsOf: {},
  facesAlike: false,
  turnOverOf: {},
  seconds: 20,
  enough: 1,
  seed: 1,
  laid: null,
};
