/**
 * Rows of the normal matrix. A mirror-symmetric shell moves symmetrically, so partners share one row: the least squares
 * are those of the half, which its factorisation takes a third of the time for, and no step leaves the symmetry.
 */
export interface Seats {
  /** Number of rows. */
  readonly size: number;
  /** The row of each vertex. */
  readonly of: Int32Array;
  /** What the sideways part of a move is multiplied by: 1, −1 for the partner, 0 on the mirror plane x = 0. */
  readonly across: Int8Array;
  /** How many vertices share each row. */
  readonly shared: Uint8Array;
}

/** @param mirror partner of each vertex about x = 0 */
export function seatsOf(mirror: Int32Array): Seats {
  const of = new Int32Array(mirror.length);
  const across = new Int8Array(mirror.length);
  const shared: number[] = [];
  mirror.forEach((w, v) => {
    if (w < v) return;
    of[v] = of[w] = shared.length;
    across[w] = -1;
    across[v] = v === w ? 0 : 1;
    shared.push(v === w ? 1 : 2);
  });
  return { size: shared.length, of, across, shared: Uint8Array.from(shared) };
}

/**
 * Brings one row of the least squares over to the rows of the matrix, in place.
 * @param list its vertices, `count` of them; then their rows, each once
 * @param g 3 numbers per vertex; then per row
 * @returns how many rows
 */
export function mergeRow({ of, across }: Seats, list: number[], count: number, g: Float64Array): number {
  let rows = 0;
  for (let i = 0; i < count; i++) {
    const v = list[i]!;
    const seat = of[v]!;
    const gx = g[i * 3]! * across[v]!;
    const gy = g[i * 3 + 1]!;
    const gz = g[i * 3 + 2]!;
    let at = 0;
    while (at < rows && list[at] !== seat) at++;
    if (at === rows) {
      list[at] = seat;
      g[at * 3] = gx;
      g[at * 3 + 1] = gy;
      g[at * 3 + 2] = gz;
      rows++;
    } else {
      g[at * 3]! += gx;
      g[at * 3 + 1]! += gy;
      g[at * 3 + 2]! += gz;
    }
  }
  return rows;
}

/** A gradient over vertices as one over rows; the same one where each vertex has its own. */
export function toSeats(seats: Seats | null, full: Float64Array): Float64Array {
  if (!seats) return full;
  const { size, of, across } = seats;
  const out = new Float64Array(size * 3);
  for (let v = 0; v < of.length; v++) {
    const s = of[v]! * 3;
    out[s]! += across[v]! * full[v * 3]!;
    out[s + 1]! += full[v * 3 + 1]!;
    out[s + 2]! += full[v * 3 + 2]!;
  }
  return out;
}

/** Moves of rows as moves of vertices; the same ones where each vertex has its own row. */
export function fromSeats(seats: Seats | null, rows: Float64Array): Float64Array {
  if (!seats) return rows;
  const { of, across } = seats;
  const out = new Float64Array(of.length * 3);
  for (let v = 0; v < of.length; v++) {
    const s = of[v]! * 3;
    out[v * 3] = across[v]! * rows[s]!;
    out[v * 3 + 1] = rows[s + 1]!;
    out[v * 3 + 2] = rows[s + 2]!;
  }
  return out;
}

/** Adds to the diagonal of the normal matrix as if each vertex had its own row. */
export function shareOf(seats: Seats | null, row: number): number {
  return seats ? seats.shared[row]! : 1;
}
