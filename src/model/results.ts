import type { Issue } from '../base';
import type { BuildPlan } from './buildPlan';
import type { Drawing } from './drawing';
import type { MarkedPanels } from './marked';
import type { PagePlan } from './pages';
import type { Recut } from './panelEdits';
import type { Fit, FoamResult } from './panels';
import type { Pattern } from './pattern';
import type { Seams } from './seams';
import type { SheetPlan } from './sheets';
import type { Shell } from './shell';

/** What the stages computed, in order of the work. Null: not computed, or not possible (the issues say why). */
export interface Results {
  readonly drawing: Drawing | null;
  readonly pattern: Pattern | null;
  readonly seams: Seams | null;
  /** Null also when folding up is switched off or nothing is seamed. */
  readonly shell: Shell | null;
  readonly fit: Fit | null;
  /** The pattern as it is cut: foam and all that follows works on its pattern, seams and shell. */
  readonly recut: Recut | null;
  readonly foam: FoamResult | null;
  readonly marked: MarkedPanels | null;
  /** Panels on sheets as they were laid out; null when nothing was. */
  readonly sheets: SheetPlan | null;
  readonly pages: PagePlan | null;
  /** The gluing order and what the build takes. */
  readonly build: BuildPlan | null;
  /** Issues of all stages in order of the work. */
  readonly issues: readonly Issue[];
}

export const noResults: Results = {
  drawing: null,
  pattern: null,
  seams: null,
  shell: null,
  fit: null,
  recut: null,
  foam: null,
  marked: null,
  sheets: null,
  pages: null,
  build: null,
  issues: [],
};
