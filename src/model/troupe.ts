import type { Mm } from '../units';

/** Somebody for whom the pattern is made too. */
export interface Wearer {
  /** Unique in the table; survives changes of the name. */
  readonly id: string;
  readonly name: string;
  /** Head girth; null while not typed. */
  readonly girth: Mm | null;
  /** Head length, breadth and height; null: not measured. */
  readonly length: Mm | null;
  readonly breadth: Mm | null;
  readonly height: Mm | null;
}

/** A group that wears the same pattern, each in a size of their own. */
export interface TroupeDecisions {
  readonly wearers: readonly Wearer[];
}
