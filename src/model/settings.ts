import type { Point } from '../math';
import type { Mm, Rad } from '../units';
import type { LineRole } from './pattern';

/** All that a person decides. Results are never stored: they are pure functions of the sources and these. */
export interface Decisions {
  readonly reading: ReadingDecisions;
  readonly seams: SeamDecisions;
  readonly fit: FitDecisions;
  readonly foam: FoamDecisions;
  readonly marks: MarkDecisions;
  readonly pages: PageDecisions;
}

/** One imported file. */
export interface PatternSource {
  readonly name: string;
  readonly svg: string;
}

export interface ReadingDecisions {
  /** Size of drawings without physical units. `ask`: not answered yet. */
  readonly size:
    | { readonly kind: 'ask' }
    | { readonly kind: 'perInch'; readonly value: number }
    | { readonly kind: 'knownLength'; readonly line: string; readonly length: Mm };
  /** The drawing shows the pieces from inside the shell: it is mirrored on reading. */
  readonly drawnFromInside: boolean;
  readonly groupRoles: Readonly<Record<string, LineRole>>;
  readonly lineRoles: Readonly<Record<string, LineRole>>;
  /** Ids of tabs that the person restored to their piece. */
  readonly keptTabs: readonly string[];
  /** Strip tabs at all. */
  readonly stripTabs: boolean;
  /** Line ends this close are one point. */
  readonly joinWithin: Mm;
}

export interface SeamDecisions {
  readonly useNumbers: boolean;
  readonly made: readonly {
    readonly a: string;
    readonly b: string;
    readonly direction: 'opposed' | 'along';
  }[];
  /** Seams (by id) that the person took apart. */
  readonly rejected: readonly string[];
  /** Edges that stay open. */
  readonly borders: readonly string[];
}

export interface FitDecisions {
  readonly how: 'head' | 'known' | 'percent';
  /** Head girth; null while not typed. */
  readonly head: Mm | null;
  /** How the head was entered, to show it again in the same way. */
  readonly headEnteredAs: 'tape' | 'eu' | 'us';
  readonly padding: Mm;
  readonly clearance: Mm;
  /** The pattern's own girth, as measured on the drawing. */
  readonly girth:
    | { readonly kind: 'none' }
    | { readonly kind: 'edges'; readonly edges: readonly string[] }
    | { readonly kind: 'tape'; readonly parts: readonly (readonly [Point, Point])[] }
    | { readonly kind: 'typed'; readonly length: Mm };
  readonly known: { readonly have: Mm | null; readonly want: Mm | null };
  /** 1 = as drawn. */
  readonly percent: number;
}

export type StandsFor = 'outside' | 'middle' | 'inside';
export type SeamPreparation = 'bevel' | 'square';

export interface FoamDecisions {
  readonly thickness: Mm;
  /** Which side of the foam the paper is. */
  readonly standsFor: StandsFor;
  /** K: place of the neutral layer as a part of the thickness from the inside, 0.5 unless measured. */
  readonly neutralRatio: number;
  /** Inside radius of a soft bend. */
  readonly bendRadius: Mm;
  readonly preparation: SeamPreparation;
  readonly preparationOf: Readonly<Record<string, SeamPreparation>>;
  readonly kerf: Mm;
  readonly traced: 'outside' | 'inside';
  /** Typed bend angles by fold id or seam id. */
  readonly bends: Readonly<Record<string, Rad>>;
  /** Bend angles for whole roles; null: not given. Seams without their own bend use `seam`. */
  readonly roleBends: {
    readonly mountain: Rad | null;
    readonly valley: Rad | null;
    readonly unknown: Rad | null;
    readonly seam: Rad | null;
  };
  /** A corner may stand this many times the larger shift away from its source; beyond it is cut blunt. */
  readonly mitreLimit: number;
}

export interface MarkDecisions {
  readonly notches: boolean;
  readonly numbers: boolean;
  readonly names: boolean;
  readonly bevels: boolean;
  readonly folds: boolean;
  readonly letterHeight: Mm;
  /** Direction that counts as up on the drawing, counter-clockwise from +x; null: the page's own up. */
  readonly up: Rad | null;
  readonly pieceNames: Readonly<Record<string, string>>;
  readonly quantities: Readonly<Record<string, number>>;
}

export type PaperName = 'A4' | 'A3' | 'Letter' | 'Legal' | 'Tabloid' | 'own';

export interface PageDecisions {
  readonly paper: PaperName;
  readonly ownSize: { readonly width: Mm; readonly height: Mm };
  readonly orientation: 'portrait' | 'landscape' | 'best';
  readonly margin: Mm;
  readonly overlap: Mm;
  /** `tiled`: as laid out, cut across page borders. `whole`: each panel on one page where it fits. */
  readonly arrangement: 'tiled' | 'whole';
  /** What a printed 100 mm check square measured; null: not measured. */
  readonly measured: { readonly x: Mm; readonly y: Mm } | null;
  readonly mapPage: boolean;
}

/** A document: what is saved. */
export interface ProjectDocument {
  readonly title: string;
  readonly sources: readonly PatternSource[];
  readonly decisions: Decisions;
  /** Unit in which lengths are shown. */
  readonly lengthUnit: 'mm' | 'in';
}

export const defaultDecisions: Decisions = {
  reading: {
    size: { kind: 'ask' },
    drawnFromInside: false,
    groupRoles: {},
    lineRoles: {},
    keptTabs: [],
    stripTabs: true,
    joinWithin: 0.1,
  },
  seams: { useNumbers: true, made: [], rejected: [], borders: [] },
  fit: {
    how: 'head',
    head: null,
    headEnteredAs: 'tape',
    padding: 5,
    clearance: 3,
    girth: { kind: 'none' },
    known: { have: null, want: null },
    percent: 1,
  },
  foam: {
    thickness: 5,
    standsFor: 'outside',
    neutralRatio: 0.5,
    bendRadius: 0,
    preparation: 'bevel',
    preparationOf: {},
    kerf: 0,
    traced: 'outside',
    bends: {},
    roleBends: { mountain: null, valley: null, unknown: null, seam: null },
    mitreLimit: 3,
  },
  marks: {
    notches: true,
    numbers: true,
    names: true,
    bevels: true,
    folds: true,
    letterHeight: 4,
    up: null,
    pieceNames: {},
    quantities: {},
  },
  pages: {
    paper: 'A4',
    ownSize: { width: 210, height: 297 },
    orientation: 'best',
    margin: 8,
    overlap: 10,
    arrangement: 'tiled',
    measured: null,
    mapPage: true,
  },
};
