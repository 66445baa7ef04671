import type { Issue } from '../../src/base';
import type { Point } from '../../src/math';
import type { FacePoint } from '../../src/model';
import {
  type DrawnWay,
  type DryFit,
  type FoamResult,
  noResults,
  type PanelEdit,
  type PanelProposal,
  type ProjectDocument,
  type Results,
  type SheetPlan,
} from '../../src/model';
import type { Mm } from '../../src/units';

export { noResults, type Results };

/** The steps of the work, in order. */
export type StepName = 'pattern' | 'seams' | 'size' | 'panels' | 'foam' | 'sheets' | 'pages' | 'build';
export const stepNames: readonly StepName[] = [
  'pattern',
  'seams',
  'size',
  'panels',
  'foam',
  'sheets',
  'pages',
  'build',
];

/** Pointer tools of the bench. */
export type ToolName = 'hand' | 'select' | 'pair' | 'chain' | 'tape' | 'draw' | 'offcut' | 'outline';

/** A line that is being drawn on a panel, before anything is cut. */
export interface DrawnDraft {
  readonly way: DrawnWay;
  readonly curved: boolean;
  /** Of a dart: width of its mouth in finished foam; null: as wide as the panel opens by itself. */
  readonly width: Mm | null;
  /** Null until the first point lies. */
  readonly panel: string | null;
  /** Where the panel stands on the bench, mm. */
  readonly points: readonly Point[];
  /** It lacks nothing: an `across` line is back on the outline, a slit has an end. */
  readonly done: boolean;
}

export const noDrawing: DrawnDraft = {
  way: 'across',
  curved: false,
  width: null,
  panel: null,
  points: [],
  done: false,
};

/** An offcut of foam that is being drawn, before it is among the sheets. */
export interface OffcutDraft {
  readonly thickness: number;
  /** Name of the foam; empty: foam without a name. */
  readonly material: string;
  /** Id of the listed offcut whose outline is drawn anew; null: another offcut. */
  readonly changes: string | null;
  /** Corners on the bench, mm, y up, true size; the rulers' zero is (0, 0). */
  readonly points: readonly Point[];
  /** Where the next corner is laid by keys. */
  readonly pen: Point;
}

/** A closed line that is being drawn on the shell, or a shape that waits for its place. */
export interface OutlineDraft {
  /** What it becomes. */
  readonly as: 'layer' | 'stencil';
  /** Id of the part whose shape the next click places; null: corners are drawn. */
  readonly places: string | null;
  readonly curved: boolean;
  readonly within: 'shell' | 'panel';
  readonly points: readonly FacePoint[];
  /** Where the next corner is laid by keys, on the bench. */
  readonly pen: Point;
}

/** How far a search for places on sheets has come. */
export interface Nesting {
  readonly fraction: number;
  /** The best layout so far; null before the first, and when the search has ended. */
  readonly plan: SheetPlan | null;
  readonly issues: readonly Issue[];
  /** Null: it runs. `changed`: what it was about has changed, and it was dropped. */
  readonly ended: 'changed' | null;
}

/** Everything on screen that is not part of the saved document, and the document itself. */
export interface Session {
  /** Null: the start screen. */
  readonly document: ProjectDocument | null;
  readonly documentId: string | null;
  readonly step: StepName;
  readonly tool: ToolName;
  /** Ids of edges, folds, seams, pieces, tabs or lines. */
  readonly selection: readonly string[];
  readonly hovered: string | null;
  /** In the Panels step: a click takes single faces instead of panels and lines. */
  readonly pickingFaces: boolean;
  /** A click adds to the selection or takes away, as with Shift: for fingers, which have no Shift. */
  readonly several: boolean;
  /** How often something was begun that goes on on the bench: a phone puts its choices away each time. */
  readonly toBench: number;
  /** Two edges that may be mates, shown joined while the person looks at the choice. */
  readonly likely: { readonly from: string; readonly to: string } | null;
  /** First edge picked by the pair tool. */
  readonly pairFrom: string | null;
  readonly drawing: DrawnDraft;
  /** Null: no offcut is being drawn. */
  readonly offcut: OffcutDraft | null;
  readonly outline: OutlineDraft | null;
  /**
   * What the stages computed last, each part as soon as it is there. While `stale`, a later part may still belong to
   * the earlier parts of a moment ago: look ids up, do not assume that they exist.
   */
  readonly results: Results;
  /** True while newer results are on their way; the last good ones stay visible. */
  readonly stale: boolean;
  readonly progress: { readonly fraction: number; readonly what: string } | null;
  /** A message that needs an answer or an acknowledgement, e.g. a file that can't be read. */
  readonly notice: { readonly title: string; readonly issues: readonly Issue[] } | null;
  /** The bench zooms here when the number changes. */
  readonly focus: {
    readonly points: readonly Point[];
    readonly ids: readonly string[];
    readonly serial: number;
  } | null;
  /** The shell turns to this place of the panels' shell and comes near; null: it has done so. */
  readonly shellFocus: { readonly vertices: readonly [number, number]; readonly part: number } | null;
  /** What the program would cut or join on top of the edits `on`; stale when the document has other ones. */
  readonly proposal: { readonly made: PanelProposal; readonly on: readonly PanelEdit[] } | null;
  /** What came of putting the panels `of` together; stale when there are other panels. */
  readonly dryFit: { readonly made: DryFit; readonly of: FoamResult | null } | null;
  /** A search for places on sheets, while it runs and until its end is taken note of. */
  readonly nesting: Nesting | null;
  readonly canUndo: string | null;
  readonly canRedo: string | null;
  /** What was undone or redone last; the number tells two alike apart. */
  readonly stepped: { readonly words: string; readonly turn: number } | null;
  readonly saved: 'saved' | 'saving' | 'unsaved' | 'failed';
  readonly theme: 'light' | 'dark' | 'system';
  /** Single letters, digits and signs run commands. Off for who speaks to the machine or hits keys by chance. */
  readonly singleKeys: boolean;
}
