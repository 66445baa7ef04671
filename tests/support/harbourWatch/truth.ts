/**
 * What is known about a generated pattern: pieces with faces, folds and edges at their exact places (mm, y up, seen
 * from outside), which edge meets which, the bend angles, numbers and tabs, and the shell it was cut from. Placing a
 * pattern on pages moves positions and keeps ids.
 */
import type { Point } from '../../../src/math';
import type { Mm, Rad } from '../../../src/units';
import type { ShellMesh } from './shellMesh';

/** One stretch of a drawn curve, as an SVG path can say it. */
export type CurvePart =
  | { readonly kind: 'line'; readonly to: Point }
  /** Circular arc, counter-clockwise (y up) when `ccw`, less than half a turn. */
  | { readonly kind: 'arc'; readonly radius: Mm; readonly ccw: boolean; readonly to: Point }
  | { readonly kind: 'cubic'; readonly c1: Point; readonly c2: Point; readonly to: Point };

export interface TruthEdge {
  /** e.g. `P3.e5`. */
  readonly id: string;
  /** Start to end along the outline, material to the left; curves flattened to 0.02 mm. */
  readonly points: readonly Point[];
  /** Exact shape from the first point on; absent for straight edges. */
  readonly curve?: readonly CurvePart[];
  /** Number of the edge in the mesh (or of the shell curve); mates share it. */
  readonly meshEdge: number;
  /** The edge it is glued to; null: a border. */
  readonly mate: string | null;
  /** Bend across the seam, + convex; null for a border. */
  readonly bend: Rad | null;
  /** The number printed beside it; empty: none. */
  readonly number: string;
}

export interface TruthFold {
  readonly id: string;
  readonly points: readonly Point[];
  readonly meshEdge: number;
  readonly bend: Rad;
  /** Faces to the left and right of the direction of `points`. */
  readonly left: string;
  readonly right: string;
}

export interface TruthFace {
  readonly id: string;
  /** Faces of the mesh that it shows; several when flat folds were left out. */
  readonly meshFaces: readonly number[];
  readonly polygon: readonly Point[];
  /** The ring as edges and folds in order. */
  readonly sides: readonly {
    readonly kind: 'edge' | 'fold';
    readonly id: string;
    readonly forward: boolean;
  }[];
}

export interface TruthTab {
  readonly edge: string;
  /** Counter-clockwise: start of the edge, the two outer corners of the flap, end of the edge. */
  readonly polygon: readonly Point[];
}

export interface TruthPiece {
  readonly id: string;
  readonly name: string;
  /** Counter-clockwise. */
  readonly outline: readonly TruthEdge[];
  readonly folds: readonly TruthFold[];
  readonly faces: readonly TruthFace[];
  readonly tabs: readonly TruthTab[];
  /** The piece that is its exact mirror image, or null. */
  readonly mirrorOf: string | null;
  /** A place well inside, for the name. */
  readonly heart: Point;
  /** Page it lies on, from 0. */
  readonly page: number;
}

export interface TruthPage {
  /** Top-left corner on the drawing, mm, y up. */
  readonly corner: Point;
  readonly width: Mm;
  readonly height: Mm;
}

export interface Truth {
  readonly title: string;
  readonly pieces: readonly TruthPiece[];
  /** Pairs of edge ids, each once. */
  readonly mates: readonly (readonly [string, string])[];
  readonly pages: readonly TruthPage[];
  readonly width: Mm;
  readonly height: Mm;
  /** The folded shell; for curved patterns a fine facetted copy. */
  readonly shell: ShellMesh;
}
