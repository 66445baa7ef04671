/**
 * Messages between the page and the worker: plain data that survives a structured clone. Requests are numbered by
 * the page; every request but `cancel` is answered by exactly one of `done`, `read`, `file`, `failed`, `cancelled`.
 * Between, `part` brings results as soon as they are there: only those that changed since the last `part` of the
 * same document, so the page must take every one of them in order, also those of a request that was overtaken.
 */
import type { Issue } from '../base';
import type { PatternSource, ProjectDocument, ProposalKind, Results } from '../model';

/** The document to work on. `sources` may be left out when they are those of the last request. */
export interface WorkOrder {
  /** Changes when another document is opened; results of two documents are never mixed. */
  readonly document: string;
  readonly sources: readonly PatternSource[] | null;
  readonly rest: Omit<ProjectDocument, 'sources'>;
}

/** Files that can be written. */
export type FileKind =
  | 'pages-pdf'
  | 'check-pdf'
  | 'bend-test-pdf'
  | 'panels-svg'
  | 'panels-dxf'
  | 'build-pdf'
  | 'band-pdf'
  | 'fold'
  | 'sheets-archive'
  | 'sheets-pdf'
  | 'archive'
  /** Every wearer's files and the shared sheets, as one archive. */
  | 'troupe';

/** One sheet of foam as a cut file; sheets count from 0. */
export type SheetOrder = `sheet-${'svg' | 'dxf'}-${number}`;

/** What to cut or join, as JSON of a `PanelProposal`: asked for and answered like a file. */
export type ProposalOrder = `propose-${ProposalKind}`;

/** The dry fit of the panels, as JSON of a `DryFit`: asked for and answered like a file. */
export type DryFitOrder = 'dry-fit';

export type Request =
  /** Compute all stages. A newer `compute` overtakes an older one, which is answered `cancelled`. */
  | { readonly kind: 'compute'; readonly serial: number; readonly order: WorkOrder }
  /** Can these files be read at all? Nothing is kept. */
  | { readonly kind: 'check'; readonly serial: number; readonly sources: readonly PatternSource[] }
  /** Compute what is missing and write a file, or look for a proposal. */
  | {
      readonly kind: 'write';
      readonly serial: number;
      readonly what: FileKind | SheetOrder | ProposalOrder | DryFitOrder;
      readonly order: WorkOrder;
    }
  /** Stop a request, or whatever runs or waits when `serial` is null. */
  | { readonly kind: 'cancel'; readonly serial: number | null };

export type Reply =
  | {
      readonly kind: 'part';
      readonly serial: number;
      readonly document: string;
      readonly part: Partial<Results>;
    }
  | { readonly kind: 'progress'; readonly serial: number; readonly fraction: number; readonly what: string }
  | { readonly kind: 'done'; readonly serial: number }
  | { readonly kind: 'read'; readonly serial: number; readonly files: readonly FileCheck[] }
  /** `issues`: what went wrong with parts of it. */
  | {
      readonly kind: 'file';
      readonly serial: number;
      readonly content: Uint8Array | string;
      readonly issues: readonly Issue[];
    }
  | { readonly kind: 'cancelled'; readonly serial: number }
  | { readonly kind: 'failed'; readonly serial: number; readonly issues: readonly Issue[] };

export interface FileCheck {
  readonly name: string;
  readonly readable: boolean;
  readonly issues: readonly Issue[];
}
