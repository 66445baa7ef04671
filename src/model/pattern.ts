import type { Issue } from '../base';
import type { Point } from '../math';
import type { Mm, Rad } from '../units';
import type { DrawingSize } from './drawing';

/** What a drawn line means. `fold` is a fold whose direction is not known. */
export type LineRole = 'outline' | 'mountain' | 'valley' | 'fold' | 'notes' | 'ignore';

export const lineRoles: readonly LineRole[] = ['outline', 'mountain', 'valley', 'fold', 'notes', 'ignore'];

/** Lines of the file that share a look. The person gives a role to a whole group at once. */
export interface StyleGroup {
  /** Made of the look alone (stroke, width, dash, class, layer), so it survives a re-read. */
  readonly key: string;
  /** What to call it in a list, e.g. "dashed 0.35 mm, class cut". */
  readonly label: string;
  readonly count: number;
  readonly totalLength: Mm;
  readonly dash: readonly Mm[];
  readonly strokeWidth: Mm;
  readonly stroke: string;
  /** Id of a typical line, to show. */
  readonly sampleLine: string;
  readonly proposed: LineRole;
  /** Why this role was proposed: one sentence. */
  readonly reason: string;
  /** The role in force: the person's, else the proposed one. */
  readonly role: LineRole;
}

/**
 * The imported drawing, understood. All positions are the drawing's own: mm, y up, as seen from outside the shell.
 * Outlines run counter-clockwise, holes clockwise, so material lies to the left of every edge.
 */
export interface Pattern {
  readonly size: DrawingSize;
  readonly pieces: readonly Piece[];
  readonly groups: readonly StyleGroup[];
  /** Role in force for each line id of the drawing. */
  readonly roleOfLine: Readonly<Record<string, LineRole>>;
  /** Numbers and letters bound to edges. */
  readonly labels: readonly EdgeLabel[];
  /** Lines that took part in nothing, with the reason. */
  readonly unread: readonly UnreadLine[];
  readonly issues: readonly Issue[];
}

/** One flat connected part. */
export interface Piece {
  /** Stable across re-reads: made from its place on the page, see `stableId`. */
  readonly id: string;
  /** Short name for people: the name printed on it, else A, B, C … in reading order. */
  readonly name: string;
  readonly outline: readonly Edge[];
  readonly holes: readonly (readonly Edge[])[];
  readonly folds: readonly Fold[];
  readonly faces: readonly Face[];
  /** Glue flaps taken off the outline. */
  readonly tabs: readonly Tab[];
}

/** One straight or curved stretch of a piece's outline (or hole): from a corner or fold end to the next. */
export interface Edge {
  readonly id: string;
  /** From start to end along the outline, both ends included; at least 2 points. A curve is flattened to 0.02 mm. */
  readonly points: readonly Point[];
  readonly curved: boolean;
  /** A part of a curve along one flat strip of a bent face: on the shell it is straight, however much it bulges. */
  readonly flat?: true;
}

/** A line inside a piece between two faces. */
export interface Fold {
  readonly id: string;
  /** Both ends included; at least 2 points. */
  readonly points: readonly Point[];
  readonly role: 'mountain' | 'valley' | 'unknown';
  /** The bend that the file itself gives, + convex: evidence, less than the person's word or the folded shell. */
  readonly givenBend?: Rad;
  /** It parts one flat face in two, for a line drawn in the Panels step: nothing to score or bend, so not printed. */
  readonly plain?: true;
  /** As of an edge: a part of a curve along one flat strip, straight on the shell. */
  readonly flat?: true;
  /** Face to the left, face to the right of the direction of `points`. */
  readonly left: string;
  readonly right: string;
}

/** A flat region of a piece, bounded by edges and folds. */
export interface Face {
  readonly id: string;
  /** Counter-clockwise ring, first point not repeated. */
  readonly polygon: readonly Point[];
  /** The same ring as sides in order; `forward` tells whether it follows the edge's or fold's own direction. */
  readonly sides: readonly FaceSide[];
  /** Rings of holes that lie inside the face, clockwise. */
  readonly holes: readonly (readonly Point[])[];
}

export type FaceSide =
  | { readonly kind: 'edge'; readonly id: string; readonly forward: boolean }
  | { readonly kind: 'fold'; readonly id: string; readonly forward: boolean };

export interface Tab {
  readonly id: string;
  readonly polygon: readonly Point[];
  /** The edge of the outline that it was folded along (the edge left after stripping). */
  readonly edge: string;
  /** True when the person keeps it as part of the piece; then it is in the outline as well. */
  readonly kept: boolean;
}

export interface EdgeLabel {
  readonly edge: string;
  readonly text: string;
  readonly at: Point;
  readonly size: Mm;
  readonly angle: Rad;
  /** Id of the drawing text that it was read from. */
  readonly source: string;
}

export interface UnreadLine {
  readonly line: string;
  readonly at: Point;
  readonly reason: 'dangling' | 'not-closed' | 'outside-all-pieces' | 'zero-length';
  readonly length: Mm;
}
