import type { Issue } from '../base';
import type { Point } from '../math';
import type { Mm, Rad } from '../units';
import type { LineRole } from './pattern';

/**
 * What a drawing file shows, in millimetres, y up, origin at the top-left corner of the page (so a page covers
 * 0 ≤ x ≤ width, −height ≤ y ≤ 0). Nothing is interpreted yet: every visible stroke or fill edge is one line.
 */
export interface Drawing {
  readonly size: DrawingSize;
  readonly lines: readonly DrawingLine[];
  readonly texts: readonly DrawingText[];
  readonly issues: readonly Issue[];
}

export interface DrawingSize {
  readonly width: Mm;
  readonly height: Mm;
  /** Where the scale comes from. `none`: the file states no physical size and none was given; 96 per inch is used
   *  so that something can be shown, and the person must be asked before anything is made. */
  readonly from:
    | { readonly kind: 'physical' }
    | { readonly kind: 'perInch'; readonly value: number }
    | { readonly kind: 'knownLength'; readonly factor: number }
    | { readonly kind: 'none' };
}

/** One stretch of a line. Curves stay curves here; arcs are kept as the cubics that the SVG text defines. */
export type Segment =
  | { readonly kind: 'line'; readonly to: Point }
  | { readonly kind: 'cubic'; readonly c1: Point; readonly c2: Point; readonly to: Point };

/** One subpath (or basic shape) of the file. */
export interface DrawingLine {
  /** Stable: file number, element order and subpath order, e.g. `0:17:0`. */
  readonly id: string;
  /** Element name, e.g. `path`. */
  readonly element: string;
  /** The element's own `id` attribute, or empty. */
  readonly elementId: string;
  /** `id`s or labels of the groups around it, outermost first. */
  readonly groups: readonly string[];
  readonly start: Point;
  readonly segments: readonly Segment[];
  /** True when the subpath is closed by command or shape. */
  readonly closed: boolean;
  readonly style: LineStyle;
  /** The bend that the file itself gives for a fold, + convex; absent where it gives none. */
  readonly bend?: Rad;
  readonly source: { readonly file: string; readonly line: number; readonly column: number };
}

export interface LineStyle {
  /** Stroke colour as `#rrggbb`, or empty for none. */
  readonly stroke: string;
  /** Fill colour as `#rrggbb`, or empty for none. */
  readonly fill: string;
  readonly strokeWidth: Mm;
  /** Dash pattern in mm, empty for solid. */
  readonly dash: readonly Mm[];
  /** The `class` attribute as written. */
  readonly className: string;
  /** Product of the opacities, 0..1. */
  readonly opacity: number;
  /** What the file's format says that the line is; absent where a drawing leaves that to its look. */
  readonly assigned?: LineRole;
}

export interface DrawingText {
  readonly id: string;
  readonly text: string;
  /** Anchor point as placed (start, middle or end of the baseline by `anchor`). */
  readonly at: Point;
  readonly anchor: 'start' | 'middle' | 'end';
  /** Estimated middle of the ink, from font size and number of characters. */
  readonly centre: Point;
  /** Direction of the baseline, counter-clockwise from +x. */
  readonly angle: Rad;
  /** Font size after all transforms. */
  readonly size: Mm;
  readonly groups: readonly string[];
  readonly className: string;
  readonly fill: string;
  readonly source: { readonly file: string; readonly line: number; readonly column: number };
}
