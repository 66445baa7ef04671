import type { Issue } from '../base';
import type { Point } from '../math';
import type { Mm, Rad } from '../units';
import type { Placing } from './placing';

/** Panels on sheets of foam. Sheet space: mm, y up, the lower-left corner of the sheet's box at the origin. */
export interface SheetPlan {
  readonly sheets: readonly Sheet[];
  /** Panels (by id) that found no place, once for each missing copy. */
  readonly left: readonly string[];
  /** Panels (by id) that are not what they were when they were laid out. */
  readonly changed: readonly string[];
  /** What is wrong with where panels lie, from the exact check of the outlines as they are now. */
  readonly faults: readonly SheetFault[];
  /** Area of panels over area of sheets, the last sheet of each foam counted up to its used width. */
  readonly density: number;
  readonly issues: readonly Issue[];
}

/** One sheet of foam with what is cut from it. */
export interface Sheet {
  /** For people and file names: "Sheet 1". */
  readonly name: string;
  readonly thickness: Mm;
  readonly material?: string;
  readonly width: Mm;
  readonly height: Mm;
  /** Outline of an offcut, counter-clockwise, first point not repeated; absent: the whole rectangle. */
  readonly outline?: readonly Point[];
  /** Id of the sheet among those that were given, and which of them. */
  readonly stock?: string;
  readonly copy?: number;
  /** What it costs; absent: as Build buys them. An offcut costs nothing. */
  readonly price?: number;
  /** Part of the sheet's area that panels take. */
  readonly density?: number;
  /** How far along its width the sheet is used: what lies beyond is one straight cut away. */
  readonly usedWidth?: Mm;
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
  /** Where it is in the decisions; absent on a sheet that was not laid out by them. */
  readonly laid?: { readonly panel: string; readonly copy: number };
  readonly locked?: boolean;
}

/** One thing wrong; `by` is how much is missing, mm, infinite for an overlap or a panel outside its sheet. */
export interface SheetFault {
  readonly kind: 'overlap' | 'gap' | 'outside' | 'margin' | 'missing' | 'twice' | 'turn' | 'mirror' | 'sheet';
  /** Placements concerned, as {@link placementKey} writes them. */
  readonly at: readonly string[];
  readonly by: Mm;
}

/** One copy of a panel among those laid out. */
export const placementKey = ({ panel, copy }: { readonly panel: string; readonly copy: number }): string =>
  `${panel}#${copy}`;

/** Nothing has changed since the panels were laid out, all of them lie there, and nothing collides. */
export const isCuttable = (plan: SheetPlan): boolean =>
  plan.sheets.length > 0 && plan.left.length === 0 && plan.changed.length === 0 && plan.faults.length === 0;

/** How a panel's own points come onto the sheet, for `placePoints` and `placeLettering`. */
export const sheetPlacing = ({ x, y, turn, mirrored }: SheetPlacement): Placing => ({
  mirrored,
  angle: turn,
  move: { x, y },
});
