/**
 * The state of a search: where every item lies, how deep each pair overlaps, and what the search thinks of each pair
 * (weights). Items lie in bins, rectangles side by side on one axis and so far apart that boxes of different bins never
 * meet; "which sheet" is then only a place. Flat typed arrays throughout: this is where the time goes.
 */
import type { FormTable } from './forms';
import { formPoles, freeDepth } from './tolerance';

/** A rectangle for items. */
export interface Bin {
  readonly minX: number;
  readonly minY: number;
  readonly maxX: number;
  readonly maxY: number;
}

export interface Item {
  readonly form: number;
  /** Other forms that the item may take on (its mirror image), `form` included. */
  readonly forms: readonly number[];
  /** Turns that are allowed, as indices of the table's turns. */
  readonly turns: readonly number[];
  /** Never moved. */
  readonly fixed: boolean;
  readonly area: number;
}

/** Everything that a search changes, to be put back later. */
export interface Saved {
  readonly x: Float64Array;
  readonly y: Float64Array;
  readonly turn: Int32Array;
  readonly form: Int32Array;
  readonly bin: Int32Array;
}

export class Board {
  readonly n: number;
  readonly x: Float64Array;
  readonly y: Float64Array;
  readonly turn: Int32Array;
  readonly form: Int32Array;
  readonly bin: Int32Array;
  readonly fixed: Uint8Array;
  readonly boxMinX: Float64Array;
  readonly boxMinY: Float64Array;
  readonly boxMaxX: Float64Array;
  readonly boxMaxY: Float64Array;
  /** Circles inside each item. */
  readonly poleX: Float64Array;
  readonly poleY: Float64Array;
  readonly poleRadius: Float64Array;
  /** Items that {@link cost} has to look at, and how deep they overlap at least, times their weight. */
  private readonly met: Int32Array;
  private readonly least: Float64Array;
  /** Depth of each pair at the present places, n × n, symmetric. */
  readonly depth: Float64Array;
  /** What the search thinks of each pair, times its size; the size at least. */
  readonly weight: Float64Array;
  /** Size factor of each pair: the fourth root of the product of areas. */
  readonly size: Float64Array;
  readonly binMinX: Float64Array;
  readonly binMinY: Float64Array;
  readonly binMaxX: Float64Array;
  readonly binMaxY: Float64Array;
  /** Bins in use, from the first: may be lowered. */
  bins: number;
  /** Evaluations so far: the budget of runs that must be the same everywhere. */
  evaluations = 0;

  constructor(
    readonly table: FormTable,
    readonly items: readonly Item[],
    bins: readonly Bin[],
  ) {
    const n = items.length;
    this.n = n;
    this.x = new Float64Array(n);
    this.y = new Float64Array(n);
    this.turn = new Int32Array(n);
    this.form = Int32Array.from(items, (i) => i.form);
    this.bin = new Int32Array(n);
    this.fixed = Uint8Array.from(items, (i) => (i.fixed ? 1 : 0));
    this.boxMinX = new Float64Array(n);
    this.boxMinY = new Float64Array(n);
    this.boxMaxX = new Float64Array(n);
    this.boxMaxY = new Float64Array(n);
    this.poleX = new Float64Array(n * formPoles);
    this.poleY = new Float64Array(n * formPoles);
    this.poleRadius = new Float64Array(n * formPoles);
    this.met = new Int32Array(n);
    this.least = new Float64Array(n);
    this.depth = new Float64Array(n * n);
    this.weight = new Float64Array(n * n);
    this.size = new Float64Array(n * n);
    for (let i = 0; i < n; i++)
      for (let j = 0; j < n; j++) this.size[i * n + j] = (items[i]!.area * items[j]!.area) ** 0.25;
    this.weight.set(this.size);
    this.bins = bins.length;
    this.binMinX = Float64Array.from(bins, (b) => b.minX);
    this.binMinY = Float64Array.from(bins, (b) => b.minY);
    this.binMaxX = Float64Array.from(bins, (b) => b.maxX);
    this.binMaxY = Float64Array.from(bins, (b) => b.maxY);
  }

  /** Puts an item without looking at overlaps; see {@link refresh}. */
  put(i: number, x: number, y: number, turn: number, form: number, bin: number): void {
    const at = form * this.table.turns + turn;
    this.x[i] = x;
    this.y[i] = y;
    this.turn[i] = turn;
    this.form[i] = form;
    this.bin[i] = bin;
    this.boxMinX[i] = x + this.table.minX[at]!;
    this.boxMinY[i] = y + this.table.minY[at]!;
    this.boxMaxX[i] = x + this.table.maxX[at]!;
    this.boxMaxY[i] = y + this.table.maxY[at]!;
    for (let k = 0; k < formPoles; k++) {
      this.poleX[i * formPoles + k] = x + this.table.poleX[at * formPoles + k]!;
      this.poleY[i * formPoles + k] = y + this.table.poleY[at * formPoles + k]!;
      this.poleRadius[i * formPoles + k] = this.table.poleRadius[form * formPoles + k]!;
    }
  }

  /** Whether form and turn fit into the bin at all. */
  fitsBin(form: number, turn: number, bin: number): boolean {
    const at = form * this.table.turns + turn;
    const t = this.table;
    return (
      t.maxX[at]! - t.minX[at]! <= this.binMaxX[bin]! - this.binMinX[bin]! &&
      t.maxY[at]! - t.minY[at]! <= this.binMaxY[bin]! - this.binMinY[bin]!
    );
  }

  /** The nearest x at which the form stays within the bin. */
  clampX(x: number, form: number, turn: number, bin: number): number {
    const at = form * this.table.turns + turn;
    const high = this.binMaxX[bin]! - this.table.maxX[at]!;
    const low = this.binMinX[bin]! - this.table.minX[at]!;
    const v = Math.min(x, high);
    return Math.max(v, low);
  }

  clampY(y: number, form: number, turn: number, bin: number): number {
    const at = form * this.table.turns + turn;
    const high = this.binMaxY[bin]! - this.table.maxY[at]!;
    const low = this.binMinY[bin]! - this.table.minY[at]!;
    const v = Math.min(y, high);
    return Math.max(v, low);
  }

  /** Depth of item i, as if it lay at (x, y) with this turn and form, against item j. Boxes are not looked at. */
  private pairDepth(x: number, y: number, turn: number, form: number, j: number): number {
    const { table } = this;
    const turns = table.turns;
    const formJ = this.form[j]!;
    const turnJ = this.turn[j]!;
    let dx: number;
    let dy: number;
    let a: number;
    let b: number;
    let base: number;
    let relative: number;
    if (form <= formJ) {
      a = form;
      b = formJ;
      base = turn;
      relative = turnJ - turn;
      dx = this.x[j]! - x;
      dy = this.y[j]! - y;
    } else {
      a = formJ;
      b = form;
      base = turnJ;
      relative = turn - turnJ;
      dx = x - this.x[j]!;
      dy = y - this.y[j]!;
    }
    if (relative < 0) relative += turns;
    let k = table.pairAt[(a * table.forms.length + b) * turns + relative]!;
    if (k < 0) k = table.pair(a, b, relative);
    if (base === 0) return table.pool.depth(k, dx, dy);
    const c = table.cos[base]!;
    const s = table.sin[base]!;
    return table.pool.depth(k, c * dx + s * dy, c * dy - s * dx);
  }

  /** The weighted overlap of item i where it lies. */
  presentCost(i: number): number {
    const { n, depth, weight } = this;
    let sum = 0;
    for (let k = i * n, end = k + n; k < end; k++) if (depth[k]! > 0) sum += depth[k]! * weight[k]!;
    return sum;
  }

  /** The weighted overlap that item i would have at (x, y), given up as soon as it is sure to pass `limit`. */
  cost(i: number, x: number, y: number, turn: number, form: number, limit: number): number {
    this.evaluations++;
    const { n, table, weight, boxMinX, boxMinY, boxMaxX, boxMaxY, met, least } = this;
    const at = form * table.turns + turn;
    const minX = x + table.minX[at]!;
    const minY = y + table.minY[at]!;
    const maxX = x + table.maxX[at]!;
    const maxY = y + table.maxY[at]!;
    const row = i * n;
    let sum = 0;
    let count = 0;
    let deepest = 0;
    for (let j = 0; j < n; j++) {
      if (boxMaxX[j]! <= minX || boxMinX[j]! >= maxX || boxMaxY[j]! <= minY || boxMinY[j]! >= maxY || j === i)
        continue;
      const low = this.leastDepth(x, y, at * formPoles, form * formPoles, j * formPoles) * weight[row + j]!;
      sum += low;
      if (sum >= limit) return sum;
      // The one that is likely to end the sum comes first.
      const to = low > deepest ? 0 : count;
      met[count] = met[to]!;
      least[count++] = least[to]!;
      met[to] = j;
      least[to] = low;
      if (low > deepest) deepest = low;
    }
    for (let k = 0; k < count; k++) {
      const j = met[k]!;
      const d = this.pairDepth(x, y, turn, form, j);
      sum -= least[k]!;
      if (d > freeDepth) {
        sum += d * weight[row + j]!;
        if (sum >= limit) return sum;
      }
    }
    // What has been taken off again leaves dust.
    return sum < freeDepth * 1e-6 ? 0 : sum;
  }

  /** What circle lies deepest in a circle of item j: the whole lies as deep at least. */
  private leastDepth(x: number, y: number, placeAt: number, radiusAt: number, jAt: number): number {
    const { table, poleX, poleY, poleRadius } = this;
    let deepest = 0;
    for (let p = 0; p < formPoles; p++) {
      const px = x + table.poleX[placeAt + p]!;
      const py = y + table.poleY[placeAt + p]!;
      const r = table.poleRadius[radiusAt + p]!;
      for (let q = jAt; q < jAt + formPoles; q++) {
        const near = r + poleRadius[q]! - deepest;
        const dx = poleX[q]! - px;
        const dy = poleY[q]! - py;
        const d = dx * dx + dy * dy;
        if (near > 0 && d < near * near) deepest += near - Math.sqrt(d);
      }
    }
    return deepest;
  }

  /** Measures item i against all others again. */
  refresh(i: number): void {
    const { n, depth } = this;
    const minX = this.boxMinX[i]!;
    const minY = this.boxMinY[i]!;
    const maxX = this.boxMaxX[i]!;
    const maxY = this.boxMaxY[i]!;
    for (let j = 0; j < n; j++) {
      let d = 0;
      if (
        j !== i &&
        this.boxMaxX[j]! > minX &&
        this.boxMinX[j]! < maxX &&
        this.boxMaxY[j]! > minY &&
        this.boxMinY[j]! < maxY
      ) {
        d = this.pairDepth(this.x[i]!, this.y[i]!, this.turn[i]!, this.form[i]!, j);
        if (d <= freeDepth) d = 0;
      }
      depth[i * n + j] = d;
      depth[j * n + i] = d;
    }
  }

  refreshAll(): void {
    for (let i = 0; i < this.n; i++) this.refresh(i);
  }

  overlaps(i: number): boolean {
    const { n, depth } = this;
    for (let k = i * n, end = k + n; k < end; k++) if (depth[k]! > 0) return true;
    return false;
  }

  /** Sum of depths over all pairs that can still part: fixed items among themselves are not looked at. */
  totalDepth(): number {
    const { n, depth, fixed } = this;
    let sum = 0;
    for (let i = 0; i < n; i++)
      for (let j = i + 1; j < n; j++) if (!fixed[i] || !fixed[j]) sum += depth[i * n + j]!;
    return sum;
  }

  /** Sum of depths times pair sizes: what one layout is compared with another by. */
  totalOverlap(): number {
    const { n, depth, size, fixed } = this;
    let sum = 0;
    for (let i = 0; i < n; i++)
      for (let j = i + 1; j < n; j++) if (!fixed[i] || !fixed[j]) sum += depth[i * n + j]! * size[i * n + j]!;
    return sum;
  }

  /** The rightmost point of all movable items in a bin; −∞ when there is none. */
  reachX(bin: number): number {
    let reach = Number.NEGATIVE_INFINITY;
    for (let i = 0; i < this.n; i++)
      if (!this.fixed[i] && this.bin[i] === bin && this.boxMaxX[i]! > reach) reach = this.boxMaxX[i]!;
    return reach;
  }

  /** @param into a state of this board that is no longer wanted, to be written over */
  save(into?: Saved): Saved {
    if (into) {
      into.x.set(this.x);
      into.y.set(this.y);
      into.turn.set(this.turn);
      into.form.set(this.form);
      into.bin.set(this.bin);
      return into;
    }
    return {
      x: this.x.slice(),
      y: this.y.slice(),
      turn: this.turn.slice(),
      form: this.form.slice(),
      bin: this.bin.slice(),
    };
  }

  /** Puts everything back and measures again; items that stick out of their bin are pushed in. */
  restore(saved: Saved): void {
    for (let i = 0; i < this.n; i++) {
      const [f, t, b] = [saved.form[i]!, saved.turn[i]!, saved.bin[i]!];
      if (this.fixed[i]) this.put(i, saved.x[i]!, saved.y[i]!, t, f, b);
      else this.put(i, this.clampX(saved.x[i]!, f, t, b), this.clampY(saved.y[i]!, f, t, b), t, f, b);
    }
    this.refreshAll();
  }
}
