/**
 * How lines look on the screen. Dash patterns and proportions come from the model's table, so that bench, pages and
 * files agree; here they only get screen weights: a line is as wide as in print when zoomed in, and never thinner than
 * can be seen nor wider than can be read.
 */
import { type LineKind, lineLooks } from '../../../src/model';
import type { Mm } from '../../../src/units';

export type Ink = 'ink' | 'soft' | 'faint' | 'accent' | 'look' | 'fail';

export interface BenchLook {
  readonly ink: Ink;
  readonly width: Mm;
  /** Limits on the screen, CSS pixels. */
  readonly thinnest: number;
  readonly widest: number;
  readonly dash: readonly Mm[];
  /** 0..1. */
  readonly opacity: number;
}

const fromModel = (kind: LineKind, ink: Ink, thinnest: number, widest: number): BenchLook => ({
  ink,
  width: lineLooks[kind].width,
  dash: lineLooks[kind].dash,
  thinnest,
  widest,
  opacity: 1,
});

const bare = (
  ink: Ink,
  width: Mm,
  thinnest: number,
  widest: number,
  dash: readonly Mm[] = [],
): BenchLook => ({
  ink,
  width,
  dash,
  thinnest,
  widest,
  opacity: 1,
});

export const benchLooks = {
  /** Outline of a piece or panel. */
  outline: fromModel('cut', 'ink', 1.5, 2.6),
  /** An edge without a mate: as heavy as two outlines. */
  open: bare('ink', 2 * lineLooks.cut.width, 3.4, 5),
  /** An edge that stays open: outline and cross ticks. */
  border: fromModel('border', 'ink', 1.5, 2.6),
  borderTick: bare('ink', 0.35, 1, 1.8),
  mountain: fromModel('mountain', 'ink', 1, 1.6),
  valley: fromModel('valley', 'ink', 1, 1.6),
  /** A fold kept as a soft bend, or one whose direction is not known. */
  softBend: fromModel('softBend', 'ink', 1.2, 1.8),
  scored: fromModel('scored', 'ink', 1, 1.6),
  placement: fromModel('placement', 'ink', 1, 1.6),
  notch: fromModel('notch', 'ink', 1.2, 2),
  registration: fromModel('registration', 'ink', 1, 1.6),
  frame: fromModel('frame', 'soft', 1, 1.4),
  leader: fromModel('leader', 'soft', 0.8, 1.2),
  /** The sheet of paper behind a layout page. */
  sheet: bare('faint', 0.18, 1, 1),
  tab: bare('soft', 0.25, 1, 1.4),
  hatch: bare('faint', 0.18, 0.8, 1),
  /** Lines of the file that are no outline and no fold. */
  notes: bare('soft', 0.18, 0.8, 1.2),
  ignored: bare('faint', 0.18, 0.8, 1),
  /** A line of the file before anything is recognised. */
  raw: bare('ink', 0.35, 1.2, 2),
  /** A line that took part in nothing. */
  unread: bare('look', 0.5, 2.2, 3.5),
  /** The paper's outline under a panel. */
  paper: bare('soft', 0.18, 1, 1.2),
  /** The face of the foam that is not traced. */
  otherFace: bare('soft', 0.25, 1.1, 1.5, lineLooks.softBend.dash),
  /** Under an edge or fold whose bend nobody has set: a pale band, since at first that is every one of them. */
  unset: { ...bare('look', 1, 6, 9), opacity: 0.36 },
} satisfies Record<string, BenchLook>;

export type BenchLookName = keyof typeof benchLooks;

/**
 * Dashes are drawn as if the view were at least this close, pixels per mm: below it true dashes would run together
 * into grey and the kinds could not be told apart.
 */
const dashScale = 1.7;

/** Far away, lines crowd: below one pixel per mm they thin with the zoom, down to this part of their weight. */
const lightest = 0.55;

/** Width and dashes in mm at a zoom (pixels per mm), for a line that scales with the view. */
export function weightAt(
  look: BenchLook,
  scale: number,
): { readonly width: Mm; readonly dash: readonly Mm[] } {
  const thinnest = look.thinnest * Math.min(1, Math.max(lightest, scale));
  const pixels = Math.min(look.widest, Math.max(thinnest, look.width * scale));
  const stretch = Math.max(1, dashScale / scale);
  return { width: pixels / scale, dash: look.dash.map((d) => d * stretch) };
}
