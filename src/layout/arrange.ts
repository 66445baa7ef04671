/**
 * Where every panel goes and which pages that takes. Several strip widths, orders and packing habits are tried, in both
 * orientations when the person leaves that open; the fewest pages win, then the fewest panels cut by a page border.
 * The same input always gives the same arrangement.
 */
import type { Work } from '../base';
import type { Point } from '../math';
import type { PageDecisions } from '../model';
import type { Mm } from '../units';
import { type Grid, heightOf, neededPages, widthOf, zoneAt, zonesAlong } from './grid';
import { type Habit, habits, orders, packPages, packStrip, type Spot, sortedBy } from './pack';
import type { PageFormat } from './pageFormat';
import type { Profiled } from './profile';
import { blockGap, rimGap } from './tolerance';

/** A panel's place: its quarter turn about its own origin, then the move. Layout space, y up. */
interface Place {
  readonly panel: number;
  readonly turn: number;
  readonly move: Point;
}

export interface Arrangement {
  readonly format: PageFormat;
  readonly places: readonly Place[];
  /** Pages that join up; null when every panel stands whole on its own page. */
  readonly grid: Grid | null;
  /** Pages that stand by themselves: one-page grids with the name they get. */
  readonly single: readonly { readonly grid: Grid; readonly column: number; readonly row: number }[];
}

/** More columns than this are not tried: the pages of one row would no longer fit a table. */
const mostColumns = 7;
const refined = 5;
/** Strip widths that are looked into closely. */
const promising = 3;

/** Chooses the arrangement. @throws Cancelled through `work`. */
export async function arrange(
  panels: readonly Profiled[],
  formats: readonly PageFormat[],
  how: PageDecisions['arrangement'],
  work: Work,
): Promise<Arrangement | null> {
  let best: { arrangement: Arrangement; score: number } | null = null;
  for (const format of formats) {
    // Uncut panels are welcome in tiled mode too where they take fewer pages; the score says so.
    const whole = await arrangeWhole(panels, format, work);
    const tiled = how === 'tiled' ? await arrangeTiled(panels, all(panels), format, work) : null;
    for (const found of [tiled, whole])
      if (found && (best === null || found.score < best.score)) best = found;
  }
  return best?.arrangement ?? null;
}

const all = (panels: readonly Profiled[]): number[] => panels.map((_, i) => i);

interface Scored {
  readonly arrangement: Arrangement;
  readonly score: number;
}

/** One large drawing, cut into pages. */
async function arrangeTiled(
  panels: readonly Profiled[],
  chosen: readonly number[],
  format: PageFormat,
  work: Work,
): Promise<Scored | null> {
  const subset = chosen.map((i) => panels[i]!);
  const widest = Math.max(0, ...subset.map((p) => Math.min(...p.shapes.map((s) => s.near.length * p.step))));
  const area = subset.reduce((sum, p) => sum + p.area, 0);
  const square = Math.ceil((1.5 * Math.sqrt(area)) / format.tile.width) + 1;
  const least = columnsFor(widest, format);
  const most = Math.max(least, Math.min(mostColumns, square));
  const widths = Array.from({ length: most - least + 1 }, (_, i) => least + i);
  const sequences = orders.map((order) => sortedBy(order, subset));
  const tries: (Tried & { readonly score: number })[] = [];
  const attempt = (columns: number, sequence: readonly number[], habit: Habit) => {
    const spots = packStrip(subset, sequence, widthOf(format, columns) - 2 * rimGap, habit);
    if (!spots) return;
    const tried = { columns, spots, ...extentOf(spots) };
    tries.push({ ...tried, score: scoreOf(tried, format, 0, 0) });
  };
  // A first look at every width, then all orders and habits at the widths that look best.
  const total = widths.length + Math.min(promising, widths.length) * sequences.length;
  let done = 0;
  for (const columns of widths) {
    await work.step(done++, total, 'Placing panels');
    attempt(columns, sequences[0]!, habits[0]!);
  }
  const likely = [...tries].sort((a, b) => a.score - b.score).slice(0, promising);
  for (const { columns } of likely) {
    for (const [i, sequence] of sequences.entries()) {
      await work.step(done++, total, 'Placing panels');
      for (const [k, habit] of habits.entries()) if (i + k > 0) attempt(columns, sequence, habit);
    }
  }
  tries.sort((a, b) => a.score - b.score);
  let best: { tried: Tried; shiftX: number; shiftY: number; score: number } | null = null;
  for (const tried of tries.slice(0, refined)) {
    for (const [shiftX, shiftY, dislike] of shifts) {
      const score = scoreOf(tried, format, shiftX, shiftY) + dislike;
      if (best === null || score < best.score) best = { tried, shiftX, shiftY, score };
    }
  }
  if (best === null) return null;
  const { tried, shiftX, shiftY, score } = best;
  const rows = rowsFor(tried.depth, format);
  const grid: Grid = {
    corner: { x: 0, y: 0 },
    columns: tried.columns,
    rows,
    tile: format.tile,
    overlap: format.overlap,
  };
  const off = offsets(tried, format, shiftX, shiftY);
  const places = tried.spots.map((s) => placeOf(s, chosen[s.panel]!, off.x, -off.y));
  return { arrangement: { format, places, grid, single: [] }, score };
}

interface Tried {
  readonly columns: number;
  readonly spots: readonly Spot[];
  readonly width: Mm;
  readonly depth: Mm;
}

/**
 * Parts of the free room left of and above the panels. None is preferred: free room in one stretch to the right and
 * below is where check squares go.
 */
const shifts: readonly (readonly [number, number, number])[] = [0, 1, 0.5].flatMap((y) =>
  [0, 1, 0.5].map((x) => [x, y, 0.01 * (x + y)] as const),
);

function extentOf(spots: readonly Spot[]): { width: Mm; depth: Mm } {
  return {
    width: Math.max(0, ...spots.map((s) => s.x + s.shape.width)),
    depth: Math.max(0, ...spots.map((s) => s.depth + s.shape.height)),
  };
}

function columnsFor(width: Mm, format: PageFormat): number {
  return Math.max(1, Math.ceil((width + 2 * rimGap - format.overlap) / (format.tile.width - format.overlap)));
}

function rowsFor(depth: Mm, format: PageFormat): number {
  return Math.max(
    1,
    Math.ceil((depth + 2 * rimGap - format.overlap) / (format.tile.height - format.overlap)),
  );
}

/** Where the packed strip starts, right and down from the grid's upper-left corner. */
function offsets(tried: Tried, format: PageFormat, shiftX: number, shiftY: number): Point {
  const freeX = widthOf(format, tried.columns) - 2 * rimGap - tried.width;
  const freeY = heightOf(format, rowsFor(tried.depth, format)) - 2 * rimGap - tried.depth;
  return { x: rimGap + shiftX * Math.max(0, freeX), y: rimGap + shiftY * Math.max(0, freeY) };
}

/** Pages first, then panels cut and a compact shape: long bands of pages are awkward to join and to look at. */
function scoreOf(tried: Tried, format: PageFormat, shiftX: number, shiftY: number): number {
  const rows = rowsFor(tried.depth, format);
  const { columns } = tried;
  const off = offsets(tried, format, shiftX, shiftY);
  const sx = format.tile.width - format.overlap;
  const sy = format.tile.height - format.overlap;
  const zonesX = zonesAlong(columns);
  const held = new Uint8Array(zonesX * zonesAlong(rows));
  const shownBy = new Int32Array(held.length).fill(-1);
  let shown = 0;
  for (const [index, spot] of tried.spots.entries()) {
    const { cells } = spot.shape;
    let own = 0;
    for (let i = 0; i < cells.length; i += 2) {
      const zx = zoneAt(off.x + spot.x + cells[i]!, sx, format.overlap, columns);
      const zy = zoneAt(off.y + spot.depth + cells[i + 1]!, sy, format.overlap, rows);
      const zone = zy * zonesX + zx;
      if (shownBy[zone] === index) continue;
      shownBy[zone] = index;
      held[zone] = 1;
      if (zx % 2 === 0 && zy % 2 === 0) own++;
    }
    shown += Math.max(1, own);
  }
  const pages = neededPages(columns, rows, held).reduce((sum, p) => sum + p, 0);
  const width = widthOf(format, columns);
  const height = heightOf(format, rows);
  const slender = Math.max(width / height, height / width);
  return 1000 * pages + 3 * (shown - tried.spots.length) + 4 * slender + 0.1 * columns * rows;
}

/** From a packed spot to a turn and a move; the strip starts at (left, top). */
function placeOf(spot: Spot, panel: number, left: Mm, top: Mm): Place {
  const { box, turn } = spot.shape;
  return { panel, turn, move: { x: left + spot.x - box.minX, y: top - spot.depth - box.maxY } };
}

/** Every panel whole on a page; those larger than a page together on pages that join up. */
async function arrangeWhole(
  panels: readonly Profiled[],
  format: PageFormat,
  work: Work,
): Promise<Scored | null> {
  const size = { width: format.tile.width - 2 * rimGap, height: format.tile.height - 2 * rimGap };
  let best: ReturnType<typeof packPages> | null = null;
  for (const [i, order] of orders.entries()) {
    await work.step(i, orders.length, 'Placing panels');
    for (const habit of habits) {
      const packed = packPages(panels, sortedBy(order, panels), size, habit);
      if (best === null || packed.pages.length < best.pages.length) best = packed;
    }
  }
  if (best === null) return null;
  const large =
    best.tooLarge.length > 0
      ? await arrangeTiled(
          panels,
          [...best.tooLarge].sort((a, b) => a - b),
          format,
          work,
        )
      : null;
  const grid = large?.arrangement.grid ?? null;
  const count = best.pages.length;
  const across = Math.max(
    grid?.columns ?? 1,
    Math.ceil(Math.sqrt((count * format.tile.height) / format.tile.width)),
  );
  const below = grid ? -heightOf(format, grid.rows) - blockGap : 0;
  const places: Place[] = [...(large?.arrangement.places ?? [])];
  const single = best.pages.map((spots, i) => {
    const column = i % across;
    const row = Math.floor(i / across);
    const corner = {
      x: column * (format.tile.width + blockGap),
      y: below - row * (format.tile.height + blockGap),
    };
    places.push(...spots.map((s) => placeOf(s, s.panel, corner.x + rimGap, corner.y - rimGap)));
    return {
      grid: { corner, columns: 1, rows: 1, tile: format.tile, overlap: format.overlap },
      column,
      row: row + (grid?.rows ?? 0),
    };
  });
  return { arrangement: { format, places, grid, single }, score: (large?.score ?? 0) + 1000 * count };
}
