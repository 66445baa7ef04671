/**
 * The first answer: items one after the other, each as far left, then as low, as it goes, dents and holes that are
 * left open included. Bins are cut into rows of equal height; along a row positions are exact, across rows an item is
 * taken as wide as it is anywhere within the row. So the answer is free of overlap without any no-fit polygon, for
 * outlines of any number of vertices, in a few milliseconds. Places across the rows are whole rows, which costs a
 * little density: the search that follows takes it back.
 */
import type { Board } from './board';
import { type FormTable, turnPoint } from './forms';

const rowsPerBin = 200;

/** Stretches along x that a form covers in each row, from its box's left side. */
interface Profile {
  readonly rows: number;
  /** Stretches of row r are from[r] … from[r + 1]. */
  readonly from: Int32Array;
  readonly low: Float64Array;
  readonly high: Float64Array;
}

/** What is taken in one row: sorted stretches that do not touch. */
interface Taken {
  low: number[];
  high: number[];
}

/** Orders in which the first answer is tried. */
export function constructOrders(board: Board): number[][] {
  const movable = board.items.map((_, i) => i).filter((i) => !board.fixed[i]);
  const at = (i: number) => board.items[i]!.form * board.table.turns + board.items[i]!.turns[0]!;
  const width = (i: number) => board.table.maxX[at(i)]! - board.table.minX[at(i)]!;
  const height = (i: number) => board.table.maxY[at(i)]! - board.table.minY[at(i)]!;
  const by = (key: (i: number) => number) => [...movable].sort((a, b) => key(b) - key(a) || a - b);
  return [
    by((i) => board.items[i]!.area),
    by((i) => width(i) * height(i)),
    by((i) => Math.max(width(i), height(i))),
  ];
}

export interface ConstructOptions {
  /** Only every so many of the table's turns are tried: fewer turns are now and then the better answer. */
  readonly everyTurn?: number;
  /** Movable items that stay where they are. */
  readonly lying?: readonly number[];
}

/** Puts the items, in the order given, into the bins in use; returns those for which no bin had room. */
export function construct(
  board: Board,
  order: readonly number[],
  { everyTurn = 1, lying = [] }: ConstructOptions = {},
): number[] {
  const { table } = board;
  const heights = Array.from(
    { length: board.bins },
    (_, b) => (board.binMaxY[b]! - board.binMinY[b]!) / rowsPerBin,
  );
  const taken = heights.map(() => Array.from({ length: rowsPerBin }, (): Taken => ({ low: [], high: [] })));
  const profiles = new Map<string, Profile>();
  const profileOf = (form: number, turn: number, bin: number): Profile => {
    const key = `${form},${turn},${heights[bin]}`;
    let profile = profiles.get(key);
    if (!profile) {
      profile = profileFor(table, form, turn, heights[bin]!);
      profiles.set(key, profile);
    }
    return profile;
  };
  const staying = new Set(lying);
  for (let i = 0; i < board.n; i++)
    if ((board.fixed[i] || staying.has(i)) && board.bin[i]! < board.bins)
      occupyLying(board, i, heights, taken);
  const left: number[] = [];
  for (const i of order) {
    let best: { x: number; row: number; turn: number; form: number; bin: number; end: number } | null = null;
    for (let bin = 0; bin < board.bins && !best; bin++) {
      for (const form of board.items[i]!.forms)
        for (const turn of board.items[i]!.turns) {
          if (turn % everyTurn !== 0 || !board.fitsBin(form, turn, bin)) continue;
          const profile = profileOf(form, turn, bin);
          const width = table.maxX[form * table.turns + turn]! - table.minX[form * table.turns + turn]!;
          const limit = Math.min(board.binMaxX[bin]! - width, best ? best.end - width - 1e-6 : Infinity);
          const place = leftmost(profile, taken[bin]!, board.binMinX[bin]!, limit);
          if (place) best = { ...place, turn, form, bin, end: place.x + width };
        }
    }
    if (!best) {
      left.push(i);
      continue;
    }
    const at = best.form * table.turns + best.turn;
    occupy(profileOf(best.form, best.turn, best.bin), taken[best.bin]!, best.row, best.x);
    board.put(
      i,
      best.x - table.minX[at]!,
      board.binMinY[best.bin]! + best.row * heights[best.bin]! - table.minY[at]!,
      best.turn,
      best.form,
      best.bin,
    );
  }
  return left;
}

/** The leftmost place over all rows, at most at `limit`; of equal ones the lowest. */
function leftmost(profile: Profile, taken: readonly Taken[], start: number, limit: number) {
  let best: { x: number; row: number } | null = null;
  let most = limit;
  for (let row = 0; row + profile.rows <= taken.length; row++) {
    const x = pushRight(profile, taken, row, start, most);
    if (x > most) continue;
    best = { x, row };
    most = x - 1e-9;
  }
  return best;
}

/** The least x ≥ start at which the profile is free at this row; anything over `limit` when there is none. */
function pushRight(profile: Profile, taken: readonly Taken[], row: number, start: number, limit: number) {
  const { rows, from, low, high } = profile;
  let x = start;
  for (let calm = 0, r = 0; calm < rows; r = r + 1 === rows ? 0 : r + 1) {
    const line = taken[row + r]!;
    let moved = false;
    for (let s = from[r]!; s < from[r + 1]!; s++) {
      for (let k = 0; k < line.low.length; k++) {
        if (line.high[k]! <= x + low[s]! + 1e-9) continue;
        if (line.low[k]! >= x + high[s]! - 1e-9) break;
        x = line.high[k]! - low[s]!;
        moved = true;
      }
    }
    if (x > limit) return x;
    calm = moved ? 0 : calm + 1;
  }
  return x;
}

function occupy(profile: Profile, taken: readonly Taken[], row: number, x: number): void {
  for (let r = 0; r < profile.rows; r++)
    for (let s = profile.from[r]!; s < profile.from[r + 1]!; s++)
      take(taken[row + r]!, x + profile.low[s]!, x + profile.high[s]!);
}

function take(line: Taken, low: number, high: number): void {
  let k = 0;
  while (k < line.low.length && line.high[k]! < low - 1e-9) k++;
  let end = k;
  let [from, to] = [low, high];
  while (end < line.low.length && line.low[end]! <= high + 1e-9) {
    from = Math.min(from, line.low[end]!);
    to = Math.max(to, line.high[end]!);
    end++;
  }
  line.low.splice(k, end - k, from);
  line.high.splice(k, end - k, to);
}

/** What lies already lies anywhere, not on whole rows: it takes every row that it reaches into. */
function occupyLying(board: Board, i: number, heights: readonly number[], taken: readonly Taken[][]): void {
  const bin = board.bin[i]!;
  const height = heights[bin]!;
  const at = board.form[i]! * board.table.turns + board.turn[i]!;
  const bottom = board.y[i]! + board.table.minY[at]! - board.binMinY[bin]!;
  const first = Math.floor(bottom / height);
  const profile = profileFor(board.table, board.form[i]!, board.turn[i]!, height, bottom - first * height);
  for (let r = 0; r < profile.rows; r++) {
    const line = taken[bin]![first + r];
    if (!line) continue;
    for (let s = profile.from[r]!; s < profile.from[r + 1]!; s++)
      take(line, board.boxMinX[i]! + profile.low[s]!, board.boxMinX[i]! + profile.high[s]!);
  }
}

/** @param lift how far above the lower rim of its first row the form begins */
function profileFor(table: FormTable, form: number, turn: number, height: number, lift = 0): Profile {
  const at = form * table.turns + turn;
  const [minX, minY] = [table.minX[at]!, table.minY[at]!];
  const rings = table.forms[form]!.rings.map((ring) =>
    ring.map((p) => {
      const q = turnPoint(p, table.cos[turn]!, table.sin[turn]!);
      return { x: q.x - minX, y: q.y - minY + lift };
    }),
  );
  const top = table.maxY[at]! - minY + lift;
  const rows = Math.max(1, Math.ceil(top / height - 1e-9));
  const stretches: { low: number; high: number }[][] = Array.from({ length: rows }, () => []);
  for (const ring of rings)
    for (let k = 0; k < ring.length; k++) {
      const a = ring[k]!;
      const b = ring[(k + 1) % ring.length]!;
      const [down, up] = a.y <= b.y ? [a, b] : [b, a];
      const first = Math.max(0, Math.floor(down.y / height - 1e-9));
      const last = Math.min(rows - 1, Math.floor(up.y / height + 1e-9));
      for (let r = first; r <= last; r++) {
        const xAt = (y: number) => {
          const span = up.y - down.y;
          const t = span <= 0 ? 0 : Math.min(1, Math.max(0, (y - down.y) / span));
          return down.x + t * (up.x - down.x);
        };
        const flat = up.y - down.y <= 1e-12;
        const [p, q] = flat ? [down.x, up.x] : [xAt(r * height), xAt((r + 1) * height)];
        stretches[r]!.push({ low: Math.min(p, q), high: Math.max(p, q) });
      }
    }
  for (let r = 0; r < rows; r++)
    for (const part of [1e-6, 0.5, 1 - 1e-6]) addSection(rings, (r + part) * height, stretches[r]!);
  const from = new Int32Array(rows + 1);
  const low: number[] = [];
  const high: number[] = [];
  stretches.forEach((list, r) => {
    list.sort((p, q) => p.low - q.low);
    for (const s of list) {
      if (low.length > from[r]! && s.low <= high[high.length - 1]! + 1e-9)
        high[high.length - 1] = Math.max(high[high.length - 1]!, s.high);
      else {
        low.push(s.low);
        high.push(s.high);
      }
    }
    from[r + 1] = low.length;
  });
  return { rows, from, low: Float64Array.from(low), high: Float64Array.from(high) };
}

/** The inside of the rings along the line at y. */
function addSection(
  rings: readonly (readonly { x: number; y: number }[])[],
  y: number,
  into: { low: number; high: number }[],
): void {
  const xs: number[] = [];
  for (const ring of rings)
    for (let k = 0; k < ring.length; k++) {
      const a = ring[k]!;
      const b = ring[(k + 1) % ring.length]!;
      if (a.y > y !== b.y > y) xs.push(a.x + ((y - a.y) * (b.x - a.x)) / (b.y - a.y));
    }
  xs.sort((p, q) => p - q);
  for (let k = 0; k + 1 < xs.length; k += 2) into.push({ low: xs[k]!, high: xs[k + 1]! });
}
