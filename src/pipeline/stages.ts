import type { Outcome, Work } from '../base';
import { type DrawingLimits, joinDrawings, readDrawing } from '../drawing';
import { fitPattern } from '../fit';
import { makePanels, type ShapePiece } from '../foam';
import { layPages, type MapContext } from '../layout';
import { type LetteringFont, markPanels } from '../marks';
import type {
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
  Pattern,
  PatternSource,
  ReadingDecisions,
  SeamDecisions,
  Seams,
} from '../model';
import { readPattern } from '../reading';
import { findSeams } from '../seams';

/** The stages as the pipeline calls them; tests put counting ones in their place. */
export interface Stages {
  readDrawing(
    source: PatternSource,
    options: { file: number; size: ReadingDecisions['size']; limits?: Partial<DrawingLimits> },
  ): Outcome<Drawing>;
  joinDrawings(drawings: readonly Drawing[]): Drawing;
  readPattern(drawing: Drawing, decisions: ReadingDecisions): Pattern;
  findSeams(pattern: Pattern, decisions: SeamDecisions): Seams;
  fitPattern(pattern: Pattern, fit: FitDecisions, foam: FoamDecisions): Fit;
  makePanels(
    pattern: Pattern,
    seams: Seams,
    scale: number,
    foam: FoamDecisions,
    marks: MarkDecisions,
    shape?: ShapePiece,
  ): FoamResult;
  markPanels(foam: FoamResult, seams: Seams, marks: MarkDecisions, font: LetteringFont): MarkedPanels;
  layPages(
    marked: MarkedPanels,
    pages: PageDecisions,
    font: LetterShapes,
    context: MapContext,
    work: Work,
  ): Promise<PagePlan>;
}

export const realStages: Stages = {
  readDrawing,
  joinDrawings,
  readPattern,
  findSeams,
  fitPattern,
  makePanels,
  markPanels,
  layPages,
};
