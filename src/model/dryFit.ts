import type { Point, Point3 } from '../math';
import type { Mm, Rad } from '../units';
import type { SeamPreparation } from './settings';

/**
 * A panel from the shell as a flat body of foam: what is bent up in a dry fit. Seen from outside, however the drawing
 * has it; where it lies is of no meaning. Heights are measured from the neutral layer, + outward.
 */
export interface PanelBody {
  /** Heights of the skins: inside ≤ 0 ≤ outside. */
  readonly heights: { readonly inside: Mm; readonly outside: Mm };
  /** Where the neutral layer lies in the shell: its height above the paper's surface. */
  readonly depth: Mm;
  /** Flat corners on the neutral layer. */
  readonly corners: readonly Point[];
  /** By how much each corner lies elsewhere on the skins; zero within the panel. */
  readonly moves: readonly { readonly inside: Point; readonly outside: Point }[];
  /** Flat faces: which face of the shell, and its corners in the order of that face's vertices. */
  readonly faces: readonly { readonly patch: number; readonly ring: readonly number[] }[];
  /** The sides of faces along the outline and the holes: place in `faces`, and the corner of its ring that it starts at. */
  readonly outline: readonly { readonly face: number; readonly side: number; readonly seam: string | null }[];
  /** Folds within the panel, with the sides of faces along them (both sides of each). */
  readonly folds: readonly { readonly face: number; readonly side: number; readonly fold: string }[];
}

/** How foam is taken to bend at a fold; real foam lies between. */
export type BendModel =
  /** Each face stays rigid and keeps its own cut edge; at the end of a fold the halves open or overlap a little. */
  | 'rigid'
  /** The skins stretch and squeeze so that the faces meet on the bisector plane of the fold. */
  | 'mitre';

/** Distance of two cut faces along a seam, + open, − overlapping. */
export interface GapRange {
  readonly min: Mm;
  readonly mean: Mm;
  readonly max: Mm;
}

/** Figures of absolute distances. */
export interface GapFigures {
  readonly mean: Mm;
  readonly p95: Mm;
  readonly max: Mm;
}

export type DryFitDepth = 'inside' | 'middle' | 'outside';

/** How far one side of a seam gapes and presses at most where it is meant to meet, the worse model; 0: not at all. */
export interface DryFitSide {
  /** Vertices of the shell at its ends. */
  readonly vertices: readonly [number, number];
  readonly open: Mm;
  readonly pressed: Mm;
}

/** Where the distance along a seam is largest. */
export interface DryFitPlace {
  readonly vertices: readonly [number, number];
  /** Part of the way from the first vertex to the second. */
  readonly part: number;
  readonly depth: DryFitDepth;
  /** + open, − overlapping. */
  readonly gap: Mm;
}

export interface DryFitSeam {
  readonly seam: string;
  readonly panels: readonly [string, string];
  readonly preparation: SeamPreparation;
  /** Where the seam is meant to meet: a square one on the skin that touches, any other everywhere. */
  readonly touches: readonly DryFitDepth[];
  /** The model that shows the larger distance where the seam is meant to meet. */
  readonly model: BendModel;
  readonly inside: GapRange;
  readonly middle: GapRange;
  readonly outside: GapRange;
  /** Largest distance where the seam is meant to meet: bevelled anywhere, square on the skin that touches. */
  readonly worst: Mm;
  /** The same by each model alone. */
  readonly worstBy: Readonly<Record<BendModel, Mm>>;
  /** The same with foam whose neutral layer lies elsewhere, in the order of `otherNeutral`; empty in a brief dry fit. */
  readonly worstOther: readonly Mm[];
  readonly place: DryFitPlace;
  readonly sides: readonly DryFitSide[];
  /** The sharpest fold within a panel that ends at the vertex next to the worst place; null: none does. */
  readonly fold: { readonly id: string; readonly panel: string; readonly bend: Rad } | null;
}

/** Two panels that run into each other though they are not glued together. */
export interface DryFitClash {
  readonly panels: readonly [string, string];
  /** Volume that both take, mm³. */
  readonly volume: number;
  /** A place in it, on the shell at its final size. */
  readonly at: Point3;
  /** The vertex of either panel that lies nearest to it. */
  readonly vertex: number;
}

/** One way of making and bending the panels, the worse of both models in every figure. */
export interface DryFitWay {
  /** Bevelled seams on the worse of the depths inside, middle, outside; null without any. */
  readonly bevelled: GapFigures | null;
  /** Square seams on the skin that touches. */
  readonly square: GapFigures | null;
  /** Both together. */
  readonly gap: GapFigures | null;
  /** Volume that is in two panels at once, as a part of the volume of the foam. */
  readonly overlapShare: number;
}

/** What comes of putting the panels at their places on the shell. */
export interface DryFit {
  readonly panels: number;
  /** Panels without a place on the shell, by id: they were made from their flat drawing alone. */
  readonly leftOut: readonly string[];
  /** Seams that are not measured since the cut is neither bevelled nor square, by id: their overlap is in the volumes. */
  readonly unmeasured: readonly string[];
  readonly designed: DryFitWay;
  /** Panels as designed, of foam whose neutral layer lies elsewhere than reckoned with; empty in a brief dry fit. */
  readonly otherNeutral: readonly { readonly neutralRatio: number; readonly way: DryFitWay }[];
  /** The paper pieces at the same scale, cut square from the same foam; null in a brief dry fit. */
  readonly uncompensated: DryFitWay | null;
  /** Worst first. */
  readonly seams: readonly DryFitSeam[];
  /** Largest first. */
  readonly clashes: readonly DryFitClash[];
  /** Volume of the foam, mm³. */
  readonly foamVolume: number;
  /** Taut girth of the brow section on the inside of the panels as they stand; null without such a section. */
  readonly insideGirth: Mm | null;
}
