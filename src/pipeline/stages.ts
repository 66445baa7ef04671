import type { Issue, Outcome, Work } from '../base';
import { type BuildInput, planBuild } from '../build';
import { type DrawingLimits, joinDrawings, readDrawing } from '../drawing';
import { fitPattern } from '../fit';
import { type FoamSurface, type FoldedBends, makePanels, type ShapePiece } from '../foam';
import { keepHalf, layPages, type MapContext } from '../layout';
import { type LetteringFont, markPanels } from '../marks';
import type {
  BuildPlan,
  Drawing,
  Fit,
  FitDecisions,
  FoamDecisions,
  FoamResult,
  LetterShapes,
  MarkDecisions,
  MarkedPanels,
  PageDecisions,
  PagePlan,
  Panel,
  PanelDecisions,
  Pattern,
  PatternSource,
  ReadingDecisions,
  Recut,
  SeamDecisions,
  Seams,
  SheetDecisions,
  SheetPlan,
  Shell,
  ShellDecisions,
  ShellKnown,
  ShellPatch,
} from '../model';
import { planSheets, type SheetSurroundings } from '../nest';
import { recutPattern } from '../panels';
import { readPattern } from '../reading';
import { findSeams, matchSeams, verifySeams } from '../seams';
import { edgeProbe, type FoldMemory, foldPattern, turnShell } from '../shell';

/** The stages as the pipeline calls them; tests put counting ones in their place. */
export interface Stages {
  readDrawing(
    source: PatternSource,
    options: { file: number; size: ReadingDecisions['size']; limits?: Partial<DrawingLimits> },
  ): Outcome<Drawing>;
  joinDrawings(drawings: readonly Drawing[]): Drawing;
  readPattern(drawing: Drawing, decisions: ReadingDecisions): Pattern;
  /** Seams from numbers and the person's word alone. */
  findSeams(pattern: Pattern, decisions: SeamDecisions): Seams;
  /** Those, and the rest by flat geometry. */
  matchSeams(pattern: Pattern, decisions: SeamDecisions): Seams;
  /** Those, and what only folding up can tell. */
  verifySeams(pattern: Pattern, decisions: SeamDecisions, work: Work, folds?: FoldMemory): Promise<Seams>;
  foldPattern(
    pattern: Pattern,
    seams: Seams,
    known: ShellKnown,
    work: Work,
    folds?: FoldMemory,
  ): Promise<Shell>;
  turnShell(shell: Shell, turned: ShellDecisions['turned']): Shell;
  fitPattern(
    pattern: Pattern,
    fit: FitDecisions,
    foam: FoamDecisions,
    shell?: Shell | null,
    panelOf?: (face: ShellPatch) => string,
  ): Fit;
  recutPattern(
    pattern: Pattern,
    seams: Seams,
    shell: Shell | null,
    panels: Pick<PanelDecisions, 'edits'>,
  ): Recut;
  makePanels(
    pattern: Pattern,
    seams: Seams,
    scale: number,
    foam: FoamDecisions,
    marks: MarkDecisions,
    shape?: ShapePiece,
    folded?: FoldedBends | null,
    surface?: FoamSurface | null,
  ): FoamResult;
  markPanels(foam: FoamResult, seams: Seams, marks: MarkDecisions, font: LetteringFont): MarkedPanels;
  keepHalf(
    marked: MarkedPanels,
    shell: Shell | null,
  ): { readonly marked: MarkedPanels; readonly issues: readonly Issue[] };
  planSheets(
    panels: readonly Panel[],
    decisions: SheetDecisions,
    around: SheetSurroundings,
  ): SheetPlan | null;
  layPages(
    marked: MarkedPanels,
    pages: PageDecisions,
    font: LetterShapes,
    context: MapContext,
    work: Work,
  ): Promise<PagePlan>;
  planBuild(input: BuildInput): BuildPlan;
}

export const realStages: Stages = {
  readDrawing,
  joinDrawings,
  readPattern,
  findSeams,
  matchSeams,
  verifySeams: (pattern, decisions, work, folds) =>
    verifySeams(pattern, decisions, edgeProbe(pattern, folds ?? null), work),
  foldPattern,
  turnShell,
  fitPattern,
  recutPattern,
  makePanels,
  markPanels,
  keepHalf,
  planSheets,
  layPages,
  planBuild,
};
