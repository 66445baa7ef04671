/**
 * A panel reduced to what placing needs: for each of its four quarter turns the near and far border of its ink column
 * by column, and the coarse cells that it covers. Columns and borders are conservative: no ink lies outside them.
 */
import type { Box, Point } from '../math';
import type { Mm } from '../units';
import { inkSegments, onPanel, type PrintedPanel } from './printed';
import { coarsestProfile, finestProfile, profileParts, scoreColumns } from './tolerance';

export interface Shape {
  /** Quarter turns counter-clockwise. */
  readonly turn: number;
  /** Bounds of the turned ink, before moving. */
  readonly box: Box;
  readonly width: Mm;
  readonly height: Mm;
  /** Distance of the ink's first and last reach from the upper side of the box, per column. */
  readonly near: Float64Array;
  readonly far: Float64Array;
  /** Middles of the covered cells from the box's upper-left corner, x right, y down, in pairs. */
  readonly cells: Float64Array;
}

export interface Profiled {
  readonly panel: string;
  /** Width of the columns. */
  readonly step: Mm;
  readonly shapes: readonly Shape[];
  readonly area: number;
}

/** Width of the profile columns for these panels together. */
export function profileStepFor(panels: readonly PrintedPanel[]): Mm {
  const area = panels.reduce((sum, { box }) => sum + (box.maxX - box.minX) * (box.maxY - box.minY), 0);
  return Math.min(coarsestProfile, Math.max(finestProfile, Math.sqrt(area) / profileParts));
}

/** Profiles of a panel that is printed unturned. */
export function profilePanel(printed: PrintedPanel, step: Mm): Profiled {
  const segments = [...inkSegments(printed)];
  const cell = scoreColumns * step;
  const cells = coveredCells(printed, segments, cell);
  const shapes = [0, 1, 2, 3].map((turn) => shapeOf(turn, segments, cells, step));
  return { panel: printed.panel, step, shapes, area: cells.length * cell * cell };
}

/** A point turned by quarter turns counter-clockwise, exactly. */
function quarterTurn(p: Point, turn: number): Point {
  switch (turn) {
    case 1:
      return { x: -p.y, y: p.x };
    case 2:
      return { x: -p.x, y: -p.y };
    case 3:
      return { x: p.y, y: -p.x };
    default:
      return p;
  }
}

function shapeOf(
  turn: number,
  segments: readonly (readonly [Point, Point])[],
  cells: readonly Point[],
  step: Mm,
): Shape {
  const turned = turnedSegments(segments, turn);
  const box = boxOfAll(turned);
  const width = box.maxX - box.minX;
  const columns = Math.floor(width / step) + 1;
  const near = new Float64Array(columns).fill(Number.POSITIVE_INFINITY);
  const far = new Float64Array(columns).fill(Number.NEGATIVE_INFINITY);
  for (let i = 0; i < turned.length; i += 4) {
    const l = turned[i]! <= turned[i + 2]! ? i : i + 2;
    const r = l === i ? i + 2 : i;
    const [lx, ly, rx, ry] = [turned[l]!, turned[l + 1]!, turned[r]!, turned[r + 1]!];
    const first = Math.floor((lx - box.minX) / step);
    const last = Math.min(columns - 1, Math.floor((rx - box.minX) / step));
    const slope = rx === lx ? 0 : (ry - ly) / (rx - lx);
    for (let c = first; c <= last; c++) {
      const from = Math.max(lx, box.minX + c * step);
      const to = Math.min(rx, box.minX + (c + 1) * step);
      const y0 = ly + slope * (from - lx);
      const y1 = rx === lx ? ry : ly + slope * (to - lx);
      near[c] = Math.min(near[c]!, box.maxY - Math.max(y0, y1));
      far[c] = Math.max(far[c]!, box.maxY - Math.min(y0, y1));
    }
  }
  const flat = new Float64Array(cells.length * 2);
  cells.forEach((middle, i) => {
    const p = quarterTurn(middle, turn);
    flat[2 * i] = p.x - box.minX;
    flat[2 * i + 1] = box.maxY - p.y;
  });
  return { turn, box, width, height: box.maxY - box.minY, near, far, cells: flat };
}

/** Both ends of every segment turned by quarter turns, as x, y, x, y in turn: letters make them many. */
function turnedSegments(segments: readonly (readonly [Point, Point])[], turn: number): Float64Array {
  const out = new Float64Array(segments.length * 4);
  let at = 0;
  for (const ends of segments)
    for (const end of ends) {
      const p = turn === 0 ? end : quarterTurn(end, turn);
      out[at++] = p.x;
      out[at++] = p.y;
    }
  return out;
}

function boxOfAll(coordinates: Float64Array): Box {
  let [minX, minY] = [Number.POSITIVE_INFINITY, Number.POSITIVE_INFINITY];
  let [maxX, maxY] = [Number.NEGATIVE_INFINITY, Number.NEGATIVE_INFINITY];
  for (let i = 0; i < coordinates.length; i += 2) {
    const x = coordinates[i]!;
    const y = coordinates[i + 1]!;
    if (x < minX) minX = x;
    if (x > maxX) maxX = x;
    if (y < minY) minY = y;
    if (y > maxY) maxY = y;
  }
  return { minX, minY, maxX, maxY };
}

/** Middles of the grid cells that hold ink or lie on the panel. */
function coveredCells(
  printed: PrintedPanel,
  segments: readonly (readonly [Point, Point])[],
  cell: Mm,
): Point[] {
  const { minX, minY, maxX, maxY } = printed.box;
  const columns = Math.floor((maxX - minX) / cell) + 1;
  const rows = Math.floor((maxY - minY) / cell) + 1;
  const covered = new Uint8Array(columns * rows);
  const mark = (p: Point) => {
    const c = Math.min(columns - 1, Math.floor((p.x - minX) / cell));
    const r = Math.min(rows - 1, Math.floor((p.y - minY) / cell));
    covered[r * columns + c] = 1;
  };
  for (const [a, b] of segments) {
    const steps = Math.ceil(Math.hypot(b.x - a.x, b.y - a.y) / cell) + 1;
    for (let i = 0; i <= steps; i++)
      mark({ x: a.x + ((b.x - a.x) * i) / steps, y: a.y + ((b.y - a.y) * i) / steps });
  }
  const cells: Point[] = [];
  for (let r = 0; r < rows; r++) {
    for (let c = 0; c < columns; c++) {
      const middle = { x: minX + (c + 0.5) * cell, y: minY + (r + 0.5) * cell };
      if (covered[r * columns + c] === 1 || onPanel(printed, middle)) cells.push(middle);
    }
  }
  return cells;
}
