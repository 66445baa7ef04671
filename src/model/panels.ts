import type { Issue } from '../base';
import type { Point } from '../math';
import type { Mm, Rad } from '../units';
import type { PanelBody } from './dryFit';
import type { ExtraKind, LaidOnShell, PanelGuide, StandingOnShell } from './extras';
import type { Pattern } from './pattern';
import type { SeamPreparation } from './settings';
import type { ShellFit } from './shellFit';

/** The scale that fits the pattern to its wearer, with its arithmetic. */
export interface Fit {
  /** Factor on all lengths of the drawing; 1 while nothing is asked. With three scales: their geometric mean. */
  readonly scale: number;
  /** How the finished shell sits; null where no sound shell is there to measure. */
  readonly shell: ShellFit | null;
  /**
   * The pieces unfolded again from the reshaped shell, at their final size, ids unchanged; null when one scale does
   * it. Where it is there, it takes the place of pattern × scale in all that follows.
   */
  readonly reshaped: Pattern | null;
  /** The pattern's own girth as drawn; null where not measured. */
  readonly patternGirth: Mm | null;
  readonly insideGirthWanted: Mm | null;
  readonly insideGirth: Mm | null;
  readonly outsideGirth: Mm | null;
  /** Extent of the scaled outlines on the flat, all pieces together and the largest single piece. */
  readonly largestPiece: { readonly width: Mm; readonly height: Mm };
  /** Each line of the working, e.g. { label: "Head girth", value: 580, unit: "mm" }. */
  readonly steps: readonly FitStep[];
  /** Published range that the head girth falls in; null when no head is given. */
  readonly context: FitContext | null;
  readonly issues: readonly Issue[];
}

export interface FitStep {
  readonly label: string;
  /** The formula in words or symbols, e.g. "head + 2π × ease". */
  readonly formula: string;
  readonly value: number;
  readonly unit: 'mm' | 'ratio';
}

export interface FitContext {
  /** One sentence, e.g. "about the 60th percentile of 4,082 men". */
  readonly sentence: string;
  readonly source: string;
  readonly unusual: boolean;
}

/**
 * A part to be cut from foam, flat, in the scaled drawing's space: mm, y up, seen from outside. `traced` is what is
 * drawn on the template; when the inside face is traced the output mirrors it.
 */
export interface Panel {
  readonly id: string;
  readonly name: string;
  readonly pieces: readonly string[];
  readonly quantity: number;
  readonly mirrored: boolean;
  readonly thickness: Mm;
  /** Name of the foam; absent when nobody named it. */
  readonly material?: string;
  /** Edge by edge, outline first, then each hole. Edges keep the ids of the piece's edges. */
  readonly loops: readonly (readonly PanelEdge[])[];
  /** The folds that stay inside as soft bends, moved with the panel. */
  readonly folds: readonly PanelFold[];
  /** Rings after clean-up, first point not repeated: outline counter-clockwise first, then holes clockwise. */
  readonly outlines: {
    readonly inside: readonly (readonly Point[])[];
    readonly traced: readonly (readonly Point[])[];
    readonly outside: readonly (readonly Point[])[];
  };
  /** The panel as a body to be bent up on its shell; absent when it was made from its flat drawing alone. */
  readonly body?: PanelBody;
  /** A part beside the shell's own panels, and which. */
  readonly extra?: { readonly kind: ExtraKind; readonly part: string };
  /** Lines that are drawn and not cut. */
  readonly guides?: readonly PanelGuide[];
}

/**
 * Where a bend in force is from: the person's word for this one, the folded shell, the file itself, the person's word
 * for its kind.
 */
export type BendSource = 'typed' | 'shell' | 'file' | 'kind';

export interface PanelEdge {
  readonly id: string;
  /** Seam id, or null for a border. */
  readonly seam: string | null;
  /** Distance that the traced edge lies outside its source, kerf included; negative: inside it. */
  readonly shift: Mm;
  /** Tilt of the cut from square: + the cut leans in under the traced face (under-cut), − it flares out. */
  readonly bevel: Rad;
  /** How it is cut; absent at a border. */
  readonly preparation?: SeamPreparation;
  /** Part in a lapped seam: `over` runs past, `under` stops at the other. */
  readonly lap?: 'over' | 'under';
  /** Bend angle in force, null when none is set (counts as flat). */
  readonly bend: Rad | null;
  /** Absent where none is set. */
  readonly bendFrom?: BendSource;
  /** The traced edge, in outline direction; empty when the edge vanished under the shift. */
  readonly points: readonly Point[];
  readonly curved: boolean;
  /**
   * How far along `points` the vertices of the shell lie, in outline order, the first and the last at its ends (they
   * may lie a little beyond them): those of a mate are the same vertices, so what stands between them meets once the
   * panel is bent, as nearly as stiff faces and stretched skins agree. Absent for a panel that was not made from a shell.
   */
  readonly vertices?: readonly Mm[];
}

export interface PanelFold {
  readonly id: string;
  readonly points: readonly Point[];
  readonly role: 'mountain' | 'valley' | 'unknown';
  readonly bend: Rad | null;
  readonly bendFrom?: BendSource;
  /** A scored fold: V-groove on the closing side, `web` of foam left; absent for a soft bend. */
  readonly groove?: {
    readonly side: 'inside' | 'outside';
    readonly depth: Mm;
    readonly web: Mm;
    /** Width of the open groove on the skin. */
    readonly width: Mm;
  };
}

export interface FoamSeamRow {
  readonly seam: string;
  readonly run: number;
  readonly preparation: SeamPreparation;
  readonly bend: Rad | null;
  readonly bendFrom?: BendSource;
  readonly bevel: Rad;
  /** How both sides were made: from the shell's neutral surface, or at least one of them from its flat drawing alone. */
  readonly way: 'shell' | 'flat';
  /** Flat length on the traced face, kerf taken off, of each side. */
  readonly lengthA: Mm;
  readonly lengthB: Mm;
  /** Length of each side at its neutral depth. */
  readonly neutralA: Mm;
  readonly neutralB: Mm;
  /** By how much each side is longer than that where it is glued, once the folds that end on it are bent: on the traced
   *  face of a bevel, on the skin that touches of a square cut; 0 without a shell. */
  readonly stretchA: Mm;
  readonly stretchB: Mm;
  /** Difference of both sides after that stretch. */
  readonly mismatch: Mm;
  /** Width of the wedge that stays open with square cuts; 0 when bevelled. */
  readonly openWedge: Mm;
  /** The skin on which the sides touch first; both skins when bevelled or flat. */
  readonly touches: 'inside' | 'outside' | 'both';
  /** Which side of a lapped seam runs past. */
  readonly over?: 'a' | 'b';
}

export interface FoamResult {
  readonly panels: readonly Panel[];
  readonly rows: readonly FoamSeamRow[];
  /** Fold and seam ids whose bend nobody has set; they count as flat. */
  readonly unsetBends: readonly string[];
  /** Extra parts that could not be made from what is there now, by id. */
  readonly stuckExtras?: readonly string[];
  /** Layers and stencils where they lie on the shell. */
  readonly onShell?: readonly LaidOnShell[];
  /** Visors, bands and strips where they stand on the shell. */
  readonly standing?: readonly StandingOnShell[];
  /** Edits of panels that could not be made on the finished panels, by id. */
  readonly stuckEdits?: readonly string[];
  readonly issues: readonly Issue[];
}
