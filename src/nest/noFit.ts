/**
 * No-fit polygons and how deep two forms lie in each other. The no-fit polygon of A and B is where B's origin must not
 * be when A's lies at zero: the Minkowski sum of A and −B, made here as the union of the sums of their convex parts;
 * holes come out by themselves. The depth of an overlap is the distance of B's origin to the rim of that region, the
 * shortest shift that parts the two (exact, up to the grid of the polygon library).
 *
 * Every polygon carries a grid of cells that are free, covered, or crossed by the rim; covered and crossed cells list
 * the edges that can be nearest for some point in them, so that a query looks at a handful of edges. Everything lies
 * in a few typed arrays that grow by doubling; a query allocates nothing.
 */
import type { Point } from '../math';
import { uniteRings } from '../plane';
import { gridSide } from './tolerance';

/** Per edge: ax, ay, dx, dy, 1/length², by. */
const edgeStride = 6;
/** Per polygon: minX, minY, maxX, maxY, cells per mm along x and y. */
const headStride = 6;
const cells = gridSide * gridSide;

export class NoFitPool {
  private edges = new Float64Array(1 << 14);
  private edgeTop = 0;
  private lists = new Int32Array(1 << 15);
  private listTop = 0;
  private heads = new Float64Array(headStride * 64);
  /** −1: free. Else twice the list's place, plus one when the rim crosses the cell. */
  private cellAt = new Int32Array(cells * 64);
  private rowAt = new Int32Array(gridSide * 64);
  count = 0;
  /** The way out that {@link depthAndWay} found. */
  wayX = 0;
  wayY = 0;

  /** Makes the no-fit polygon of two forms given by their convex parts, and returns its number. */
  add(partsA: readonly (readonly Point[])[], partsB: readonly (readonly Point[])[]): number {
    const sums: Point[][] = [];
    for (const a of partsA) for (const b of partsB) sums.push(convexSum(a, b));
    const rings = sums.length === 1 ? sums : uniteRings(sums, 'nonZero');
    return this.store(rings);
  }

  /** Keeps rings (their union's rim, holes included) with their grid. */
  private store(rings: readonly (readonly Point[])[]): number {
    const k = this.count++;
    if (this.heads.length < this.count * headStride) this.heads = grown(this.heads);
    if (this.cellAt.length < this.count * cells) this.cellAt = grown(this.cellAt);
    if (this.rowAt.length < this.count * gridSide) this.rowAt = grown(this.rowAt);
    let [minX, minY, maxX, maxY] = [
      Number.POSITIVE_INFINITY,
      Number.POSITIVE_INFINITY,
      Number.NEGATIVE_INFINITY,
      Number.NEGATIVE_INFINITY,
    ];
    const first = this.edgeTop;
    for (const ring of rings) {
      for (let i = 0; i < ring.length; i++) {
        const a = ring[i]!;
        const b = ring[(i + 1) % ring.length]!;
        const [dx, dy] = [b.x - a.x, b.y - a.y];
        if (dx === 0 && dy === 0) continue;
        if (this.edges.length < this.edgeTop + edgeStride) this.edges = grown(this.edges);
        this.edges.set([a.x, a.y, dx, dy, 1 / (dx * dx + dy * dy), b.y], this.edgeTop);
        this.edgeTop += edgeStride;
        if (a.x < minX) minX = a.x;
        if (a.y < minY) minY = a.y;
        if (a.x > maxX) maxX = a.x;
        if (a.y > maxY) maxY = a.y;
      }
    }
    const [stepX, stepY] = [(maxX - minX) / gridSide, (maxY - minY) / gridSide];
    this.heads.set([minX, minY, maxX, maxY, 1 / stepX, 1 / stepY], k * headStride);
    this.fillRows(k, first, minY, stepY);
    this.fillCells(k, first, minX, minY, stepX, stepY);
    return k;
  }

  private fillRows(k: number, first: number, minY: number, stepY: number): void {
    for (let row = 0; row < gridSide; row++) {
      // A little more than the row, so that rounding of the row number loses no edge.
      const low = minY + (row - 1e-6) * stepY;
      const high = minY + (row + 1 + 1e-6) * stepY;
      this.rowAt[k * gridSide + row] = this.openList();
      for (let e = first; e < this.edgeTop; e += edgeStride) {
        const ay = this.edges[e + 1]!;
        const by = this.edges[e + 5]!;
        if (Math.max(ay, by) >= low && Math.min(ay, by) <= high) this.push(e);
      }
      this.closeList(this.rowAt[k * gridSide + row]!);
    }
  }

  private fillCells(k: number, first: number, minX: number, minY: number, stepX: number, stepY: number) {
    const reach = (Math.hypot(stepX, stepY) / 2) * (1 + 1e-6);
    for (let row = 0; row < gridSide; row++) {
      const v = minY + (row + 0.5) * stepY;
      for (let column = 0; column < gridSide; column++) {
        const u = minX + (column + 0.5) * stepX;
        const cell = k * cells + row * gridSide + column;
        let nearest = Number.POSITIVE_INFINITY;
        for (let e = first; e < this.edgeTop; e += edgeStride) {
          const d = this.edgeDistance2(e, u, v);
          if (d < nearest) nearest = d;
        }
        nearest = Math.sqrt(nearest);
        const crossed = nearest <= reach;
        if (!crossed && !this.isInside(this.rowAt[k * gridSide + row]!, u, v)) {
          this.cellAt[cell] = -1;
          continue;
        }
        const limit = (nearest + 2 * reach) ** 2;
        const at = this.openList();
        for (let e = first; e < this.edgeTop; e += edgeStride)
          if (this.edgeDistance2(e, u, v) <= limit) this.push(e);
        this.closeList(at);
        this.cellAt[cell] = at * 2 + (crossed ? 1 : 0);
      }
    }
  }

  private openList(): number {
    this.push(0);
    return this.listTop - 1;
  }

  private push(value: number): void {
    if (this.lists.length <= this.listTop) this.lists = grown(this.lists);
    this.lists[this.listTop++] = value;
  }

  private closeList(at: number): void {
    this.lists[at] = this.listTop - at - 1;
  }

  private edgeDistance2(e: number, u: number, v: number): number {
    const edges = this.edges;
    const px = u - edges[e]!;
    const py = v - edges[e + 1]!;
    const dx = edges[e + 2]!;
    const dy = edges[e + 3]!;
    let t = (px * dx + py * dy) * edges[e + 4]!;
    t = t < 0 ? 0 : Math.min(t, 1);
    const rx = px - t * dx;
    const ry = py - t * dy;
    return rx * rx + ry * ry;
  }

  /** Even-odd, with the edges of one row of cells. */
  private isInside(list: number, u: number, v: number): boolean {
    const { edges, lists } = this;
    let inside = false;
    for (let i = list + 1, end = list + lists[list]!; i <= end; i++) {
      const e = lists[i]!;
      const ay = edges[e + 1]!;
      const by = edges[e + 5]!;
      if (ay > v !== by > v && u < edges[e]! + ((v - ay) * edges[e + 2]!) / (by - ay)) inside = !inside;
    }
    return inside;
  }

  /** How deep B lies in A when its origin is at (u, v) as seen from A's; 0 when they are apart. */
  depth(k: number, u: number, v: number): number {
    const list = this.listFor(k, u, v);
    if (list < 0) return 0;
    const { edges, lists } = this;
    let nearest = Number.POSITIVE_INFINITY;
    for (let i = list + 1, end = list + lists[list]!; i <= end; i++) {
      const e = lists[i]!;
      const px = u - edges[e]!;
      const py = v - edges[e + 1]!;
      const dx = edges[e + 2]!;
      const dy = edges[e + 3]!;
      let t = (px * dx + py * dy) * edges[e + 4]!;
      t = t < 0 ? 0 : Math.min(t, 1);
      const rx = px - t * dx;
      const ry = py - t * dy;
      const d = rx * rx + ry * ry;
      if (d < nearest) nearest = d;
    }
    return Math.sqrt(nearest);
  }

  /** The same, leaving the shift of B that parts the two in `wayX`, `wayY`. */
  depthAndWay(k: number, u: number, v: number): number {
    this.wayX = 0;
    this.wayY = 0;
    const list = this.listFor(k, u, v);
    if (list < 0) return 0;
    const { edges, lists } = this;
    let nearest = Number.POSITIVE_INFINITY;
    for (let i = list + 1, end = list + lists[list]!; i <= end; i++) {
      const e = lists[i]!;
      const px = u - edges[e]!;
      const py = v - edges[e + 1]!;
      const dx = edges[e + 2]!;
      const dy = edges[e + 3]!;
      let t = (px * dx + py * dy) * edges[e + 4]!;
      t = t < 0 ? 0 : Math.min(t, 1);
      const rx = px - t * dx;
      const ry = py - t * dy;
      const d = rx * rx + ry * ry;
      if (d < nearest) {
        nearest = d;
        this.wayX = -rx;
        this.wayY = -ry;
      }
    }
    return Math.sqrt(nearest);
  }

  /** The list of edges to measure against, −1 where the two are apart. */
  private listFor(k: number, u: number, v: number): number {
    const heads = this.heads;
    const h = k * headStride;
    const minX = heads[h]!;
    const minY = heads[h + 1]!;
    if (u <= minX || v <= minY || u >= heads[h + 2]! || v >= heads[h + 3]!) return -1;
    let column = ((u - minX) * heads[h + 4]!) | 0;
    let row = ((v - minY) * heads[h + 5]!) | 0;
    if (column >= gridSide) column = gridSide - 1;
    if (row >= gridSide) row = gridSide - 1;
    const code = this.cellAt[k * cells + row * gridSide + column]!;
    if (code < 0) return -1;
    if ((code & 1) === 1 && !this.isInside(this.rowAt[k * gridSide + row]!, u, v)) return -1;
    return code >> 1;
  }
}

function grown<T extends Float64Array | Int32Array>(old: T): T {
  const next = (
    old instanceof Float64Array ? new Float64Array(old.length * 2) : new Int32Array(old.length * 2)
  ) as T;
  next.set(old);
  return next;
}

/** A ⊕ −B of two convex counter-clockwise rings: their edges in order of direction. */
function convexSum(a: readonly Point[], b: readonly Point[]): Point[] {
  const i0 = lowest(a, 1);
  const j0 = lowest(b, -1);
  const sum: Point[] = [];
  let [i, j] = [0, 0];
  while (i < a.length || j < b.length) {
    const p = a[(i0 + i) % a.length]!;
    const q = b[(j0 + j) % b.length]!;
    sum.push({ x: p.x - q.x, y: p.y - q.y });
    const p1 = a[(i0 + i + 1) % a.length]!;
    const q1 = b[(j0 + j + 1) % b.length]!;
    const turn = (p1.x - p.x) * (q.y - q1.y) - (p1.y - p.y) * (q.x - q1.x);
    if (j >= b.length || (i < a.length && turn > 0)) i++;
    else if (i >= a.length || turn < 0) j++;
    else {
      i++;
      j++;
    }
  }
  return sum;
}

/** The lowest (sign 1) or highest (sign −1) vertex, leftmost or rightmost of those. */
function lowest(ring: readonly Point[], sign: 1 | -1): number {
  let best = 0;
  for (let i = 1; i < ring.length; i++) {
    const dy = sign * (ring[i]!.y - ring[best]!.y);
    if (dy < 0 || (dy === 0 && sign * (ring[i]!.x - ring[best]!.x) < 0)) best = i;
  }
  return best;
}
