/**
 * No-fit polygons and how deep two forms lie in each other. The no-fit polygon of A and B is where B's origin must not
 * be when A's lies at zero: the Minkowski sum of A and −B, made here as the union of the sums of their convex parts;
 * holes come out by themselves. The depth of an overlap is the distance of B's origin to the rim of that region, the
 * shortest shift that parts the two (exact, up to the grid of the polygon library).
 *
 * Every polygon carries a grid of cells that are free, covered, or crossed by the rim; each lists the edges that can be
 * nearest for some point in it, so that a query looks at a handful of edges, and the nearest of them tells by its side
 * whether the point is inside. A cell is filled when it is first asked about. Everything
 * lies in a few typed arrays that grow by doubling; a query allocates nothing.
 */
import type { Point } from '../math';
import { uniteRings } from '../plane';
import { gridSide, sumsAtOnce } from './tolerance';

/** Per edge: ax, ay, dx, dy, 1/length². */
const edgeStride = 5;
/** Per polygon: minX, minY, maxX, maxY, cells per mm along x and y. */
const headStride = 6;
const cells = gridSide * gridSide;
/** A cell that nothing has asked about yet; lists begin at place 1, so that no list has this number. */
const unknown = 0;
/** What a cell is: inside, crossed by the rim, outside. */
const [covered, crossed, free] = [0, 1, 2];
/** The place before the list of a free cell says how far from the rim every point in it is at least, in these parts of a mm. */
const clearParts = 16;
/** What a vertex is: a turn of less than a right angle, a sharper one, a sharper one towards the outside. */
const [gentle, corner, dent] = [0, 1, 2];

export class NoFitPool {
  private edges = new Float64Array(1 << 14);
  /** Per edge, of its first vertex and, times four, of its last one: {@link gentle}, {@link corner} or {@link dent}. */
  private ends = new Uint8Array((1 << 14) / edgeStride + 1);
  /** Number of edges so far, and of each polygon the first edge and the one after the last. */
  private edgeTop = 0;
  private spans = new Int32Array(2 * 64);
  private lists = new Int32Array(1 << 15);
  private listTop = 1;
  private heads = new Float64Array(headStride * 64);
  /** {@link unknown}, or four times the place of the cell's list, plus what the cell is. */
  private cellAt = new Int32Array(cells * 64);
  /** Room for {@link fillCell}. */
  private distances = new Float64Array(64);
  count = 0;
  /** The way out that {@link line} found. */
  wayX = 0;
  wayY = 0;

  /** Makes the no-fit polygon of two forms given by their convex parts, and returns its number. */
  add(partsA: readonly (readonly Point[])[], partsB: readonly (readonly Point[])[]): number {
    const sums = partsA.map((a) => partsB.map((b) => convexSum(a, b)));
    const all = sums.flat();
    if (all.length === 1) return this.store(all);
    const rings =
      all.length <= sumsAtOnce
        ? uniteRings(all, 'nonZero')
        : uniteRings(
            sums.flatMap((some) => uniteRings(some, 'nonZero')),
            'nonZero',
          );
    return this.store(rings);
  }

  /** Keeps rings (their union's rim, holes included); their grid is filled as it is asked. */
  private store(rings: readonly (readonly Point[])[]): number {
    const k = this.count++;
    if (this.heads.length < this.count * headStride) this.heads = grown(this.heads);
    if (this.spans.length < this.count * 2) this.spans = grown(this.spans);
    while (this.cellAt.length < this.count * cells) this.cellAt = grown(this.cellAt);
    let [minX, minY, maxX, maxY] = [
      Number.POSITIVE_INFINITY,
      Number.POSITIVE_INFINITY,
      Number.NEGATIVE_INFINITY,
      Number.NEGATIVE_INFINITY,
    ];
    this.spans[2 * k] = this.edgeTop;
    for (const given of rings) {
      const ring = given.filter((p, i) => {
        const q = given[(i + 1) % given.length]!;
        return p.x !== q.x || p.y !== q.y;
      });
      const n = ring.length;
      const kindOf = (i: number) => {
        const [p, a, q] = [ring[(i + n - 1) % n]!, ring[i % n]!, ring[(i + 1) % n]!];
        const [px, py, qx, qy] = [a.x - p.x, a.y - p.y, q.x - a.x, q.y - a.y];
        return px * qx + py * qy > 0 ? gentle : px * qy - py * qx < 0 ? dent : corner;
      };
      for (let i = 0; i < n; i++) {
        const a = ring[i]!;
        const b = ring[(i + 1) % n]!;
        const [dx, dy] = [b.x - a.x, b.y - a.y];
        const e = this.edgeTop++;
        if (this.edges.length < this.edgeTop * edgeStride) this.edges = grown(this.edges);
        if (this.ends.length < this.edgeTop) this.ends = grown(this.ends);
        this.edges.set([a.x, a.y, dx, dy, 1 / (dx * dx + dy * dy)], e * edgeStride);
        this.ends[e] = kindOf(i) + 4 * kindOf(i + 1);
        if (a.x < minX) minX = a.x;
        if (a.y < minY) minY = a.y;
        if (a.x > maxX) maxX = a.x;
        if (a.y > maxY) maxY = a.y;
      }
    }
    this.spans[2 * k + 1] = this.edgeTop;
    while (this.distances.length < this.edgeTop - this.spans[2 * k]!) this.distances = grown(this.distances);
    const [perX, perY] = [gridSide / (maxX - minX), gridSide / (maxY - minY)];
    this.heads.set([minX, minY, maxX, maxY, perX, perY], k * headStride);
    return k;
  }

  /** Finds out what a cell is and lists the edges that can be nearest to some point in it. */
  private fillCell(k: number, column: number, row: number): number {
    const h = k * headStride;
    const { heads } = this;
    const [stepX, stepY] = [1 / heads[h + 4]!, 1 / heads[h + 5]!];
    const reach = (Math.hypot(stepX, stepY) / 2) * (1 + 1e-6);
    const u = heads[h]! + (column + 0.5) * stepX;
    const v = heads[h + 1]! + (row + 0.5) * stepY;
    const [first, end] = [this.spans[2 * k]!, this.spans[2 * k + 1]!];
    const { distances } = this;
    let least = Number.POSITIVE_INFINITY;
    let at = first;
    for (let e = first; e < end; e++) {
      const d = this.edgeDistance2(e, u, v);
      distances[e - first] = d;
      if (d >= least) continue;
      least = d;
      at = e;
    }
    const nearest = Math.sqrt(least);
    const kind = nearest <= reach ? crossed : this.isInside(at, u, v) ? covered : free;
    if (kind === free) this.push(Math.floor((nearest - reach) * clearParts));
    const list = this.listTop;
    this.push(0);
    // The nearest to the middle come first: they are most often the nearest of all, and branches are foretold.
    const limit = (nearest + 2 * reach) ** 2;
    for (let e = first; e < end; e++) {
      const d = distances[e - first]!;
      if (d > limit) continue;
      this.push(e);
      const { lists } = this;
      let to = this.listTop - 1;
      for (; to - 1 > list && distances[lists[to - 1]! - first]! > d; to--) lists[to] = lists[to - 1]!;
      lists[to] = e;
    }
    this.lists[list] = this.listTop - 1 - list;
    const code = list * 4 + kind;
    this.cellAt[k * cells + row * gridSide + column] = code;
    return code;
  }

  private push(value: number): void {
    if (this.lists.length <= this.listTop) this.lists = grown(this.lists);
    this.lists[this.listTop++] = value;
  }

  private edgeDistance2(edge: number, u: number, v: number): number {
    const edges = this.edges;
    const e = edge * edgeStride;
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

  /**
   * Whether a point lies in the region, told by the edge that is nearest to it: the material is to its left. Beyond
   * a sharp end the side says nothing, but then the point is inside exactly when that end is a dent. At a gentle end the
   * side is right all around, and must be asked: a point inside may lie square to a vertex at which nothing turns.
   */
  private isInside(edge: number, u: number, v: number): boolean {
    const edges = this.edges;
    const e = edge * edgeStride;
    const px = u - edges[e]!;
    const py = v - edges[e + 1]!;
    const dx = edges[e + 2]!;
    const dy = edges[e + 3]!;
    const t = (px * dx + py * dy) * edges[e + 4]!;
    const end = t <= 0 ? this.ends[edge]! & 3 : t >= 1 ? this.ends[edge]! >> 2 : gentle;
    if (end !== gentle) return end === dent;
    return dx * py - dy * px > 0;
  }

  /** Whether B is sure to stay clear of A wherever it is moved by less than `reach` from (u, v). */
  isClear(k: number, u: number, v: number, reach: number): boolean {
    const heads = this.heads;
    const h = k * headStride;
    const minX = heads[h]!;
    const minY = heads[h + 1]!;
    const maxX = heads[h + 2]!;
    const maxY = heads[h + 3]!;
    if (u <= minX || v <= minY || u >= maxX || v >= maxY)
      return u <= minX - reach || v <= minY - reach || u >= maxX + reach || v >= maxY + reach;
    const column = Math.min(gridSide - 1, ((u - minX) * heads[h + 4]!) | 0);
    const row = Math.min(gridSide - 1, ((v - minY) * heads[h + 5]!) | 0);
    let code = this.cellAt[k * cells + row * gridSide + column]!;
    if (code === unknown) code = this.fillCell(k, column, row);
    return (code & 3) === free && this.lists[(code >> 2) - 1]! / clearParts >= reach;
  }

  /** How deep B lies in A when its origin is at (u, v) as seen from A's; 0 when they are apart. */
  depth(k: number, u: number, v: number): number {
    const heads = this.heads;
    const h = k * headStride;
    const minX = heads[h]!;
    const minY = heads[h + 1]!;
    if (u <= minX || v <= minY || u >= heads[h + 2]! || v >= heads[h + 3]!) return 0;
    let column = ((u - minX) * heads[h + 4]!) | 0;
    let row = ((v - minY) * heads[h + 5]!) | 0;
    if (column >= gridSide) column = gridSide - 1;
    if (row >= gridSide) row = gridSide - 1;
    let code = this.cellAt[k * cells + row * gridSide + column]!;
    if (code === unknown) code = this.fillCell(k, column, row);
    const kind = code & 3;
    if (kind === free) return 0;
    const { edges, lists } = this;
    let i = code >> 2;
    const end = i + lists[i]!;
    let nearest = Number.POSITIVE_INFINITY;
    let at = 0;
    while (i < end) {
      const edge = lists[++i]!;
      const e = edge * edgeStride;
      const px = u - edges[e]!;
      const py = v - edges[e + 1]!;
      const dx = edges[e + 2]!;
      const dy = edges[e + 3]!;
      const foot = (px * dx + py * dy) * edges[e + 4]!;
      // The foot within 0 … 1, without a branch: which of the three it is cannot be foretold.
      const t = 0.5 * (Math.abs(foot) - Math.abs(foot - 1) + 1);
      const rx = px - t * dx;
      const ry = py - t * dy;
      const d = rx * rx + ry * ry;
      if (d < nearest) {
        nearest = d;
        at = edge;
      }
    }
    if (kind === crossed && !this.isInside(at, u, v)) return 0;
    return Math.sqrt(nearest);
  }

  /**
   * How deep, or, less than 0, how far outside; −∞ when that is further than `reach`. Leaves the direction in which B
   * leaves A, of length 1, in `wayX`, `wayY`. Outside the polygon's box, the distance is that of an edge near the box's
   * nearest point, which may be more than the least.
   */
  line(k: number, u: number, v: number, reach: number): number {
    const heads = this.heads;
    const h = k * headStride;
    const minX = heads[h]!;
    const minY = heads[h + 1]!;
    if (u <= minX - reach || v <= minY - reach || u >= heads[h + 2]! + reach || v >= heads[h + 3]! + reach)
      return Number.NEGATIVE_INFINITY;
    let column = ((u - minX) * heads[h + 4]!) | 0;
    let row = ((v - minY) * heads[h + 5]!) | 0;
    column = column < 0 ? 0 : column >= gridSide ? gridSide - 1 : column;
    row = row < 0 ? 0 : row >= gridSide ? gridSide - 1 : row;
    let code = this.cellAt[k * cells + row * gridSide + column]!;
    if (code === unknown) code = this.fillCell(k, column, row);
    const { edges, lists } = this;
    let i = code >> 2;
    const end = i + lists[i]!;
    let nearest = Number.POSITIVE_INFINITY;
    let at = 0;
    while (i < end) {
      const edge = lists[++i]!;
      const e = edge * edgeStride;
      const px = u - edges[e]!;
      const py = v - edges[e + 1]!;
      const dx = edges[e + 2]!;
      const dy = edges[e + 3]!;
      const foot = (px * dx + py * dy) * edges[e + 4]!;
      const t = 0.5 * (Math.abs(foot) - Math.abs(foot - 1) + 1);
      const rx = px - t * dx;
      const ry = py - t * dy;
      const d = rx * rx + ry * ry;
      if (d < nearest) {
        nearest = d;
        at = edge;
      }
    }
    const e = at * edgeStride;
    const px = u - edges[e]!;
    const py = v - edges[e + 1]!;
    const dx = edges[e + 2]!;
    const dy = edges[e + 3]!;
    const t = (px * dx + py * dy) * edges[e + 4]!;
    const d = Math.sqrt(nearest);
    const kind = code & 3;
    const beyond = u < minX || v < minY || u > heads[h + 2]! || v > heads[h + 3]!;
    const inside = !beyond && (kind === covered || (kind === crossed && this.isInside(at, u, v)));
    if (!inside && d >= reach) return Number.NEGATIVE_INFINITY;
    if ((t > 0 && t < 1) || d < 1e-9) {
      const scale = Math.sqrt(edges[e + 4]!);
      this.wayX = dy * scale;
      this.wayY = -dx * scale;
    } else {
      const end = t <= 0 ? 0 : 1;
      const scale = (inside ? -1 : 1) / d;
      this.wayX = (px - end * dx) * scale;
      this.wayY = (py - end * dy) * scale;
    }
    return inside ? d : -d;
  }
}

function grown<T extends Float64Array | Int32Array | Uint8Array>(old: T): T {
  const next = new (old.constructor as new (length: number) => T)(old.length * 2);
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
