import type { Issue } from '../base';
import type { Point, Point3 } from '../math';
import type { Mm, Rad } from '../units';

/**
 * The pattern folded up. Positions in mm, turned as proposed: z up, y to the front, the mirror plane (where there is
 * one) at x = 0. Faces run counter-clockwise seen from outside.
 */
export interface Shell {
  readonly vertices: readonly Point3[];
  readonly faces: readonly ShellPatch[];
  /** Bend by fold id and seam id, + convex seen from outside; the mean along a seam of several stretches. */
  readonly bends: Readonly<Record<string, Rad>>;
  /** Largest less smallest bend along a fold or seam of several stretches; absent for single ones. */
  readonly bendSpread: Readonly<Record<string, Rad>>;
  /** How far folded edges are from their flat lengths. */
  readonly residual: { readonly rms: Mm; readonly max: Mm };
  /** Health of the fold-up: near 1 when clean, over 1.5 when a spot is snapped through; the worst component's. */
  readonly rho: number;
  /**
   * How far corners may be from the shell that the pattern was made from, where lengths leave it open: rms in mm and as
   * a part of the size (the diagonal of its box), of the component that is least sure. An estimate that needs no truth.
   */
  readonly unsure: Unsure;
  /** Ids of folds that bend against their drawn direction. */
  readonly wrongSigns: readonly string[];
  /** Exact free motions that the lengths leave open, all components together. */
  readonly flexes: number;
  readonly components: readonly ShellComponent[];
  /** `doubtful`: do not take the bends without the person's word. */
  readonly quality: 'good' | 'doubtful';
  /** The fold or seam that fits worst, in one sentence; null when everything fits. */
  readonly worst: { readonly ids: readonly string[]; readonly what: string } | null;
  /** Of the largest component. `pairs` holds every vertex once, a middle one with itself. */
  readonly symmetry: {
    readonly plane: Plane3;
    readonly pairs: readonly (readonly [number, number])[];
  } | null;
  /**
   * The softest free motions of the largest component: displacement of each vertex of the shell, the longest one 1,
   * softest first; a view lets the shell breathe with them. Empty for a rigid shell.
   */
  readonly softModes: readonly (readonly Point3[])[];
  /** What the person knew, and what came out. */
  readonly known: readonly KnownResult[];
  /** Seams that were not glued, because the surface would not be one. */
  readonly leftOut: readonly string[];
  readonly issues: readonly Issue[];
}

/**
 * A flat part of the shell: a face of the pattern. A face that bends without a fold, because curves bound it, is there
 * several times, once for each flat strip that stands for it, and so is a face round a hole that something is glued into.
 */
export interface ShellPatch {
  readonly piece: string;
  readonly face: string;
  /** Number of the part from 0; absent when the face is whole. */
  readonly part?: number;
  /** Corners on the pattern, in the order of `vertices`. */
  readonly flat: readonly Point[];
  readonly vertices: readonly number[];
}

/** One connected part of the shell. Components stand side by side along x, largest first. */
export interface ShellComponent {
  readonly vertices: readonly number[];
  readonly faces: readonly number[];
  readonly flexes: number;
  readonly openings: number;
  readonly residual: { readonly rms: Mm; readonly max: Mm };
  readonly rho: number;
  readonly unsure: Unsure;
}

/** How far corners may be off, rms; `part` of the diagonal of the component's box. */
export interface Unsure {
  readonly rms: Mm;
  readonly part: number;
}

/** All points p with normal · p = offset; the normal is a unit vector. */
export interface Plane3 {
  readonly normal: Point3;
  readonly offset: Mm;
}

/** An end of an edge of the pattern: how a person points at a vertex. */
export interface EdgeEnd {
  readonly edge: string;
  readonly end: 'start' | 'end';
}

/** What the person knows about the folded shell. Each is asked for softly, and what came out is reported. */
export interface ShellKnown {
  /** Typed bends by fold id or seam id. */
  readonly bends: Readonly<Record<string, Rad>>;
  /** Straight distances, such as the width or height of an opening. */
  readonly distances: readonly { readonly from: EdgeEnd; readonly to: EdgeEnd; readonly length: Mm }[];
  /** Taut girths of sections: of the loop that goes round at this height and tilt, as for the brow. */
  readonly girths: readonly { readonly at: number; readonly tilt: Rad; readonly girth: Mm }[];
  /** Keep the mirror symmetry that the flat pattern has. */
  readonly symmetry: boolean;
}

export const nothingKnown: ShellKnown = { bends: {}, distances: [], girths: [], symmetry: true };

export interface KnownResult {
  readonly kind: 'bend' | 'distance' | 'girth';
  /** Fold or seam id; the two edges of a distance; none for a girth. */
  readonly ids: readonly string[];
  /** Radians or mm by kind. */
  readonly wanted: number;
  /** NaN when the shell has no such place. */
  readonly got: number;
}

/** A closed loop on the shell: of a section, or round an opening. */
export interface ShellLoop {
  readonly points: readonly Point3[];
  /** Length along the loop. */
  readonly girth: Mm;
}
