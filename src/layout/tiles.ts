/** Which pages of a grid are needed, exactly: every zone that a panel covers or any ink touches is on a page. */
import { type Box, boxOf } from '../math';
import { boxesMeet, insideRange } from './clip';
import { type Cell, type Grid, neededPages, stepX, stepY, zoneSpan, zonesAlong } from './grid';
import { inkSegments, onPanel, type PrintedPanel } from './printed';

/** The needed pages of the grid, row by row. */
export function pagesOfGrid(grid: Grid, panels: readonly PrintedPanel[]): Cell[] {
  const zonesX = zonesAlong(grid.columns);
  const zonesY = zonesAlong(grid.rows);
  const held = new Uint8Array(zonesX * zonesY);
  const boxes = Array.from({ length: zonesX * zonesY }, (_, i) =>
    zoneBox(grid, i % zonesX, Math.floor(i / zonesX)),
  );
  for (const panel of panels) {
    for (const [i, box] of boxes.entries()) {
      if (held[i] === 0 && boxesMeet(panel.box, box) && covers(panel, box)) held[i] = 1;
    }
  }
  const needed = neededPages(grid.columns, grid.rows, held);
  const cells: Cell[] = [];
  for (let row = 0; row < grid.rows; row++) {
    for (let column = 0; column < grid.columns; column++) {
      if (needed[row * grid.columns + column] === 1) cells.push({ column, row });
    }
  }
  return cells;
}

function zoneBox(grid: Grid, zx: number, zy: number): Box {
  const [left, right] = zoneSpan(zx, stepX(grid), grid.overlap, grid.columns);
  const [top, bottom] = zoneSpan(zy, stepY(grid), grid.overlap, grid.rows);
  return {
    minX: grid.corner.x + left,
    maxX: grid.corner.x + right,
    minY: grid.corner.y - bottom,
    maxY: grid.corner.y - top,
  };
}

/** Ink crosses the box, or the box lies on the panel's material throughout. */
function covers(panel: PrintedPanel, box: Box): boolean {
  for (const [a, b] of inkSegments(panel)) {
    if (boxesMeet(boxOf([a, b]), box) && insideRange(a, b, box)) return true;
  }
  return onPanel(panel, { x: (box.minX + box.maxX) / 2, y: (box.minY + box.maxY) / 2 });
}
