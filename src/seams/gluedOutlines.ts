/**
 * Outlines with some pairs glued: who is whose mate, and how the open edges follow each other round the openings that
 * are left.
 */
import { DisjointSets } from '../math';
import { endAngle, type HalfEdges } from './halfEdges';

/** The corner between an open edge and the open edge after it along the same opening. */
export interface OpenCorner {
  readonly into: number;
  readonly out: number;
  /** Angles of all pieces that meet there, rad. */
  readonly angle: number;
  /** How many corners of pieces meet there. */
  readonly corners: number;
}

export class GluedOutlines {
  readonly mate: Int32Array;

  /** Edges that stay out of it: borders, and seams with a piece drawn from inside. */
  private readonly shut: Uint8Array;
  private ofPiece: number[][] | null = null;

  constructor(readonly half: HalfEdges) {
    this.mate = new Int32Array(half.count).fill(-1);
    this.shut = new Uint8Array(half.count);
  }

  isOpen(edge: number): boolean {
    return this.mate[edge] === -1 && this.shut[edge] === 0;
  }

  shutOut(edge: number): void {
    this.shut[edge] = 1;
  }

  glue(a: number, b: number): void {
    this.mate[a] = b;
    this.mate[b] = a;
  }

  open(edge: number): void {
    const other = this.mate[edge]!;
    if (other >= 0) this.mate[other] = -1;
    this.mate[edge] = -1;
  }

  /** The corner at the end of an open edge; null where it leads to an edge that is shut out, or to no end. */
  cornerAfter(into: number): OpenCorner | null {
    const { half, mate } = this;
    let angle = endAngle(half, into);
    let corners = 1;
    let out = half.next[into]!;
    while (mate[out] !== -1) {
      const g = mate[out]!;
      angle += endAngle(half, g);
      out = half.next[g]!;
      if (++corners > half.count) return null;
    }
    return this.shut[out] ? null : { into, out, angle, corners };
  }

  /**
   * Everything that meets at the end of an edge: the sum of its angles (rad), whether it is glued all round, and the
   * lowest edge that ends there.
   */
  cornerAt(into: number): { readonly angle: number; readonly closed: boolean; readonly first: number } {
    const { half, mate } = this;
    let angle = endAngle(half, into);
    let first = into;
    for (let g = mate[half.next[into]!]!; g !== -1; g = mate[half.next[g]!]!) {
      if (g === into) return { angle, closed: true, first };
      angle += endAngle(half, g);
      first = Math.min(first, g);
    }
    for (let at = into; mate[at] !== -1; ) {
      at = half.before[mate[at]!]!;
      angle += endAngle(half, at);
      first = Math.min(first, at);
    }
    return { angle, closed: false, first };
  }

  /** Openings as loops of open edges, in order of their lowest edge. */
  openings(): OpenCorner[][] {
    const done = new Uint8Array(this.half.count);
    const loops: OpenCorner[][] = [];
    for (let e = 0; e < this.half.count; e++) {
      if (done[e] || !this.isOpen(e)) continue;
      const loop: OpenCorner[] = [];
      for (let at = e; !done[at]; ) {
        done[at] = 1;
        const corner = this.cornerAfter(at);
        if (!corner) break;
        loop.push(corner);
        at = corner.out;
      }
      loops.push(loop);
    }
    return loops;
  }

  /**
   * False when the two open edges lie on different openings of one part: gluing them would make a handle, as of a cup,
   * and shells have none.
   */
  staysPlain(a: number, b: number): boolean {
    const loop = new Set<number>();
    const pieces = new Set<number>();
    for (let at = a; !loop.has(at); at = this.openAfter(at)) {
      if (at === b) return true;
      loop.add(at);
    }
    // Another opening: of the same part, if its pieces are reached over seams.
    const { piece } = this.half;
    const reach = [piece[a]!];
    while (reach.length > 0) {
      const p = reach.pop()!;
      if (pieces.has(p)) continue;
      if (p === piece[b]) return false;
      pieces.add(p);
      for (const e of this.edgesOfPiece(p)) if (this.mate[e]! >= 0) reach.push(piece[this.mate[e]!]!);
    }
    return true;
  }

  /** True when gluing two open edges would leave one straight edge between them, both ends of which are one corner. */
  closesOnOneEdge(a: number, b: number): boolean {
    const between = (p: number, q: number) => {
      const e = this.openAfter(p);
      return e !== q && this.half.straight[e] === 1 && this.openAfter(e) === q;
    };
    return between(a, b) || between(b, a);
  }

  /** The next edge along an opening, shut ones included. */
  private openAfter(into: number): number {
    const { half, mate } = this;
    let out = half.next[into]!;
    for (let corners = 0; mate[out] !== -1 && corners <= half.count; corners++) out = half.next[mate[out]!]!;
    return out;
  }

  private edgesOfPiece(piece: number): readonly number[] {
    if (!this.ofPiece) {
      this.ofPiece = [];
      this.half.piece.forEach((p, e) => {
        const list = this.ofPiece![p];
        if (list) list.push(e);
        else this.ofPiece![p] = [e];
      });
    }
    return this.ofPiece[piece]!;
  }

  /** Corners of pieces that meet in one closed corner, as the edges that end there, with their angles' sum. */
  closedCorners(): { readonly into: readonly number[]; readonly angle: number }[] {
    const { half, mate } = this;
    const done = new Uint8Array(half.count);
    const out: { into: number[]; angle: number }[] = [];
    for (let e = 0; e < half.count; e++) {
      if (done[e]) continue;
      const into: number[] = [];
      let angle = 0;
      let at = e;
      do {
        done[at] = 1;
        into.push(at);
        angle += endAngle(half, at);
        at = mate[half.next[at]!]!;
      } while (at !== -1 && at !== e && !done[at]);
      if (at === e) out.push({ into, angle });
    }
    return out;
  }

  /** Number of the connected part of each piece. */
  parts(): Int32Array {
    const { half, mate } = this;
    const pieces = 1 + half.piece.reduce((m, p) => Math.max(m, p), -1);
    const parts = new DisjointSets(pieces);
    for (let e = 0; e < half.count; e++) {
      if (mate[e]! <= e) continue;
      parts.join(half.piece[e]!, half.piece[mate[e]!]!);
    }
    return Int32Array.from({ length: pieces }, (_, p) => parts.find(p));
  }
}
