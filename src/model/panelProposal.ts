import type { Mm } from '../units';

/** `splits`: cut where foam can't follow; `joins`: fewest panels from the pieces; `anew`: fewest panels from the faces. */
export type ProposalKind = 'splits' | 'joins' | 'anew';

/** What the program would cut or join, before anything is decided. */
export interface PanelProposal {
  readonly kind: ProposalKind;
  /** In order; without ids, which they get when they are accepted. */
  readonly edits: readonly { readonly kind: 'cut' | 'join'; readonly lines: readonly string[] }[];
  readonly before: ProposalFigures;
  readonly after: ProposalFigures;
  /** Both halves of a mirror-symmetric shell are treated alike. */
  readonly symmetric: boolean;
  /** Panels that stay larger or more curved than the limits. */
  readonly beyond: readonly string[];
}

export interface ProposalFigures {
  readonly panels: number;
  /** Length of all seams. */
  readonly seams: Mm;
}
