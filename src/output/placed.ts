/** Panels where a drawing shows them: as they stand in the pattern, moved apart, or on a sheet of foam. */
import { GirthwiseError } from '../base';
import { type Box, boxOf, type Point } from '../math';
import {
  type MarkedPanel,
  type MarkedPanels,
  type Placing,
  placeLettering,
  placePoints,
  type Sheet,
  sheetPlacing,
} from '../model';
import { inCutOrder } from './cutOrder';
import { anyOverlap, inRows } from './spread';

export interface PlacedPanel {
  readonly marked: MarkedPanel;
  readonly placing: Placing;
  /** Tells copies of one panel apart: the panel's id, with the copy's number from the second on. */
  readonly key: string;
}

/**
 * Panels as they stand in the pattern; where they would overlap there, all are moved apart into rows. Panels that
 * vanished are left out.
 */
export function asDrawn(
  { panels }: MarkedPanels,
  mirrored: boolean,
): { readonly placed: readonly PlacedPanel[]; readonly apart: boolean } {
  const there = panels.filter((p) => p.panel.outlines.traced.length > 0);
  const still: Placing = { mirrored, angle: 0, move: { x: 0, y: 0 } };
  const apart = anyOverlap(there);
  const moves: readonly Point[] = apart
    ? inRows(there.map((p) => inkBox(p, still)))
    : there.map(() => still.move);
  const placed = there.map((marked, i) => ({
    marked,
    placing: { ...still, move: moves[i]! },
    key: marked.panel.id,
  }));
  return { placed: inCutOrder(placed), apart };
}

/**
 * Panels as they lie on a sheet.
 * @throws GirthwiseError `sheet-panel-unknown` when the sheet names a panel that is not there.
 */
export function onSheet(sheet: Sheet, { panels }: MarkedPanels): readonly PlacedPanel[] {
  const byId = new Map(panels.map((p) => [p.panel.id, p] as const));
  const placed = sheet.placements.map((placement): PlacedPanel => {
    const marked = byId.get(placement.panel);
    if (!marked)
      throw new GirthwiseError(
        'sheet-panel-unknown',
        `${sheet.name} holds a panel (${placement.panel}) that is not among the panels. Lay out the sheets again.`,
      );
    const key = placement.copy === 0 ? placement.panel : `${placement.panel}-${placement.copy + 1}`;
    return { marked, placing: sheetPlacing(placement), key };
  });
  return inCutOrder(placed);
}

/** Everything that a panel has in ink. */
export function inkBox(marked: MarkedPanel, placing: Placing): Box {
  return boxOf([
    ...marked.lines.flatMap((l) => placePoints(l.points, placing)),
    ...marked.lettering.flatMap((l) => placeLettering(l, placing).rings.flat()),
  ]);
}
