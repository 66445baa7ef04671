import type { Issue } from '../base';
import type { Mm } from '../units';

/** Two edges that are glued together. */
export interface Seam {
  /** Made of its two edge ids in order, so that decisions about it survive. */
  readonly id: string;
  /** Number for people, from 1, in reading order of the runs. */
  readonly number: number;
  readonly a: SeamSide;
  readonly b: SeamSide;
  /**
   * How the sides meet. Seen from outside two mating edges run against each other, so `opposed` (a's start meets
   * b's end) is the rule; `along` means that one of them was drawn from inside.
   */
  readonly direction: 'opposed' | 'along';
  readonly evidence: 'person' | 'number' | 'geometry';
  readonly confidence: number;
  readonly lengthA: Mm;
  readonly lengthB: Mm;
  /** Why the two belong together: one sentence. Absent where nothing beyond `evidence` is known. */
  readonly reason?: string;
  /**
   * Only this stretch of side a's edge is glued, [from, to] in mm along the edge's own direction, from < to. Absent:
   * all of it. A long edge against several short ones has one seam for each, and their stretches may touch but not
   * overlap.
   */
  readonly partA?: readonly [Mm, Mm];
  /** The same for side b, along b's own direction. */
  readonly partB?: readonly [Mm, Mm];
  /** Both sides are those of a relief dart that a person placed: its edit, and the width of its mouth in finished foam;
   *  null: as wide as the panel opens by itself. */
  readonly dart?: { readonly edit: string; readonly width: Mm | null };
}

export interface SeamSide {
  readonly piece: string;
  readonly edge: string;
}

/** Seams that follow each other along the same two pieces: what a maker sees as one seam. */
export interface SeamRun {
  readonly id: string;
  /** The number that is printed. */
  readonly number: number;
  /** Seam ids in order along side a's outline direction. */
  readonly seams: readonly string[];
}

/** An edge that could belong to several mates, or has a number that nothing answers. */
export interface OpenEdge {
  readonly piece: string;
  readonly edge: string;
  /** `border`: the person says it stays open. `number-alone`: no second edge has its number. */
  readonly why: 'no-evidence' | 'number-alone' | 'number-repeated' | 'border';
  readonly label: string;
  readonly candidates: readonly string[];
  /** How much each candidate speaks for itself, 0 to 1, in the order of `candidates`; absent where nothing was weighed. */
  readonly scores?: readonly number[];
}

export interface Seams {
  readonly seams: readonly Seam[];
  readonly runs: readonly SeamRun[];
  readonly open: readonly OpenEdge[];
  readonly issues: readonly Issue[];
}
