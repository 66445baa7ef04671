/**
 * Outlines in the user units of their element: what shapes and path data turn into, before any transform. Packed
 * into plain number lists, since a file may hold hundreds of thousands of points.
 */

/** One subpath. `coords` holds x, y for each line and x1, y1, x2, y2, x, y for each cubic, in the order of `kinds`. */
export interface Subpath {
  readonly startX: number;
  readonly startY: number;
  readonly kinds: ('line' | 'cubic')[];
  readonly coords: number[];
  closed: boolean;
}

/** Collects subpaths; a subpath without any stretch is dropped, since it draws nothing. */
export class OutlinePen {
  readonly subpaths: Subpath[] = [];
  /** The current point. */
  x = 0;
  y = 0;
  #open: Subpath | null = null;
  #startX = 0;
  #startY = 0;

  moveTo(x: number, y: number): void {
    this.#open = null;
    this.x = this.#startX = x;
    this.y = this.#startY = y;
  }

  lineTo(x: number, y: number): void {
    const to = this.#subpath();
    to.kinds.push('line');
    to.coords.push(x, y);
    this.x = x;
    this.y = y;
  }

  cubicTo(x1: number, y1: number, x2: number, y2: number, x: number, y: number): void {
    const to = this.#subpath();
    to.kinds.push('cubic');
    to.coords.push(x1, y1, x2, y2, x, y);
    this.x = x;
    this.y = y;
  }

  /** A quadratic curve, raised to the cubic that is the same curve. */
  quadraticTo(cx: number, cy: number, x: number, y: number): void {
    this.cubicTo(
      this.x + (2 / 3) * (cx - this.x),
      this.y + (2 / 3) * (cy - this.y),
      x + (2 / 3) * (cx - x),
      y + (2 / 3) * (cy - y),
      x,
      y,
    );
  }

  /** Closes the subpath; what follows without a move starts at its start. */
  close(): void {
    if (this.#open) this.#open.closed = true;
    this.#open = null;
    this.x = this.#startX;
    this.y = this.#startY;
  }

  #subpath(): Subpath {
    if (!this.#open) {
      this.#open = { startX: this.x, startY: this.y, kinds: [], coords: [], closed: false };
      this.#startX = this.x;
      this.#startY = this.y;
      this.subpaths.push(this.#open);
    }
    return this.#open;
  }
}
