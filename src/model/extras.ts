import type { Point, Point3 } from '../math';
import type { Mm, Rad } from '../units';
import type { FacePoint } from './panelEdits';

/** Parts beside the shell's own panels: what lies on it, stands on its rims, pads it, or is cut for itself. */
export interface ExtraDecisions {
  /** In the order of gluing: a layer lies on those before it. */
  readonly parts: readonly ExtraPart[];
}

/** Which skin of the shell a part lies on. */
export type ExtraSide = 'outside' | 'inside';

interface ExtraBase {
  readonly id: string;
  readonly name: string;
  /** Thickness of its foam; null: as the shell's. */
  readonly thickness: Mm | null;
}

/** A ring for an opening of the shell. */
export interface BandPart extends ExtraBase {
  readonly kind: 'band';
  /** Edges of the pattern along the opening; those that are still there tell which opening is meant. */
  readonly edges: readonly string[];
  readonly side: ExtraSide;
  readonly width: Mm;
  /** `straight`: stands on the rim's line as it is wound; `fitted`: follows the shell below the rim, which bends it. */
  readonly shape: 'straight' | 'fitted';
  /** By how much one end lies over the other; 0: the ends butt. */
  readonly overlap: Mm;
}

/** A strip that lies along a seam, half its width on each side. */
export interface SeamStripPart extends ExtraBase {
  readonly kind: 'seamStrip';
  readonly seams: readonly string[];
  readonly side: ExtraSide;
  readonly width: Mm;
}

interface OutlineBase {
  /** `panel`: it ends where the panel ends that it begins on; `shell`: it goes on over seams. */
  readonly within: 'shell' | 'panel';
}

/** A closed line drawn on the shell. Its corners stay on their faces when the shell's size changes. */
export interface DrawnOutline extends OutlineBase {
  readonly kind: 'drawn';
  /** At least three, on the faces as they are drawn. */
  readonly points: readonly FacePoint[];
  /** A smooth curve through them. */
  readonly curved: boolean;
}

/** A shape laid on the shell. Its size stays when the shell's changes. */
export interface PlacedShape extends OutlineBase {
  readonly kind: 'shape';
  /** Even-odd, about the middle of their box, mm, y up. */
  readonly rings: readonly (readonly Point[])[];
  /** Where the middle lies. */
  readonly at: FacePoint;
  /** Counter-clockwise from upright, seen from outside. */
  readonly turn: Rad;
  /** Of the box before it is turned; the height follows. */
  readonly width: Mm;
}

export type ShellOutline = DrawnOutline | PlacedShape;

/** A raised (or sunk) layer: faces of the shell once more, or what an outline encloses, on top of what is there. */
export interface LayerPart extends ExtraBase {
  readonly kind: 'layer';
  /** Faces of the pattern, or those that edits made of them. */
  readonly faces: readonly string[];
  readonly side: ExtraSide;
  /** How far its edge stays within the faces or the outline. */
  readonly margin: Mm;
  /** Its border; absent: that of the faces. */
  readonly outline?: ShellOutline;
}

/** A stencil for painting, cut from card or film, in parts that end at seams. */
export interface StencilPart extends ExtraBase {
  readonly kind: 'stencil';
  readonly outline: ShellOutline;
  readonly side: ExtraSide;
  /** `mask`: the shape itself, which covers; `window`: a sheet with the shape cut out, which is painted through. */
  readonly way: 'mask' | 'window';
  /** How far the sheet of a window reaches round the shape. */
  readonly border: Mm;
}

/** A disc, or a ring when `inner` is above 0. */
export interface DiscPart extends ExtraBase {
  readonly kind: 'disc';
  readonly diameter: Mm;
  readonly inner: Mm;
  readonly quantity: number;
}

export interface BarPart extends ExtraBase {
  readonly kind: 'bar';
  readonly length: Mm;
  readonly width: Mm;
  readonly quantity: number;
}

/** A blank for a visor: the outline of an opening and a margin round it, on a sheet that bends one way. */
export interface VisorPart extends ExtraBase {
  readonly kind: 'visor';
  /** Edges of the pattern along the opening. */
  readonly edges: readonly string[];
  /** `whole`: all of the rim; `part`: only where those edges are, closed straight from end to end. */
  readonly rim: 'whole' | 'part';
  readonly side: ExtraSide;
  /** How far it reaches over the shell round the opening. */
  readonly margin: Mm;
  /** How far the eyes are below the brow line, along the brow plane's normal; null: not known, so not marked. */
  readonly eyes: Mm | null;
}

export type ExtraPart = BandPart | SeamStripPart | LayerPart | DiscPart | BarPart | VisorPart | StencilPart;
export type ExtraKind = ExtraPart['kind'];

/** A line on a panel that is not cut: where another part goes, a centre, where ends meet. */
export interface PanelGuide {
  readonly id: string;
  readonly points: readonly Point[];
  readonly closed: boolean;
  /** What is written beside it; empty: nothing. */
  readonly label: string;
}

/** A part that lies on the shell, face by face: how it is drawn there. */
export interface LaidOnShell {
  readonly part: string;
  readonly panel: string;
  readonly name: string;
  readonly kind: ExtraKind;
  readonly side: ExtraSide;
  /** Heights of its lower and upper face above the paper's surface: the upper one is farther from that surface. */
  readonly from: Mm;
  readonly to: Mm;
  /** Index of the face in the shell, and what is covered of it, in the coordinates of its flat corners; even-odd. */
  readonly regions: readonly { readonly patch: number; readonly rings: readonly (readonly Point[])[] }[];
}

/** A part that stands at an opening or along a seam, by its middle layer: how it is drawn on the shell. */
export interface StandingOnShell extends Pick<LaidOnShell, 'part' | 'panel' | 'name' | 'kind' | 'side'> {
  /** Small four-sided patches that cover it, in the space of the shell as it is folded up, before it is sized. */
  readonly patches: readonly (readonly Point3[])[];
  /** Closed lines. */
  readonly outline: readonly (readonly Point3[])[];
  /** Open lines along which it is folded. */
  readonly folds: readonly (readonly Point3[])[];
}

/** An opening as a person chooses it. */
export interface OpeningChoice {
  readonly edges: readonly string[];
  /** Length of the rim on the paper's surface at the final size. */
  readonly girth: Mm;
  /** Where its middle lies from the shell's middle: the largest part of that direction. */
  readonly where: 'front' | 'back' | 'left' | 'right' | 'top' | 'bottom';
}

/** Whether a part of the foam covers the eyes: what the caution about sight is for. */
export const blocksSight = ({
  panels,
}: {
  readonly panels: readonly { readonly extra?: { readonly kind: ExtraKind } }[];
}): boolean => panels.some((p) => p.extra?.kind === 'visor');

export const noExtras: ExtraDecisions = { parts: [] };

const extraMark = 'extra:';

/** Id of the panel (or of one of several) that a part becomes. */
export const extraPanelId = (part: string, place = 0): string =>
  place === 0 ? extraMark + part : `${extraMark}${part}:${place + 1}`;
