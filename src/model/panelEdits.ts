import type { Issue } from '../base';
import type { Point } from '../math';
import type { Mm, Rad } from '../units';
import type { Pattern } from './pattern';
import type { Seams } from './seams';
import type { Shell } from './shell';

/**
 * How the pieces of the pattern are cut and joined into panels of foam. Edits are replayed in order on whatever the
 * pattern is now; each names stable ids, so that they outlive changes of size, thickness and settings.
 */
export interface PanelDecisions {
  readonly edits: readonly PanelEdit[];
  readonly limits: PanelLimits;
  /** Outlines run through the corners of gently bent runs as curves. */
  readonly smooth: boolean;
  /** Panels that are mirror images of each other within this, mm, are drawn once; 0: each has its own template. */
  readonly pairWithin: Mm;
}

/** What foam can follow. Values from an own study on eleven shells, where no other source is named. */
export interface PanelLimits {
  /** A fold that bends more is proposed as a cut; foam buckles over 35 to 40 degrees. */
  readonly bend: Rad;
  /** Largest angle between a face of a panel and the panel's mean normal. */
  readonly spread: Rad;
  /** Two sides that are joined lie on each other within this. */
  readonly misfit: Mm;
  /** The widest dart that a join may open. */
  readonly dart: Mm;
  /** The largest panel, corner to corner: the sheet of foam at hand. */
  readonly reach: Mm;
}

/** `lines` are folds and seams of the pattern, or those that edits made of them. */
export type PanelEdit =
  /** Folds become seams. */
  | { readonly kind: 'cut'; readonly id: string; readonly lines: readonly string[] }
  /** Seams become folds. */
  | { readonly kind: 'join'; readonly id: string; readonly lines: readonly string[] }
  | DrawnEdit
  | AlikeEdit;

/**
 * Two panels that are nearly mirror images become exactly that: the mean of both, on the finished panels, so that it is
 * made again after every change of size, thickness and settings.
 */
export interface AlikeEdit {
  readonly kind: 'alike';
  readonly id: string;
  readonly panels: readonly [string, string];
  /** They are left as they are when corners are farther apart, mm in finished foam. */
  readonly within: Mm;
}

/**
 * A line drawn on one panel, as it is after the edits before this one: straight from point to point, or a smooth curve
 * through them. `across`: it runs from outline to outline and divides the panel; `slit`: it begins on the outline and
 * ends inside, so that the panel can open there; `dart`: a slit that opens to a wedge of a given width.
 */
export interface DrawnEdit {
  readonly kind: 'draw';
  readonly id: string;
  readonly way: DrawnWay;
  /** Of a dart: its width at the mouth in finished foam; null or absent: as wide as the panel opens by itself. */
  readonly width?: Mm | null;
  readonly curved: boolean;
  /** At least two. */
  readonly points: readonly FacePoint[];
}

export type DrawnWay = 'across' | 'slit' | 'dart';

/**
 * A point of a face of the pattern: 0 to 1 along the width and height of the box round the face as it is drawn. Parts,
 * not lengths, so that another answer about the drawing's size changes nothing.
 */
export interface FacePoint {
  readonly face: string;
  readonly x: number;
  readonly y: number;
}

/** The pattern as it is cut from foam: pieces are panels. Everything from the foam on works on it. */
export interface Recut {
  /** The pattern itself while there are no edits. */
  readonly pattern: Pattern;
  readonly seams: Seams;
  readonly shell: Shell | null;
  /** `shell` once the darts that have a width of their own are glued shut; absent without such darts. Panels are cut from
   *  `shell`, so this is to be looked at and measured alone. */
  readonly pulled?: Shell;
  /** One for each piece of `pattern`, in its order. */
  readonly panels: readonly PanelOrigin[];
  /** Vertices of `shell` beyond those of the shell it was made from, each as a mean of those. */
  readonly added: readonly AddedVertex[];
  /** Edits that could not be replayed, or not in full. */
  readonly stuck: readonly string[];
  /** Where the faces of changed panels are drawn and where they lie now, by face id; others lie as drawn. */
  readonly laid: Readonly<Record<string, LaidFace>>;
  readonly issues: readonly Issue[];
}

/** A face as it is drawn and as it lies in its panel, corner by corner. */
export interface LaidFace {
  readonly drawn: readonly Point[];
  readonly laid: readonly Point[];
}

export type AddedVertex = readonly { readonly vertex: number; readonly weight: number }[];

/** Where a panel is from. */
export interface PanelOrigin {
  readonly id: string;
  /** Pieces of the pattern with a face in it, in the pattern's order. */
  readonly pieces: readonly string[];
  readonly faces: readonly string[];
  /** False: the piece as it was. */
  readonly changed: boolean;
  /** Largest difference between a side's length in the pattern and in the panel. */
  readonly misfit: Mm;
}

const cutMark = 'cut:';
const joinMark = 'join:';

/** Id of the seam that a cut fold becomes. */
export const cutSeamId = (fold: string): string => cutMark + fold;
/** Ids of its two sides. */
export const cutEdgeId = (fold: string, side: 'l' | 'r'): string => `${cutMark}${fold}:${side}`;
/** Id of the fold that a joined seam becomes. */
export const joinedFoldId = (seam: string): string => joinMark + seam;

/** The fold or seam of the pattern that a fold or seam of the panels was made from; its own id when it is one. */
export function sourceLineId(id: string): string {
  if (id.startsWith(cutMark)) return id.slice(cutMark.length);
  if (id.startsWith(joinMark)) return id.slice(joinMark.length);
  return id;
}

const drawnMark = 'draw:';
const partMark = '~';

/** Id of the k-th stretch of a drawn line: a fold of no bend, cut or not. */
export const drawnFoldId = (edit: string, k: number): string => `${drawnMark}${edit}/${k}`;
/** Id of the fold that goes on from the end of a slit to the far side of its face: nothing is cut or bent there. */
export const slitRestId = (edit: string): string => `${drawnMark}${edit}/rest`;
/** The edit that drew a fold (or the seam it was cut to); null for all other lines. */
export function drawnBy(id: string): string | null {
  const source = sourceLineId(id);
  return source.startsWith(drawnMark) ? source.slice(drawnMark.length).split('/')[0]! : null;
}
const rulingMark = 'ruling:';
/** Id of a fold along a ruling of a bent face, which lines drawn across the face divide it by. */
export const rulingFoldId = (face: string, name: string): string => `${rulingMark}${face}/${name}`;
/** Whether a line is a ruling of a bent face, or a part of one. */
export const isRuling = (id: string): boolean => id.startsWith(rulingMark);
/** What divides a face round its hole is drawn by the hole of this number. */
export const holeMark = (k: number): string => `rim${k}`;
/** Folds that nobody drew and nothing is bent or cut along: rulings, bridges to holes, the rest of a slit's face. */
export const isUnseenFold = (id: string): boolean => {
  const source = rootOf(sourceLineId(id));
  return isRuling(source) || /^draw:rim\d+\//.test(source) || /^draw:.*\/rest$/.test(source);
};
/** Id of the k-th part of a line or face that a drawn line divides. */
export const partId = (id: string, edit: string, k: number): string => `${id}${partMark}${edit}.${k}`;
/** What a part is part of; null when it is none. */
export function wholeOf(id: string): string | null {
  const at = id.lastIndexOf(partMark);
  return at < 0 ? null : id.slice(0, at);
}
/** The face or line of the pattern that a part, or a part of a part, belongs to. */
export const rootOf = (id: string): string => id.split(partMark)[0]!;
/** Whether a line is the other or a part of it. */
export const isPartOf = (id: string, whole: string): boolean =>
  id === whole || id.startsWith(`${whole}${partMark}`);

/** Whether a line is a part that something else than this edit divided. */
export const isPartBeside = (id: string, edit: string): boolean =>
  id
    .split(partMark)
    .slice(1)
    .some((part) => !part.startsWith(`${edit}.`));

export const noEdits: PanelDecisions = {
  edits: [],
  smooth: false,
  pairWithin: 0,
  limits: { bend: (38 * Math.PI) / 180, spread: (35 * Math.PI) / 180, misfit: 0.5, dart: 12, reach: 350 },
};
