import { polylineLength, ringArea } from '../math';
import type { CutListGroup, CutListRow, FoamResult, Panel } from '../model';

/** Panels by thickness, thinnest first, in their own order; areas and lengths of the traced outline. */
export function cutList({ panels }: FoamResult): readonly CutListGroup[] {
  // Stencils are cut from card, whatever its thickness: a group of their own, last.
  const groups = new Map<number, CutListRow[]>();
  const stencils: CutListRow[] = [];
  for (const panel of panels) {
    if (panel.outlines.traced.length === 0) continue;
    if (panel.extra?.kind === 'stencil') {
      stencils.push(rowOf(panel));
      continue;
    }
    const rows = groups.get(panel.thickness) ?? [];
    groups.set(panel.thickness, rows);
    rows.push(rowOf(panel));
  }
  return [
    ...[...groups].sort(([a], [b]) => a - b).map(([thickness, rows]) => ({ thickness, rows })),
    ...(stencils.length > 0 ? [{ thickness: 0, rows: stencils, card: true as const }] : []),
  ];
}

function rowOf({ id, name, quantity, mirrored, outlines }: Panel): CutListRow {
  // Holes run clockwise, so their areas are negative.
  const area = outlines.traced.reduce((sum, ring) => sum + ringArea(ring), 0);
  const edge = outlines.traced.reduce((sum, ring) => sum + polylineLength([...ring, ring[0]!]), 0);
  return { panel: id, name, quantity, mirrored: mirrored ? quantity : 0, area, edge };
}
