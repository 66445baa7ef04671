import type { Mm } from '../units';

/**
 * `splits`: cut where foam can't follow; `joins`: fewest panels from the pieces; `anew`: fewest panels from the faces;
 * `slits`: relief slits where foam bends doubly.
 */
export type ProposalKind = 'splits' | 'joins' | 'anew' | 'slits';

/** What the program would cut or join, before anything is decided. */
export interface PanelProposal {
  readonly kind: ProposalKind;
  /** In order; without ids, which they get when they are accepted. */
  readonly edits: readonly { readonly kind: 'cut' | 'join'; readonly lines: readonly string[] }[];
  readonly before: ProposalFigures;
  readonly after: ProposalFigures;
  /** Both halves of a mirror-symmetric shell are treated alike. */
  readonly symmetric: boolean;
  /** Relief darts that would be there, the widest first. */
  readonly darts: readonly ProposedDart[];
  /** Panels that stay larger or more curved than the limits. */
  readonly beyond: readonly string[];
}

export interface ProposalFigures {
  readonly panels: number;
  /** Length of all seams. */
  readonly seams: Mm;
}

export interface ProposedDart {
  /** Folds and seams that it lies along. */
  readonly lines: readonly string[];
  /** Widest place, and length, at the size of the drawing. */
  readonly width: Mm;
  readonly length: Mm;
}
