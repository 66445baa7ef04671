import type { Point } from '../math';
import type { Mm, Rad } from '../units';
import type { LineRole } from './pattern';
import type { ShellKnown } from './shell';

/** All that a person decides. Results are never stored: they are pure functions of the sources and these. */
export interface Decisions {
  readonly reading: ReadingDecisions;
  readonly seams: SeamDecisions;
  readonly shell: ShellDecisions;
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

/** Two edges that the person glued together, or stretches of them. */
export interface MadeSeam {
  readonly a: string;
  readonly b: string;
  readonly direction: 'opposed' | 'along';
  /**
   * The stretch of edge a that is glued, from and to as parts of its length (0 to 1) along its own direction; absent:
   * all of it. Parts, not lengths, so that another answer about the drawing's size changes nothing.
   */
  readonly partA?: Stretch;
  /** The same for edge b. */
  readonly partB?: Stretch;
}

export type Stretch = readonly [from: number, to: number];

export interface SeamDecisions {
  readonly useNumbers: boolean;
  /** Pair edges that carry no number by their geometry, and by folding up what is sure. */
  readonly findRest: boolean;
  readonly made: readonly MadeSeam[];
  /** Seams (by id) that the person took apart. */
  readonly rejected: readonly string[];
  /** Edges that stay open. */
  readonly borders: readonly string[];
}

export interface ShellDecisions {
  /** Fold the pattern up at all. Without it bends are typed, and the girth is measured on the drawing. */
  readonly foldUp: boolean;
  /** Keep the mirror symmetry that the flat pattern has. */
  readonly symmetry: boolean;
  /** Distances and girths of the folded shell that the person knows, at the drawing's size. Bends: `foam.bends`. */
  readonly distances: ShellKnown['distances'];
  readonly girths: ShellKnown['girths'];
  /** Take the bends of a shell although it folds up doubtfully. */
  readonly trustDoubtful: boolean;
  /** Turns on top of the proposed orientation: about x (right), then y (front), then z (up). */
  readonly turned: { readonly x: Rad; readonly y: Rad; readonly z: Rad };
}

/** Where the head sits in the shell. */
export interface BrowDecision {
  /** Height of the brow plane on the mirror plane, as a part of the shell's height from its lowest point; null: proposed. */
  readonly at: number | null;
  /** Tilt of the brow plane, + higher in front; null: proposed. */
  readonly tilt: Rad | null;
}

export interface FitDecisions {
  /** `measures`: length, breadth and height of the head each get a scale of their own. */
  readonly how: 'head' | 'measures' | 'known' | 'percent';
  /** Length (brow to back), breadth and height (brow to crown) of the head; null: not measured. */
  readonly measures: { readonly length: Mm | null; readonly breadth: Mm | null; readonly height: Mm | null };
  readonly brow: BrowDecision;
  /** Head girth; null while not typed. */
  readonly head: Mm | null;
  /** How the head was entered, to show it again in the same way. */
  readonly headEnteredAs: 'tape' | 'eu' | 'us';
  readonly padding: Mm;
  readonly clearance: Mm;
  /** The pattern's own girth, as measured on the drawing; `none`: by nobody, so on the shell where there is one. */
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
  /** Only the panels of one side and those of the middle. Needs a mirror-symmetric shell. */
  readonly half: boolean;
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
  seams: { useNumbers: true, findRest: true, made: [], rejected: [], borders: [] },
  shell: {
    foldUp: true,
    symmetry: true,
    distances: [],
    girths: [],
    trustDoubtful: false,
    turned: { x: 0, y: 0, z: 0 },
  },
  fit: {
    how: 'head',
    measures: { length: null, breadth: null, height: null },
    brow: { at: null, tilt: null },
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
    half: false,
  },
};
