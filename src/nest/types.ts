/** What nesting is asked for and what it answers: plain data. Lengths in mm, angles in radians, y up. */
import type { Issue } from '../base';
import type { Point } from '../math';
import type { AllowedTurns } from '../model';
import type { Mm, Mm2, Rad } from '../units';
import type { Clock, Effort } from './clock';
import type { Region } from './forms';

export type { AllowedTurns };

/** A placement as plain data: a point p of the panel comes to lie at turn(mirror(p)) + (x, y); mirrored is x → −x. */
export interface Pose {
  readonly x: Mm;
  readonly y: Mm;
  readonly turn: Rad;
  readonly mirrored: boolean;
}

/** A copy of a panel that a person has put somewhere for good. */
export interface LockedPose extends Pose {
  readonly sheet: string;
  /** Which of the sheets of that id, from 0. */
  readonly sheetCopy: number;
}

/** Whether a panel and a sheet, or two panels, are of one foam: thickness and name. */
export const sameFoam = (
  a: Pick<NestSheet, 'thickness' | 'material'>,
  b: Pick<NestSheet, 'thickness' | 'material'>,
): boolean => a.thickness === b.thickness && (a.material ?? '') === (b.material ?? '');

export interface NestPanel extends Region {
  readonly id: string;
  /** What the maker calls it; absent: the id is said. */
  readonly name?: string;
  readonly thickness: Mm;
  /** Name of the foam; absent when nobody named it. Panels go on sheets of their own foam only. */
  readonly material?: string;
  readonly quantity: number;
  readonly turns: AllowedTurns;
  /** Whether the panel may be turned over: not when its edges are bevelled or one face of the foam is the good one. */
  readonly mayMirror: boolean;
  /** Placements of the first copies; at most `quantity`. */
  readonly locked: readonly LockedPose[];
}

/** A sheet of foam with its lower-left corner at the origin. */
export interface NestSheet {
  readonly id: string;
  readonly thickness: Mm;
  readonly material?: string;
  readonly count: number;
  readonly shape:
    | { readonly kind: 'rectangle'; readonly width: Mm; readonly height: Mm }
    /** What is left of a used sheet; counter-clockwise. Used up first. */
    | { readonly kind: 'offcut'; readonly outline: readonly Point[] };
}

export interface NestSettings {
  /** Free space between two panels; a kerf is added to it by the caller. */
  readonly gap: Mm;
  /** Free space between a panel and the rim of the sheet. */
  readonly margin: Mm;
  readonly seed: number;
  readonly effort: Effort;
  /** Wall clock in the app, processor time in measurements; not looked at when the effort is in evaluations. */
  readonly clock: Clock;
}

export interface PlacedPanel extends Pose {
  readonly panel: string;
  /** Which copy of the panel, from 0. */
  readonly copy: number;
  readonly sheet: string;
  readonly sheetCopy: number;
  readonly locked: boolean;
}

export interface UsedSheet {
  readonly sheet: string;
  readonly copy: number;
  readonly area: Mm2;
  readonly panelArea: Mm2;
  /** How far along its width the sheet is used: what lies beyond is one straight cut away. */
  readonly usedWidth: Mm;
}

export interface NestLayout {
  readonly placed: readonly PlacedPanel[];
  readonly sheets: readonly UsedSheet[];
  /** Copies for which no sheet had room, by panel id. */
  readonly left: readonly string[];
  /** Area of panels over area of the sheets used, the last sheet of each thickness counted up to its used width. */
  readonly density: number;
  readonly issues: readonly Issue[];
}
