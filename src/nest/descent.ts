/**
 * Downhill for one item among others that stay: near a place, how deep the item lies in each neighbour is, to first
 * order, a distance from a line (the nearest edge of the no-fit polygon), so that the weighted overlap is a convex sum
 * of hinges, whose lowest point is found exactly by going from kink to kink. The item steps there; where the true
 * overlap has not fallen, the step is shortened. Few steps end where the item touches what holds it.
 */
import type { Board } from './board';
import { freeDepth } from './tolerance';

/** Per neighbour: x, y, cosine and sine of the frame of its no-fit polygon (with sign), weight. */
const stride = 5;
/** Weight of the walls of the region that a step may reach, times the sum of all others. */
const wall = 1e3;
const mostKinks = 16;
/** Nearer to a line than this is on it, mm. */
const touching = 1e-7;

/** Lines that a step looks at: the item is free of one when normal · shift ≥ depth. */
class Lines {
  readonly nx: Float64Array;
  readonly ny: Float64Array;
  readonly depth: Float64Array;
  readonly weight: Float64Array;
  count = 0;

  constructor(most: number) {
    this.nx = new Float64Array(most);
    this.ny = new Float64Array(most);
    this.depth = new Float64Array(most);
    this.weight = new Float64Array(most);
  }
}

export class Descent {
  /** The place that {@link run} found. */
  x = 0;
  y = 0;
  private readonly at: Float64Array;
  private readonly pair: Int32Array;
  private near = 0;
  private lines: Lines;
  private spare: Lines;
  private readonly left: Float64Array;
  private readonly hits: Float64Array;
  private stepX = 0;
  private stepY = 0;
  private nearX = 0;
  private nearY = 0;
  private reach = 0;

  constructor(private readonly board: Board) {
    this.at = new Float64Array(board.n * stride);
    this.pair = new Int32Array(board.n);
    this.lines = new Lines(board.n + 4);
    this.spare = new Lines(board.n + 4);
    this.left = new Float64Array(board.n + 4);
    this.hits = new Float64Array(board.n + 4);
  }

  /**
   * @param radius longest step
   * @param least steps shorter than this are not worth taking
   * @returns the weighted overlap at the place found, at most that at the start
   */
  run(
    i: number,
    x: number,
    y: number,
    turn: number,
    form: number,
    bin: number,
    radius: number,
    least: number,
  ): number {
    const { board } = this;
    const at = form * board.table.turns + turn;
    const lowX = board.binMinX[bin]! - board.table.minX[at]!;
    const lowY = board.binMinY[bin]! - board.table.minY[at]!;
    const highX = Math.max(lowX, board.binMaxX[bin]! - board.table.maxX[at]!);
    const highY = Math.max(lowY, board.binMaxY[bin]! - board.table.maxY[at]!);
    this.x = x;
    this.y = y;
    this.gather(i, x, y, turn, form, 2 * radius);
    let cost = this.linearise(x, y, radius, Number.POSITIVE_INFINITY);
    let room = radius;
    for (let step = 0; step < 20 && cost > 0; step++) {
      const { lines } = this;
      const m = lines.count;
      this.wallOff(
        Math.max(lowX - this.x, -room),
        Math.min(highX - this.x, room),
        Math.max(lowY - this.y, -room),
        Math.min(highY - this.y, room),
      );
      this.lowest();
      lines.count = m;
      const nx = Math.min(highX, Math.max(lowX, this.x + this.stepX));
      const ny = Math.min(highY, Math.max(lowY, this.y + this.stepY));
      const far = Math.max(Math.abs(nx - this.x), Math.abs(ny - this.y));
      if (far < 1e-7) break;
      if (Math.abs(nx - this.nearX) > this.reach || Math.abs(ny - this.nearY) > this.reach)
        this.gather(i, nx, ny, turn, form, 2 * radius);
      const held = this.lines;
      this.lines = this.spare;
      this.spare = held;
      const next = this.linearise(nx, ny, radius, cost);
      if (next < cost) {
        const gain = cost - next;
        this.x = nx;
        this.y = ny;
        cost = next;
        if (gain < cost * 1e-3) break;
      } else {
        this.spare = this.lines;
        this.lines = held;
        room = far * 0.35;
        if (room < least) break;
      }
    }
    return cost;
  }

  /** Lists what the item can reach from here. */
  private gather(i: number, x: number, y: number, turn: number, form: number, reach: number): void {
    const { board, at } = this;
    const { n, table, boxMinX, boxMinY, boxMaxX, boxMaxY } = board;
    const { turns } = table;
    const box = form * turns + turn;
    const minX = x + table.minX[box]! - reach;
    const minY = y + table.minY[box]! - reach;
    const maxX = x + table.maxX[box]! + reach;
    const maxY = y + table.maxY[box]! + reach;
    const row = i * n;
    let count = 0;
    for (let j = 0; j < n; j++) {
      if (boxMaxX[j]! <= minX || boxMinX[j]! >= maxX || boxMaxY[j]! <= minY || boxMinY[j]! >= maxY || j === i)
        continue;
      const formJ = board.form[j]!;
      const turnJ = board.turn[j]!;
      const isFirst = form <= formJ;
      const base = isFirst ? turn : turnJ;
      let relative = isFirst ? turnJ - turn : turn - turnJ;
      if (relative < 0) relative += turns;
      const a = isFirst ? form : formJ;
      const b = isFirst ? formJ : form;
      let k = table.pairAt[(a * table.forms.length + b) * turns + relative]!;
      if (k < 0) k = table.pair(a, b, relative);
      const sign = isFirst ? 1 : -1;
      const c = sign * table.cos[base]!;
      const s = sign * table.sin[base]!;
      const dx = board.x[j]! - x;
      const dy = board.y[j]! - y;
      if (table.pool.isClear(k, c * dx + s * dy, c * dy - s * dx, reach * Math.SQRT2)) continue;
      const o = count * stride;
      at[o] = board.x[j]!;
      at[o + 1] = board.y[j]!;
      at[o + 2] = c;
      at[o + 3] = s;
      at[o + 4] = board.weight[row + j]!;
      this.pair[count++] = k;
    }
    this.near = count;
    this.nearX = x;
    this.nearY = y;
    this.reach = reach / 2;
  }

  /** Writes down the lines at a place. @returns the weighted overlap there, given up when it passes `limit` */
  private linearise(x: number, y: number, radius: number, limit: number): number {
    this.board.evaluations++;
    const { at, pair, near, lines } = this;
    const pool = this.board.table.pool;
    let sum = 0;
    let m = 0;
    for (let k = 0, o = 0; k < near; k++, o += stride) {
      const dx = at[o]! - x;
      const dy = at[o + 1]! - y;
      const c = at[o + 2]!;
      const s = at[o + 3]!;
      const d = pool.line(pair[k]!, c * dx + s * dy, c * dy - s * dx, radius * Math.SQRT2);
      if (d === Number.NEGATIVE_INFINITY) continue;
      const w = at[o + 4]!;
      if (d > freeDepth) {
        sum += d * w;
        if (sum >= limit) return sum;
      }
      lines.nx[m] = -(c * pool.wayX - s * pool.wayY);
      lines.ny[m] = -(s * pool.wayX + c * pool.wayY);
      lines.depth[m] = d;
      lines.weight[m] = w;
      m++;
    }
    lines.count = m;
    return sum;
  }

  /** The box that a step must stay in, as four more lines. */
  private wallOff(minX: number, maxX: number, minY: number, maxY: number): void {
    const { nx, ny, depth, weight, count } = this.lines;
    let sum = 0;
    for (let k = 0; k < count; k++) sum += weight[k]!;
    for (let k = 0; k < 4; k++) {
      const side = (k & 1) === 0 ? 1 : -1;
      nx[count + k] = k < 2 ? side : 0;
      ny[count + k] = k < 2 ? 0 : side;
      weight[count + k] = sum * wall;
    }
    depth[count] = Math.min(0, minX);
    depth[count + 1] = Math.min(0, -maxX);
    depth[count + 2] = Math.min(0, minY);
    depth[count + 3] = Math.min(0, -maxY);
    this.lines.count = count + 4;
  }

  /** The lowest point of the sum of weight · max(0, depth − normal · shift): from kink to kink. */
  private lowest(): void {
    const { nx, ny, depth, weight, count } = this.lines;
    const { left } = this;
    this.stepX = 0;
    this.stepY = 0;
    let gx = 0;
    let gy = 0;
    for (let k = 0; k < count; k++) {
      left[k] = depth[k]!;
      if (depth[k]! > touching) {
        gx += weight[k]! * nx[k]!;
        gy += weight[k]! * ny[k]!;
      }
    }
    const g = Math.hypot(gx, gy);
    if (g === 0) return;
    let kink = this.along(gx / g, gy / g, -1);
    for (let step = 0; step < mostKinks && kink >= 0; step++) {
      const tx = -ny[kink]!;
      const ty = nx[kink]!;
      let next = this.along(tx, ty, kink);
      if (next < 0) next = this.along(-tx, -ty, kink);
      kink = next;
    }
  }

  /** Goes as far as it is downhill. @returns the line at which it is no longer, −1 when it never is */
  private along(dx: number, dy: number, on: number): number {
    const { left, hits } = this;
    const { nx, ny, weight, count } = this.lines;
    let slope = 0;
    for (let k = 0; k < count; k++) {
      hits[k] = Number.POSITIVE_INFINITY;
      if (k === on) continue;
      const way = nx[k]! * dx + ny[k]! * dy;
      const over = left[k]!;
      if (over > touching) {
        slope -= weight[k]! * way;
        if (way > 0) hits[k] = over / way;
      } else if (way < 0) {
        if (over < -touching) hits[k] = over / way;
        else slope -= weight[k]! * way;
      }
    }
    if (slope >= -1e-9) return -1;
    let kink = -1;
    while (slope < 0) {
      if (kink >= 0) hits[kink] = Number.POSITIVE_INFINITY;
      let first = Number.POSITIVE_INFINITY;
      kink = -1;
      for (let k = 0; k < count; k++)
        if (hits[k]! < first) {
          first = hits[k]!;
          kink = k;
        }
      if (kink < 0) return -1;
      slope += weight[kink]! * Math.abs(nx[kink]! * dx + ny[kink]! * dy);
      if (slope >= 0) {
        for (let k = 0; k < count; k++) left[k] = left[k]! - first * (nx[k]! * dx + ny[k]! * dy);
        left[kink] = 0;
        this.stepX += first * dx;
        this.stepY += first * dy;
      }
    }
    return kink;
  }
}
