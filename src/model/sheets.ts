import type { Issue } from '../base';
import type { Point } from '../math';
import type { Mm, Rad } from '../units';
import type { Placing } from './placing';

/** Panels on sheets of foam. Sheet space: mm, y up, the lower-left corner of the sheet's box at the origin. */
export interface SheetPlan {
  readonly sheets: readonly Sheet[];
  /** Panels (by id) that found no place, once for each missing copy. */
  readonly left: readonly string[];
  readonly issues: readonly Issue[];
}

/** One sheet of foam with what is cut from it. */
export interface Sheet {
  /** For people and file names: "Sheet 1". */
  readonly name: string;
  readonly thickness: Mm;
  readonly width: Mm;
  readonly height: Mm;
  /** Outline of an offcut, counter-clockwise, first point not repeated; absent: the whole rectangle. */
  readonly outline?: readonly Point[];
  readonly placements: readonly SheetPlacement[];
}

/** A panel on a sheet: mirrored about the y axis first if asked, turned counter-clockwise, then moved by (x, y). */
export interface SheetPlacement {
  readonly panel: string;
  /** From 0; a panel of quantity n, mirrored or not, has its copies told apart by it. */
  readonly copy: number;
  readonly x: Mm;
  readonly y: Mm;
  readonly turn: Rad;
  readonly mirrored: boolean;
}

/** How a panel's own points come onto the sheet, for `placePoints` and `placeLettering`. */
export const sheetPlacing = ({ x, y, turn, mirrored }: SheetPlacement): Placing => ({
  mirrored,
  angle: turn,
  move: { x, y },
});
