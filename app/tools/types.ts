/**
 * The language between the bench and its pointer tools. A tool is a pure function of (state, event, facts): events
 * come in with both their screen position (CSS pixels) and their scene position (mm, y up); what should happen goes
 * out as effects. Nothing here knows the DOM, the canvas library or the store.
 */
import type { Point } from '../../src/math';
import type { FitDecisions } from '../../src/model';
import type { DrawnDraft, OffcutDraft, ToolName } from '../document/session';

/** CSS pixels from the bench's top-left corner, y down. */
export interface ScreenPoint {
  readonly x: number;
  readonly y: number;
}

export type PointerKind = 'mouse' | 'touch' | 'pen';

/** Kinds of thing that can lie under the pointer. */
/** `face`: only where single faces are being picked. */
export type HitKind = 'edge' | 'fold' | 'line' | 'tab' | 'piece' | 'face';

export interface Hit {
  readonly kind: HitKind;
  readonly id: string;
  /** The piece that it belongs to; null for a line that is part of none. */
  readonly piece: string | null;
}

export type Girth = FitDecisions['girth'];

/** One laid tape, from end to end, drawing space. */
export type TapePart = readonly [Point, Point];

/** What a tool may ask about the bench at the moment of an event. */
export interface BenchFacts {
  readonly selection: readonly string[];
  readonly hovered: string | null;
  /** First edge of the pair that is being made. */
  readonly pairFrom: string | null;
  readonly girth: Girth;
  /** The line that is being drawn. */
  readonly drawing: DrawnDraft;
  /** The offcut that is being drawn. */
  readonly offcut: OffcutDraft | null;
  /** The outline that is being drawn on panels, where its corners stand on the bench; a shape to be placed has none. */
  readonly outline: {
    readonly points: readonly Point[];
    readonly curved: boolean;
    readonly places: boolean;
    readonly pen: Point;
  } | null;
  /** The scene shows the drawing at its own size, so that a girth can be measured on it. */
  readonly measurable: boolean;
  /** Pieces can be dragged about in this step. */
  readonly movable: boolean;
  /** A click adds to the selection or takes away, without Shift. */
  readonly several: boolean;
  /** What can be selected in this step, the kind that its decisions are about first. */
  readonly selectable: readonly HitKind[];
  /** The thing under a scene position, of the wanted kinds (the first wins a tie); touch reaches further. */
  hitAt(at: Point, kinds: readonly HitKind[], pointer: PointerKind): Hit | null;
  /** Ids of the things of a kind that lie wholly inside the rectangle between two corners. */
  within(from: Point, to: Point, kind: HitKind): readonly string[];
  /** The nearest corner within reach of the pointer, else the position itself. */
  snap(at: Point, pointer: PointerKind): Point;
  /** The nearest point that round measures lead to, finer the nearer one looks; touch is coarser. */
  onGrid(at: Point, pointer: PointerKind): Point;
  /** Both are the same to the pointer. */
  isNear(a: Point, b: Point, pointer: PointerKind): boolean;
  /** The nearest place on the outline of a panel (of this one only, if named) within reach, corners first. */
  rimAt(
    at: Point,
    pointer: PointerKind,
    only: string | null,
  ): { readonly panel: string; readonly at: Point } | null;
  /** E.g. "panel B". */
  panelName(panel: string): string;
  /** The edge (or line) after or before another in reading order; null when there are none. */
  walk(from: string | null, to: WalkStep, kind: HitKind): string | null;
  /** Start and end of an edge; null when the id is not an edge of the scene. */
  endsOf(edge: string): TapePart | null;
  /** One phrase for people, e.g. "Edge 3 of piece B, 24.1 mm, seam 12". */
  describe(id: string): string;
  /** A length in the person's unit. */
  length(mm: number): string;
  /** Length of edges together, mm. */
  lengthOf(edges: readonly string[]): number;
}

export type WalkStep = 'next' | 'previous' | 'first' | 'last';

export type BenchEvent =
  | {
      readonly type: 'down';
      readonly screen: ScreenPoint;
      readonly at: Point;
      readonly pointer: PointerKind;
      /** `pan`: middle button, or the space bar is held. */
      readonly button: 'primary' | 'pan';
      readonly shift: boolean;
    }
  | {
      readonly type: 'move' | 'up';
      readonly screen: ScreenPoint;
      readonly at: Point;
      readonly pointer: PointerKind;
      readonly shift: boolean;
    }
  | {
      readonly type: 'doubleClick';
      readonly at: Point;
      readonly pointer: PointerKind;
      readonly shift: boolean;
    }
  /** The gesture was taken away: a second finger came down, or the pointer was lost. */
  | { readonly type: 'cancel' }
  /** The pointer left the bench. */
  | { readonly type: 'leave' }
  | { readonly type: 'walk'; readonly to: WalkStep }
  /** An arrow key moves the pen of the tool in hand, mm. */
  | { readonly type: 'steer'; readonly by: Point }
  | { readonly type: 'pick' | 'finish' | 'removeLast' | 'escape'; readonly shift: boolean }
  /** The person chose a tool, or the step changed it. */
  | { readonly type: 'tool'; readonly tool: ToolName };

export type ToolEffect =
  | { readonly kind: 'panBy'; readonly dx: number; readonly dy: number }
  | { readonly kind: 'hover'; readonly id: string | null }
  | {
      readonly kind: 'select';
      readonly ids: readonly string[];
      readonly mode: 'replace' | 'add' | 'toggle';
    }
  | { readonly kind: 'pairFrom'; readonly edge: string | null }
  | { readonly kind: 'pair'; readonly a: string; readonly b: string }
  | {
      readonly kind: 'girth';
      readonly label: string;
      readonly girth: Girth;
      /** Changes with one key are one entry of the history until `endMerge`. */
      readonly merge: string | null;
    }
  /** Move a piece, and whatever is selected with it, by so much, mm. */
  | { readonly kind: 'carry'; readonly id: string; readonly by: Point }
  | { readonly kind: 'endMerge' }
  | { readonly kind: 'draw'; readonly panel: string | null; readonly points: readonly Point[] }
  /** The panel is cut along the line that was drawn. */
  | { readonly kind: 'cutDrawn' }
  | { readonly kind: 'offcut'; readonly points: readonly Point[]; readonly pen: Point }
  /** A corner of an outline, or the place of a shape. */
  | { readonly kind: 'outlineAt'; readonly at: Point }
  | { readonly kind: 'outlinePen'; readonly pen: Point }
  | { readonly kind: 'outlineBack' }
  /** The outline is closed and becomes a part. */
  | { readonly kind: 'keepOutline' }
  /** The offcut is closed and becomes a sheet. */
  | { readonly kind: 'keepOffcut' }
  | { readonly kind: 'tool'; readonly tool: ToolName }
  /** The keyboard cursor stands on this thing; the bench brings it into view. */
  | { readonly kind: 'cursor'; readonly id: string | null }
  | { readonly kind: 'announce'; readonly text: string };

/** What the pointer is in the middle of. */
export type Gesture =
  | { readonly name: 'idle' }
  | {
      readonly name: 'pressed';
      readonly screen: ScreenPoint;
      readonly at: Point;
      readonly pointer: PointerKind;
      readonly shift: boolean;
    }
  | { readonly name: 'panning'; readonly screen: ScreenPoint }
  | { readonly name: 'banding'; readonly from: Point; readonly to: Point; readonly add: boolean }
  | { readonly name: 'carrying'; readonly id: string; readonly from: Point; readonly to: Point }
  | { readonly name: 'taping'; readonly from: Point; readonly to: Point; readonly pointer: PointerKind };

export interface ToolState {
  readonly tool: ToolName;
  readonly gesture: Gesture;
  /** The girth as it was before the chain that is being built; null when none is being built. */
  readonly before: Girth | null;
  /** The keyboard's place among the edges (or lines). */
  readonly cursor: string | null;
  /** Where the pointer is, for the thread that follows it; null when it is away. */
  readonly pointerAt: Point | null;
}

export interface ToolTurn {
  readonly state: ToolState;
  readonly effects: readonly ToolEffect[];
}
