/**
 * What the bench shows in one step, as plain data: nothing here knows the canvas. Positions are scene positions (mm, y
 * up) in the space that the scene names:
 * - `drawing`: the pattern as read,
 * - `panels`: the drawing scaled to the wearer; foam panels lie over their paper pieces,
 * - `layout`: panels placed on pages,
 * - `sheets`: sheets of foam side by side,
 * - `offcut`: an empty bench on which an offcut is drawn.
 */
import type { Box, Point } from '../../../src/math';
import type { Mm } from '../../../src/units';
import type { HitKind } from '../../tools';
import type { BenchLookName } from './looks';

export type Space = 'drawing' | 'panels' | 'layout' | 'sheets' | 'offcut';

export interface Polyline {
  readonly points: readonly Point[];
  readonly closed: boolean;
}

/** Lines that are drawn alike; drawn in the order of the scene. */
export interface StrokeSet {
  readonly look: BenchLookName;
  /** Not drawn while a mm is smaller than this many pixels. */
  readonly fromScale: number;
  readonly lines: readonly Polyline[];
}

export type AreaTone = 'piece' | 'tab' | 'page' | 'overlap' | 'lettering';

/** Areas that are filled alike (non-zero rule: holes run the other way). */
export interface AreaSet {
  readonly tone: AreaTone;
  readonly rings: readonly (readonly Point[])[];
  /** Not drawn while a mm is smaller than this many pixels: print too small to be seen. */
  readonly fromScale?: number;
}

export type LabelTone = 'ink' | 'soft' | 'look' | 'accent';

/** Words at a place. They keep their size on the screen and give way to more important ones when there is no room. */
export interface Label {
  readonly text: string;
  readonly at: Point;
  /** Direction (unit vector, scene) in which the label stands off from its place; null: centred on it. */
  readonly off: Point | null;
  readonly tone: LabelTone;
  readonly size: 'small' | 'normal' | 'large';
  /** Size of the lettering as drawn, mm: grows with the zoom beyond the screen size. 0: never grows. */
  readonly height: Mm;
  /** Length of the thing that it names, mm: hidden while that is shorter on the screen than the words. 0: always. */
  readonly room: Mm;
  /** Shown only while a mm is smaller than this many pixels: farther in, the thing itself says it. */
  readonly until?: number;
  /** Larger goes first. */
  readonly rank: number;
  /** Drawn on a small ground of its own. */
  readonly boxed: boolean;
}

/** A mark that keeps its size on the screen. */
export interface Spot {
  readonly kind: 'cross' | 'question';
  readonly at: Point;
}

/** Something that can be picked. Several may share an id (copies of a panel). */
export interface Pickable {
  readonly kind: HitKind;
  readonly id: string;
  readonly piece: string | null;
  readonly points: readonly Point[];
  /** A ring (piece, tab): hit inside. Else a line: hit near. */
  readonly closed: boolean;
}

export interface Scene {
  readonly space: Space;
  readonly areas: readonly AreaSet[];
  readonly strokes: readonly StrokeSet[];
  readonly labels: readonly Label[];
  readonly spots: readonly Spot[];
  readonly pickables: readonly Pickable[];
  /** What the select tool takes here, the kind that the step's decisions are about first. */
  readonly selectable: readonly HitKind[];
  /** What "fit" shows; null when there is nothing. */
  readonly bounds: Box | null;
  /** Where the rulers' zero is; they count to the right and downwards. */
  readonly zero: Point;
  /** Words for things that are no edges, by id. */
  readonly names?: ReadonlyMap<string, string>;
  /** Pieces can be dragged about here. */
  readonly movable?: boolean;
  /** A drawing position times this is a scene position; null: there is no such relation (layout). */
  readonly drawingScale: number | null;
}

export const emptyScene = (space: Space): Scene => ({
  space,
  areas: [],
  strokes: [],
  labels: [],
  spots: [],
  pickables: [],
  selectable: ['edge', 'fold', 'piece'],
  bounds: null,
  zero: { x: 0, y: 0 },
  drawingScale: space === 'drawing' ? 1 : null,
});
