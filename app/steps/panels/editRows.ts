/** The list of edits in words. Pure. */
import type { PanelEdit, Recut } from '../../../src/model';
import { counted } from '../names';

export interface EditRow {
  readonly id: string;
  readonly words: string;
  /** It could not be replayed, or not in full. */
  readonly stuck: boolean;
}

const wordsOf = (edit: PanelEdit): string => {
  switch (edit.kind) {
    case 'cut':
      return `Split along ${counted(edit.lines.length, 'fold')}`;
    case 'join':
      return `Joined across ${counted(edit.lines.length, 'seam edge')}`;
    case 'alike':
      return 'Two panels made mirror images';
    case 'draw':
      if (edit.way === 'dart') return 'Relief dart placed by hand';
      return edit.way === 'slit'
        ? 'Slit drawn from the outline inwards'
        : `Split along a drawn ${edit.curved ? 'curve' : 'line'}`;
  }
};

/** @param stuckLater edits that could not be made on the finished panels */
export const editRows = (
  edits: readonly PanelEdit[],
  recut: Recut | null,
  stuckLater: readonly string[] = [],
): EditRow[] =>
  edits.map((edit) => ({
    id: edit.id,
    words: wordsOf(edit),
    stuck: (recut?.stuck.includes(edit.id) ?? false) || stuckLater.includes(edit.id),
  }));

/** What the panels came from, in figures. */
export interface PanelFigures {
  readonly pieces: number;
  readonly panels: number;
  /** Largest difference of a side's length that a join left, mm. */
  readonly misfit: number;
}

export const panelFigures = (recut: Recut): PanelFigures => ({
  pieces: new Set(recut.panels.flatMap((p) => p.pieces)).size,
  panels: recut.panels.length,
  misfit: Math.max(0, ...recut.panels.map((p) => p.misfit)),
});
