import { GirthwiseError } from '../base';

/**
 * Sparse Cholesky factorisation of a symmetric positive definite matrix made of 3 × 3 blocks, one block row for each
 * vertex of a mesh. The pattern is analysed once (minimum-degree order, fill, where each update lands); after that a
 * factorisation walks plain arrays. Method: right-looking block Cholesky on the filled pattern, as in Davis, *Direct
 * Methods for Sparse Linear Systems* (2006), chapters 4 and 7 (from memory), with blocks in place of entries.
 *
 * Blocks are row-major, 9 numbers each. Only the lower triangle (in elimination order) is stored.
 */
export interface BlockPattern {
  /** Number of block rows. */
  readonly size: number;
  /** order[k] = the vertex that is eliminated k-th; place is its inverse. */
  readonly order: Int32Array;
  readonly place: Int32Array;
  /** Column k owns blocks columnStart[k] … columnStart[k+1]−1; the first is its diagonal. */
  readonly columnStart: Int32Array;
  /** Elimination place of the row of each block, ascending inside a column. */
  readonly rowOf: Int32Array;
  /** For column k the targets of its updates, pair by pair, from updateStart[k]. */
  readonly updateStart: Int32Array;
  readonly updateTarget: Int32Array;
  /** Block index of a pair of vertices. */
  readonly blockOf: ReadonlyMap<number, number>;
}

const pairKey = (size: number, low: number, high: number) => low * size + high;

/** Order of elimination that keeps fill low: always a vertex with the fewest neighbours left, lowest number first. */
function minimumDegreeOrder(neighbours: readonly Set<number>[]): number[] {
  const graph = neighbours.map((s) => new Set(s));
  const size = graph.length;
  const gone = new Uint8Array(size);
  const buckets: Set<number>[] = [];
  const bucket = (d: number) => {
    for (let i = buckets.length; i <= d; i++) buckets.push(new Set());
    return buckets[d]!;
  };
  for (let v = 0; v < size; v++) bucket(graph[v]!.size).add(v);
  const order: number[] = [];
  let least = 0;
  while (order.length < size) {
    while (least < buckets.length && buckets[least]!.size === 0) least++;
    let v = Number.POSITIVE_INFINITY;
    for (const candidate of buckets[least]!) if (candidate < v) v = candidate;
    buckets[least]!.delete(v);
    gone[v] = 1;
    order.push(v);
    const around = [...graph[v]!];
    for (const a of around) {
      const set = graph[a]!;
      buckets[set.size]!.delete(a);
      set.delete(v);
      for (const b of around) if (b !== a) set.add(b);
      bucket(set.size).add(a);
      if (set.size < least) least = set.size;
    }
    graph[v]!.clear();
  }
  return order;
}

/**
 * Analyses the pattern of a matrix in which the listed pairs of block rows meet.
 * @param size number of block rows
 * @param pairs pairs of different block rows with a block; order and repeats do not matter
 */
export function analyseBlocks(size: number, pairs: Iterable<readonly [number, number]>): BlockPattern {
  const neighbours: Set<number>[] = Array.from({ length: size }, () => new Set());
  for (const [a, b] of pairs) {
    if (a < 0 || b < 0 || a >= size || b >= size) {
      throw new GirthwiseError(
        'block-range',
        `Block (${a}, ${b}) lies outside a matrix of ${size} block rows`,
      );
    }
    if (a === b) continue;
    neighbours[a]!.add(b);
    neighbours[b]!.add(a);
  }
  const order = Int32Array.from(minimumDegreeOrder(neighbours));
  const place = new Int32Array(size);
  for (let k = 0; k < size; k++) place[order[k]!] = k;

  // Fill: the rows of a column are those of the matrix and those that its children in the elimination tree leave.
  const columns: number[][] = Array.from({ length: size }, () => []);
  const children: number[][] = Array.from({ length: size }, () => []);
  const mark = new Int32Array(size).fill(-1);
  for (let k = 0; k < size; k++) {
    mark[k] = k;
    const rows: number[] = [];
    const take = (r: number) => {
      if (r > k && mark[r] !== k) {
        mark[r] = k;
        rows.push(r);
      }
    };
    for (const v of neighbours[order[k]!]!) take(place[v]!);
    for (const child of children[k]!) for (const r of columns[child]!) take(r);
    rows.sort((a, b) => a - b);
    columns[k] = rows;
    if (rows.length > 0) children[rows[0]!]!.push(k);
  }

  const columnStart = new Int32Array(size + 1);
  for (let k = 0; k < size; k++) columnStart[k + 1] = columnStart[k]! + 1 + columns[k]!.length;
  const rowOf = new Int32Array(columnStart[size]!);
  const blockAt = new Map<number, number>();
  for (let k = 0; k < size; k++) {
    const start = columnStart[k]!;
    rowOf[start] = k;
    blockAt.set(pairKey(size, k, k), start);
    columns[k]!.forEach((r, i) => {
      rowOf[start + 1 + i] = r;
      blockAt.set(pairKey(size, k, r), start + 1 + i);
    });
  }
  const updateStart = new Int32Array(size + 1);
  for (let k = 0; k < size; k++) {
    const n = columns[k]!.length;
    updateStart[k + 1] = updateStart[k]! + (n * (n + 1)) / 2;
  }
  const updateTarget = new Int32Array(updateStart[size]!);
  for (let k = 0; k < size; k++) {
    const rows = columns[k]!;
    let u = updateStart[k]!;
    for (let j = 0; j < rows.length; j++) {
      for (let i = j; i < rows.length; i++)
        updateTarget[u++] = blockAt.get(pairKey(size, rows[j]!, rows[i]!))!;
    }
  }
  return { size, order, place, columnStart, rowOf, updateStart, updateTarget, blockOf: blockAt };
}

/** Matrix entries or factor on a pattern: 9 numbers per block. */
export function emptyBlocks(pattern: BlockPattern): Float64Array {
  return new Float64Array(pattern.rowOf.length * 9);
}

/** Index of the block of vertices a and b (offset 9 × index), and whether it is stored transposed (row b, column a). */
export function blockIndex(
  pattern: BlockPattern,
  a: number,
  b: number,
): { index: number; transposed: boolean } {
  const pa = pattern.place[a]!;
  const pb = pattern.place[b]!;
  const index = pattern.blockOf.get(pairKey(pattern.size, Math.min(pa, pb), Math.max(pa, pb)));
  if (index === undefined) throw new GirthwiseError('block-missing', `No block for vertices ${a} and ${b}`);
  // A stored block has the later eliminated vertex as its row.
  return { index, transposed: pa < pb };
}

/**
 * Factorises in place: on return the blocks hold L of P A Pᵀ = L Lᵀ (diagonal blocks lower triangular).
 * @returns false when a pivot is not positive; the caller adds damping and tries again
 */
export function factorise(pattern: BlockPattern, m: Float64Array): boolean {
  const { size, columnStart, updateStart, updateTarget } = pattern;
  for (let k = 0; k < size; k++) {
    const d = columnStart[k]! * 9;
    const a00 = m[d]!;
    if (!(a00 > 0)) return false;
    const l00 = Math.sqrt(a00);
    const l10 = m[d + 3]! / l00;
    const l20 = m[d + 6]! / l00;
    const a11 = m[d + 4]! - l10 * l10;
    if (!(a11 > 0)) return false;
    const l11 = Math.sqrt(a11);
    const l21 = (m[d + 7]! - l20 * l10) / l11;
    const a22 = m[d + 8]! - l20 * l20 - l21 * l21;
    if (!(a22 > 0)) return false;
    const l22 = Math.sqrt(a22);
    m[d] = l00;
    m[d + 1] = 0;
    m[d + 2] = 0;
    m[d + 3] = l10;
    m[d + 4] = l11;
    m[d + 5] = 0;
    m[d + 6] = l20;
    m[d + 7] = l21;
    m[d + 8] = l22;
    const first = columnStart[k]! + 1;
    const last = columnStart[k + 1]!;
    for (let b = first; b < last; b++) {
      const o = b * 9;
      for (let r = 0; r < 9; r += 3) {
        const x0 = m[o + r]! / l00;
        const x1 = (m[o + r + 1]! - x0 * l10) / l11;
        m[o + r] = x0;
        m[o + r + 1] = x1;
        m[o + r + 2] = (m[o + r + 2]! - x0 * l20 - x1 * l21) / l22;
      }
    }
    let u = updateStart[k]!;
    for (let j = first; j < last; j++) {
      const p = j * 9;
      const p0 = m[p]!;
      const p1 = m[p + 1]!;
      const p2 = m[p + 2]!;
      const p3 = m[p + 3]!;
      const p4 = m[p + 4]!;
      const p5 = m[p + 5]!;
      const p6 = m[p + 6]!;
      const p7 = m[p + 7]!;
      const p8 = m[p + 8]!;
      for (let i = j; i < last; i++) {
        const q = i * 9;
        const t = updateTarget[u++]! * 9;
        // Written out row by row: this is where folding up spends most of its time.
        const q0 = m[q]!;
        const q1 = m[q + 1]!;
        const q2 = m[q + 2]!;
        m[t] = m[t]! - (q0 * p0 + q1 * p1 + q2 * p2);
        m[t + 1] = m[t + 1]! - (q0 * p3 + q1 * p4 + q2 * p5);
        m[t + 2] = m[t + 2]! - (q0 * p6 + q1 * p7 + q2 * p8);
        const q3 = m[q + 3]!;
        const q4 = m[q + 4]!;
        const q5 = m[q + 5]!;
        m[t + 3] = m[t + 3]! - (q3 * p0 + q4 * p1 + q5 * p2);
        m[t + 4] = m[t + 4]! - (q3 * p3 + q4 * p4 + q5 * p5);
        m[t + 5] = m[t + 5]! - (q3 * p6 + q4 * p7 + q5 * p8);
        const q6 = m[q + 6]!;
        const q7 = m[q + 7]!;
        const q8 = m[q + 8]!;
        m[t + 6] = m[t + 6]! - (q6 * p0 + q7 * p1 + q8 * p2);
        m[t + 7] = m[t + 7]! - (q6 * p3 + q7 * p4 + q8 * p5);
        m[t + 8] = m[t + 8]! - (q6 * p6 + q7 * p7 + q8 * p8);
      }
    }
  }
  return true;
}

/**
 * Solves A x = b with a factor from {@link factorise}.
 * @param b right side, 3 numbers per vertex in vertex order
 * @returns x in the same layout
 */
export function solveBlocks(pattern: BlockPattern, l: Float64Array, b: Float64Array): Float64Array {
  const { size, order, columnStart, rowOf } = pattern;
  const y = new Float64Array(size * 3);
  for (let k = 0; k < size; k++) {
    const v = order[k]! * 3;
    y[k * 3] = b[v]!;
    y[k * 3 + 1] = b[v + 1]!;
    y[k * 3 + 2] = b[v + 2]!;
  }
  for (let k = 0; k < size; k++) {
    const d = columnStart[k]! * 9;
    const y0 = y[k * 3]! / l[d]!;
    const y1 = (y[k * 3 + 1]! - l[d + 3]! * y0) / l[d + 4]!;
    const y2 = (y[k * 3 + 2]! - l[d + 6]! * y0 - l[d + 7]! * y1) / l[d + 8]!;
    y[k * 3] = y0;
    y[k * 3 + 1] = y1;
    y[k * 3 + 2] = y2;
    for (let c = columnStart[k]! + 1; c < columnStart[k + 1]!; c++) {
      const o = c * 9;
      const r = rowOf[c]! * 3;
      y[r] = y[r]! - (l[o]! * y0 + l[o + 1]! * y1 + l[o + 2]! * y2);
      y[r + 1] = y[r + 1]! - (l[o + 3]! * y0 + l[o + 4]! * y1 + l[o + 5]! * y2);
      y[r + 2] = y[r + 2]! - (l[o + 6]! * y0 + l[o + 7]! * y1 + l[o + 8]! * y2);
    }
  }
  for (let k = size - 1; k >= 0; k--) {
    let s0 = y[k * 3]!;
    let s1 = y[k * 3 + 1]!;
    let s2 = y[k * 3 + 2]!;
    for (let c = columnStart[k]! + 1; c < columnStart[k + 1]!; c++) {
      const o = c * 9;
      const r = rowOf[c]! * 3;
      const z0 = y[r]!;
      const z1 = y[r + 1]!;
      const z2 = y[r + 2]!;
      s0 -= l[o]! * z0 + l[o + 3]! * z1 + l[o + 6]! * z2;
      s1 -= l[o + 1]! * z0 + l[o + 4]! * z1 + l[o + 7]! * z2;
      s2 -= l[o + 2]! * z0 + l[o + 5]! * z1 + l[o + 8]! * z2;
    }
    const d = columnStart[k]! * 9;
    const x2 = s2 / l[d + 8]!;
    const x1 = (s1 - l[d + 7]! * x2) / l[d + 4]!;
    y[k * 3 + 2] = x2;
    y[k * 3 + 1] = x1;
    y[k * 3] = (s0 - l[d + 3]! * x1 - l[d + 6]! * x2) / l[d]!;
  }
  const x = new Float64Array(size * 3);
  for (let k = 0; k < size; k++) {
    const v = order[k]! * 3;
    x[v] = y[k * 3]!;
    x[v + 1] = y[k * 3 + 1]!;
    x[v + 2] = y[k * 3 + 2]!;
  }
  return x;
}

/** xᵀ A x of a matrix that has not been factorised; x has 3 numbers per vertex. */
export function quadraticForm(pattern: BlockPattern, m: Float64Array, x: Float64Array): number {
  const { size, order, columnStart, rowOf } = pattern;
  let sum = 0;
  for (let k = 0; k < size; k++) {
    const c = order[k]! * 3;
    for (let b = columnStart[k]!; b < columnStart[k + 1]!; b++) {
      const r = order[rowOf[b]!]! * 3;
      let part = 0;
      for (let i = 0; i < 3; i++)
        for (let j = 0; j < 3; j++) part += x[r + i]! * m[b * 9 + i * 3 + j]! * x[c + j]!;
      sum += r === c ? part : 2 * part;
    }
  }
  return sum;
}
