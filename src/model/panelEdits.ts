import type { Issue } from '../base';
import type { Mm, Rad } from '../units';
import type { Pattern } from './pattern';
import type { Seams } from './seams';
import type { Shell } from './shell';

/**
 * How the pieces of the pattern are cut and joined into panels of foam. Edits are replayed in order on whatever the
 * pattern is now; each names stable ids, so that they outlive changes of size, thickness and settings.
 */
export interface PanelDecisions {
  readonly edits: readonly PanelEdit[];
  readonly limits: PanelLimits;
  /** Outlines run through the corners of gently bent runs as curves. */
  readonly smooth: boolean;
}

/** What foam can follow. Values from an own study on eleven shells, where no other source is named. */
export interface PanelLimits {
  /** A fold that bends more is proposed as a cut; foam buckles over 35 to 40 degrees. */
  readonly bend: Rad;
  /** Largest angle between a face of a panel and the panel's mean normal. */
  readonly spread: Rad;
  /** Two sides that are joined lie on each other within this. */
  readonly misfit: Mm;
  /** The widest dart that a join may open. */
  readonly dart: Mm;
  /** The largest panel, corner to corner: the sheet of foam at hand. */
  readonly reach: Mm;
}

/** `lines` are folds and seams of the pattern, or those that edits made of them. */
export type PanelEdit =
  /** Folds become seams. */
  | { readonly kind: 'cut'; readonly id: string; readonly lines: readonly string[] }
  /** Seams become folds. */
  | { readonly kind: 'join'; readonly id: string; readonly lines: readonly string[] };

/** The pattern as it is cut from foam: pieces are panels. Everything from the foam on works on it. */
export interface Recut {
  /** The pattern itself while there are no edits. */
  readonly pattern: Pattern;
  readonly seams: Seams;
  readonly shell: Shell | null;
  /** One for each piece of `pattern`, in its order. */
  readonly panels: readonly PanelOrigin[];
  /** Vertices of `shell` beyond those of the shell it was made from, each as a mean of those. */
  readonly added: readonly AddedVertex[];
  /** Edits that could not be replayed, or not in full. */
  readonly stuck: readonly string[];
  readonly issues: readonly Issue[];
}

export type AddedVertex = readonly { readonly vertex: number; readonly weight: number }[];

/** Where a panel is from. */
export interface PanelOrigin {
  readonly id: string;
  /** Pieces of the pattern with a face in it, in the pattern's order. */
  readonly pieces: readonly string[];
  readonly faces: readonly string[];
  /** False: the piece as it was. */
  readonly changed: boolean;
  /** Largest difference between a side's length in the pattern and in the panel. */
  readonly misfit: Mm;
}

const cutMark = 'cut:';
const joinMark = 'join:';

/** Id of the seam that a cut fold becomes. */
export const cutSeamId = (fold: string): string => cutMark + fold;
/** Ids of its two sides. */
export const cutEdgeId = (fold: string, side: 'l' | 'r'): string => `${cutMark}${fold}:${side}`;
/** Id of the fold that a joined seam becomes. */
export const joinedFoldId = (seam: string): string => joinMark + seam;

/** The fold or seam of the pattern that a fold or seam of the panels was made from; its own id when it is one. */
export function sourceLineId(id: string): string {
  if (id.startsWith(cutMark)) return id.slice(cutMark.length);
  if (id.startsWith(joinMark)) return id.slice(joinMark.length);
  return id;
}

export const noEdits: PanelDecisions = {
  edits: [],
  smooth: false,
  limits: { bend: (38 * Math.PI) / 180, spread: (35 * Math.PI) / 180, misfit: 1, dart: 12, reach: 350 },
};
