import type { Point } from '../math';
import type { Mm, Rad } from '../units';
import { type ExtraDecisions, noExtras } from './extras';
import { noEdits, type PanelDecisions } from './panelEdits';
import type { LineRole } from './pattern';
import { defaultSheets, type SheetDecisions } from './sheetDecisions';
import type { ShellKnown } from './shell';
import type { TroupeDecisions } from './troupe';

/** All that a person decides. Results are never stored: they are pure functions of the sources and these. */
export interface Decisions {
  readonly reading: ReadingDecisions;
  readonly seams: SeamDecisions;
  readonly shell: ShellDecisions;
  readonly fit: FitDecisions;
  readonly panels: PanelDecisions;
  readonly extras: ExtraDecisions;
  readonly foam: FoamDecisions;
  readonly marks: MarkDecisions;
  readonly sheets: SheetDecisions;
  readonly pages: PageDecisions;
  readonly cutting: CuttingDecisions;
  readonly build: BuildDecisions;
  readonly troupe: TroupeDecisions;
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
  /** The pattern is one half of a shell: its mirror image is glued to it along the rim. Null: it is all there is. */
  readonly half?: HalfDecision | null;
}

export interface HalfDecision {
  /** Edges that lie in the mirror plane. */
  readonly rim: readonly string[];
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
/**
 * How the edges of a seam are cut. `bevel`: half the bend on each side, the faces meet. `square`: cut back to the skin
 * that touches first. `flush`: square where the neutral layers meet; one skin is squeezed. `lapped`: one panel runs past
 * to the far skin of the other, which stops at its near skin; both square.
 */
export type SeamPreparation = 'bevel' | 'square' | 'flush' | 'lapped';

/** How a fold inside a panel is made: bent as it is, or with a groove cut into its closing side. */
export type FoldPreparation = 'soft' | 'scored';

export interface FoamDecisions {
  readonly thickness: Mm;
  /** Which side of the foam the paper is. */
  readonly standsFor: StandsFor;
  /** K: place of the neutral layer as a part of the thickness from the inside, 0.5 unless measured. */
  readonly neutralRatio: number;
  /** How deep the inner edges of a square seam are squeezed when pressed together; 0 unless measured. */
  readonly squeeze: Mm;
  /** What a bend test of this foam measured; null: not measured. */
  readonly bendTest: { readonly sides: Mm | null; readonly wedge: Mm | null };
  /** Inside radius of a soft bend. */
  readonly bendRadius: Mm;
  /** Where the skins of panels of different thickness lie in one plane; by the main thickness's own place. */
  readonly flush: StandsFor;
  /** Thickness of single panels, by panel id. */
  readonly thicknessOf: Readonly<Record<string, Mm>>;
  /** Name of the foam, for lists; empty: not named. */
  readonly material: string;
  readonly materialOf: Readonly<Record<string, string>>;
  /** `rules`: flush below `flushBelow`, else bevelled. */
  readonly preparation: SeamPreparation | 'rules';
  readonly preparationOf: Readonly<Record<string, SeamPreparation>>;
  readonly flushBelow: Rad;
  /** Which side of a lapped seam runs past, by seam id; `a` where nothing is said. */
  readonly lapOver: Readonly<Record<string, 'a' | 'b'>>;
  /** `rules`: scored from `scoreFrom` on, else soft. */
  readonly foldPreparation: FoldPreparation | 'rules';
  readonly foldPreparationOf: Readonly<Record<string, FoldPreparation>>;
  readonly scoreFrom: Rad;
  /** Depth of the groove of a scored fold as a part of the thickness. */
  readonly scoreDepth: number;
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
  /**
   * What 100 mm came out as on the person's printer, x along the short side of the paper, y along its long side; null:
   * not measured.
   */
  readonly measured: { readonly x: Mm; readonly y: Mm } | null;
  /** Strips at the edges of an upright sheet that the printer leaves empty; null: not measured, the margin alone counts. */
  readonly reach: PrinterReach | null;
  readonly mapPage: boolean;
  /** Only the panels of one side and those of the middle. Needs a mirror-symmetric shell. */
  readonly half: boolean;
}

/** Widths of the strips along the edges of an upright sheet that a printer cannot reach. */
export interface PrinterReach {
  readonly left: Mm;
  readonly right: Mm;
  readonly top: Mm;
  readonly bottom: Mm;
}

/** What a cutter's files hold. */
export interface CuttingDecisions {
  /** `in`: outlines carry the kerf already. `out`: they are the finished size, for a cutter that adds the kerf itself. */
  readonly kerf: 'in' | 'out';
  /** Letters as closed outlines, or as single lines for a pen. */
  readonly lettering: 'outlines' | 'strokes';
  /** Length of the lead-in from the waste into every cut; 0: none. */
  readonly leadIn: Mm;
}

/** How the build goes, and what it takes. */
export interface BuildDecisions {
  /** Ids of the steps that are done. */
  readonly done: readonly string[];
  /** Ids of steps in the order of the person's hand; empty: as computed. */
  readonly order: readonly string[];
  /** What prices are counted in, as it is written before a sum. */
  readonly currency: string;
  /** Sheet of foam that is bought. */
  readonly sheet: { readonly width: Mm; readonly height: Mm };
  readonly rates: BuildRates;
}

/** Prices, coverages and times, each 0 or more. Liquids: square metres that a litre covers once; prices a litre. */
export interface BuildRates {
  readonly sheetPrice: number;
  /** Part of the bought foam that is lost as offcuts, 0 to below 1, while no sheets are laid out. */
  readonly waste: number;
  readonly adhesiveCoverage: number;
  readonly adhesivePrice: number;
  readonly sealerCoats: number;
  readonly sealerCoverage: number;
  readonly sealerPrice: number;
  readonly paintCoats: number;
  readonly paintCoverage: number;
  readonly paintPrice: number;
  /** Part of the inside that is padded, 0 to 1; price a square metre. */
  readonly padShare: number;
  readonly padPrice: number;
  /** Metres of tape for a metre of seam; price a metre. */
  readonly tapePerSeam: number;
  readonly tapePrice: number;
  /** Minutes: for a page, for a metre of edge or seam, for a square metre, for a coat, for the fitting-out. */
  readonly pageTime: number;
  readonly cutTime: number;
  readonly bevelTime: number;
  readonly glueTime: number;
  readonly smoothTime: number;
  readonly heatTime: number;
  readonly coatTime: number;
  readonly fitOutTime: number;
  /** Working hours of a day. */
  readonly dayHours: number;
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
  seams: { useNumbers: true, findRest: true, made: [], rejected: [], borders: [], half: null },
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
  panels: noEdits,
  extras: noExtras,
  foam: {
    thickness: 5,
    standsFor: 'outside',
    neutralRatio: 0.5,
    squeeze: 0,
    bendTest: { sides: null, wedge: null },
    bendRadius: 0,
    flush: 'outside',
    thicknessOf: {},
    material: '',
    materialOf: {},
    preparation: 'bevel',
    preparationOf: {},
    // 15°, 35° and half the thickness: common practice, no source.
    flushBelow: (15 * Math.PI) / 180,
    lapOver: {},
    foldPreparation: 'soft',
    foldPreparationOf: {},
    scoreFrom: (35 * Math.PI) / 180,
    scoreDepth: 0.5,
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
  sheets: defaultSheets,
  pages: {
    paper: 'A4',
    ownSize: { width: 210, height: 297 },
    orientation: 'best',
    margin: 8,
    overlap: 10,
    arrangement: 'tiled',
    measured: null,
    reach: null,
    mapPage: true,
    half: false,
  },
  cutting: { kerf: 'in', lettering: 'outlines', leadIn: 0 },
  build: {
    done: [],
    order: [],
    currency: '$',
    sheet: { width: 600, height: 900 },
    // Examples to start from, of common practice, no source; the coverage of brushed adhesive is from memory (3 to 5 m²
    // a litre). Labels and the person's own prices and pace come first.
    rates: {
      sheetPrice: 12,
      waste: 0.3,
      adhesiveCoverage: 4,
      adhesivePrice: 25,
      sealerCoats: 3,
      sealerCoverage: 8,
      sealerPrice: 20,
      paintCoats: 3,
      paintCoverage: 10,
      paintPrice: 30,
      padShare: 0.25,
      padPrice: 15,
      tapePerSeam: 1,
      tapePrice: 0.1,
      pageTime: 5,
      cutTime: 8,
      bevelTime: 10,
      glueTime: 25,
      smoothTime: 25,
      heatTime: 120,
      coatTime: 45,
      fitOutTime: 150,
      dayHours: 5,
    },
  },
  troupe: { wearers: [] },
};
