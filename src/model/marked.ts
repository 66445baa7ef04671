import type { Issue } from '../base';
import type { Point } from '../math';
import type { Mm, Rad } from '../units';
import type { Panel } from './panels';

/** Kinds of printed line. Each has one dash pattern and weight, the same on bench, pages and files. */
export type LineKind =
  | 'cut'
  | 'border'
  | 'mountain'
  | 'valley'
  | 'softBend'
  | 'scored'
  | 'placement'
  | 'notch'
  | 'lettering'
  | 'leader'
  | 'registration'
  | 'frame';

export interface MarkLine {
  readonly kind: LineKind;
  readonly points: readonly Point[];
  readonly closed: boolean;
  /** Id of the edge, fold or seam that it belongs to, or empty. */
  readonly of: string;
}

/** Lettering as filled outlines (non-zero rule), so that no font is needed to print or cut it. */
export interface Lettering {
  readonly text: string;
  readonly use: 'seamNumber' | 'name' | 'detail' | 'bevel' | 'up';
  /** Closed rings, first point not repeated. */
  readonly rings: readonly (readonly Point[])[];
  readonly at: Point;
  readonly angle: Rad;
  readonly height: Mm;
  readonly of: string;
  /** Middle and baseline direction of the group of letterings that it stands in, which is mirrored as one; alone: none. */
  readonly block?: { readonly at: Point; readonly angle: Rad };
}

export interface NotchMark {
  readonly seam: string;
  readonly edge: string;
  /** Distance from the corner of the edge that both sides share as start (side a's start), along the traced edge. */
  readonly along: Mm;
  /** On the traced edge. */
  readonly at: Point;
  /** End of the tick, inside the panel. */
  readonly to: Point;
}

/** A panel with everything that is printed on it; same space as the panel. */
export interface MarkedPanel {
  readonly panel: Panel;
  readonly lines: readonly MarkLine[];
  readonly lettering: readonly Lettering[];
  readonly notches: readonly NotchMark[];
}

export interface MarkedPanels {
  readonly panels: readonly MarkedPanel[];
  readonly issues: readonly Issue[];
}
