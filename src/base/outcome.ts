/**
 * Outcomes and issues as data. A stage never repairs in silence and never throws for bad input of the person:
 * it returns issues. It throws (a {@link GirthwiseError}) only for misuse by the calling code.
 */

/** How much an issue matters. `repaired` says what the program changed by itself. */
export type Severity = 'error' | 'warning' | 'repaired' | 'note';

/** The part of the work that an issue belongs to; the findings drawer groups by it. */
export type StageName =
  | 'drawing'
  | 'reading'
  | 'seams'
  | 'shell'
  | 'fit'
  | 'panels'
  | 'foam'
  | 'marks'
  | 'sheets'
  | 'layout'
  | 'build'
  | 'output'
  | 'project';

/** Where an issue is. Positions are in the drawing's space: mm, y up, origin at the page's top-left corner. */
export interface Place {
  /** Position on the drawing, mm, y up. */
  readonly at?: { readonly x: number; readonly y: number };
  /** Ids of the things concerned (piece, edge, fold, seam, panel, line), most precise first. */
  readonly ids?: readonly string[];
  /** Line and column in the source text, both from 1. */
  readonly source?: { readonly file: string; readonly line: number; readonly column: number };
}

/** One finding: what happened, where, and what to do. Sentences, in the maker's words. */
export interface Issue {
  /** Kebab-case, stable, unique to the kind of finding, e.g. `line-not-closed`. */
  readonly code: string;
  readonly severity: Severity;
  readonly stage: StageName;
  /** One sentence: what happened, with figures and units where they help. */
  readonly message: string;
  /** One sentence: the next thing to do; empty for notes that need nothing. */
  readonly remedy: string;
  readonly place: Place;
}

/** The result of a step that can fail for the person's reasons. */
export type Outcome<T> =
  | { readonly ok: true; readonly value: T; readonly issues: readonly Issue[] }
  | { readonly ok: false; readonly issues: readonly Issue[] };

export function succeed<T>(value: T, issues: readonly Issue[] = []): Outcome<T> {
  return { ok: true, value, issues };
}

export function fail<T = never>(...issues: readonly Issue[]): Outcome<T> {
  return { ok: false, issues };
}

/** Thrown for misuse by the calling code, never for what a person did. */
export class GirthwiseError extends Error {
  readonly code: string;
  constructor(code: string, message: string) {
    super(message);
    this.name = 'GirthwiseError';
    this.code = code;
  }
}

/** Ends a `switch` over a union: fails to compile when a case is missing. */
export function unreachable(value: never): never {
  throw new GirthwiseError('unreachable', `No case for ${JSON.stringify(value)}`);
}
