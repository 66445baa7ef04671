import type { Issue } from '../base';
import type { OpenEdge, Seam } from '../model';
import type { EdgeTable } from './edgeTable';

/** Two edges that may belong together, as one source of evidence sees it. */
export interface Proposal {
  readonly a: string;
  readonly b: string;
  readonly direction: Seam['direction'];
  /** 0 to 1; see `acceptFrom` and `clearLead` in tolerance.ts for what follows from it. */
  readonly confidence: number;
}

/** Why a source leaves an edge open, should no later source find its mate. */
export interface Doubt {
  readonly edge: string;
  readonly why: OpenEdge['why'];
  readonly candidates: readonly string[];
}

export interface Findings {
  readonly proposals: readonly Proposal[];
  readonly doubts: readonly Doubt[];
  readonly issues: readonly Issue[];
}

/** What is settled when a source is asked: seams of stronger sources, borders, seams that the person took apart. */
export interface Settled {
  /** Mate of an edge, or undefined while it has none. */
  mateOf(edge: string): string | undefined;
  /** False for edges with a mate and for borders. */
  isFree(edge: string): boolean;
  isRejected(a: string, b: string): boolean;
}

/**
 * A kind of evidence. Sources are asked in the order of their strength; each proposes pairs of free edges and says what
 * it can't decide. Which proposals become seams is decided in one place, see resolve.ts.
 */
export interface EvidenceSource {
  readonly evidence: Seam['evidence'];
  find(edges: EdgeTable, settled: Settled): Findings;
}
