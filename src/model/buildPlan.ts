import type { Issue } from '../base';
import type { Mm, Rad } from '../units';
import type { SeamPreparation } from './settings';

/** The build from cut panels to the finished shell, and what it takes. */
export interface BuildPlan {
  readonly steps: readonly BuildStep[];
  readonly cutList: readonly CutListGroup[];
  readonly needs: BuildNeeds;
  readonly issues: readonly Issue[];
}

/**
 * One step of gluing. `shape`: a panel's own seams, such as a dart. `begin`: a panel that nothing is glued to. `attach`:
 * panels onto what is there. `join`: two sub-assemblies. `close`: seams between parts that hang together already. `add`: an
 * extra part, once the shell is there. `paint`: all parts of a stencil, which is not glued but painted with.
 */
export interface BuildStep {
  /** Made of the panels or seams concerned, so that ticks and moves survive. */
  readonly id: string;
  readonly kind: 'shape' | 'begin' | 'attach' | 'join' | 'close' | 'add' | 'paint';
  /** Panels that are taken up for the first time. */
  readonly adds: readonly string[];
  /** All panels that hang together with this step's work after it, and the extra parts that are there. */
  readonly present: readonly string[];
  /** What is glued, in order. */
  readonly runs: readonly BuildRun[];
  /** The step that does the same on the other side of a mirror-symmetric shell. */
  readonly twin: string | null;
  readonly done: boolean;
  /** Girth of the widest opening that is left after it; 0: none. */
  readonly opening: Mm;
  /** No hand gets behind its seams any more once they are closed. */
  readonly blind: boolean;
}

/** A stretch of seam between two panels that is glued in one go. */
export interface BuildRun {
  /** The number that is printed. */
  readonly number: number;
  readonly panels: readonly [string, string];
  readonly seams: readonly string[];
  readonly lengthA: Mm;
  readonly lengthB: Mm;
  /** Largest difference of a seam's sides after the stretch of ending folds is taken off. */
  readonly mismatch: Mm;
  readonly preparations: readonly SeamPreparation[];
  /** Smallest and largest bevel. */
  readonly bevel: readonly [Rad, Rad];
  /** Widest wedge that stays open. */
  readonly openWedge: Mm;
  /** Notches on each side. */
  readonly notches: number;
}

/** Panels of one thickness. */
export interface CutListGroup {
  readonly thickness: Mm;
  /** Stencils, of card or film instead of foam; their thickness is of no matter. */
  readonly card?: true;
  readonly rows: readonly CutListRow[];
}

export interface CutListRow {
  readonly panel: string;
  readonly name: string;
  /** As drawn, and mirrored. */
  readonly quantity: number;
  readonly mirrored: number;
  /** Of one copy, holes taken off; mm². */
  readonly area: number;
  /** Length of all cuts of one copy. */
  readonly edge: Mm;
}

/** What the build takes: materials with cost, work with minutes; each line with its arithmetic. */
export interface BuildNeeds {
  readonly materials: readonly NeedRow[];
  readonly work: readonly NeedRow[];
  /** In the person's currency. */
  readonly cost: number;
  readonly minutes: number;
  readonly days: number;
}

export interface NeedRow {
  readonly label: string;
  /** The arithmetic, e.g. "0.42 m² × 3 coats ÷ 8 m² a litre". */
  readonly formula: string;
  readonly amount: number;
  readonly unit: 'sheets' | 'litres' | 'm²' | 'm' | 'minutes';
  /** Cost, or minutes for work. */
  readonly total: number;
}
