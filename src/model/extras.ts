import type { Point } from '../math';
import type { Mm } from '../units';

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

/** A raised (or sunk) layer: faces of the shell once more, on top of what is there. */
export interface LayerPart extends ExtraBase {
  readonly kind: 'layer';
  /** Faces of the pattern, or those that edits made of them. */
  readonly faces: readonly string[];
  readonly side: ExtraSide;
  /** How far the outline stays within the faces. */
  readonly margin: Mm;
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

export type ExtraPart = BandPart | SeamStripPart | LayerPart | DiscPart | BarPart | VisorPart;
export type ExtraKind = ExtraPart['kind'];

/** A line on a panel that is not cut: where another part goes, a centre, where ends meet. */
export interface PanelGuide {
  readonly id: string;
  readonly points: readonly Point[];
  readonly closed: boolean;
  /** What is written beside it; empty: nothing. */
  readonly label: string;
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
