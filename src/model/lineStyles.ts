import type { Mm } from '../units';
import type { LineKind } from './marked';

/** How a kind of line is drawn, the same on the bench, on pages and in files: by dash and weight, never by colour. */
export interface LineLook {
  /** For legends. */
  readonly label: string;
  readonly width: Mm;
  /** Dash lengths, mm, drawn first; empty for continuous. */
  readonly dash: readonly Mm[];
}

/**
 * Continuous wide and narrow lines in the proportion 2 : 1, long dash double dot and dashed lines after ISO 128-2
 * (types 01, 02, 05; proportions from memory). Mountain = dash with two dots and valley = dashes as in published
 * origami notation (three public teaching pages, one citing Lang; conventions vary, so a legend is always printed).
 */
export const lineLooks: Readonly<Record<LineKind, LineLook>> = {
  cut: { label: 'Cut', width: 0.5, dash: [] },
  border: { label: 'Cut, edge that stays open', width: 0.5, dash: [] },
  mountain: { label: 'Mountain fold (ridge towards you)', width: 0.25, dash: [6, 1.2, 0.4, 1.2, 0.4, 1.2] },
  valley: { label: 'Valley fold (ridge away from you)', width: 0.25, dash: [3, 1.5] },
  softBend: { label: 'Soft bend', width: 0.25, dash: [0.6, 1.2] },
  scored: { label: 'Scored fold', width: 0.25, dash: [6, 1.2, 0.4, 1.2] },
  // Dashed spaced line, type 03 of the same part, proportions from memory.
  placement: { label: 'Placement: another part goes here', width: 0.25, dash: [3, 4.5] },
  notch: { label: 'Notch: meets the same notch on the mate', width: 0.35, dash: [] },
  lettering: { label: 'Lettering', width: 0.18, dash: [] },
  leader: { label: 'Leader', width: 0.18, dash: [] },
  registration: { label: 'Registration mark', width: 0.25, dash: [] },
  frame: { label: 'Edge of the printed area', width: 0.18, dash: [] },
};
