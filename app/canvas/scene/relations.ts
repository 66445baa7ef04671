/** Who belongs to whom: edges to pieces, seams and runs. Built once per pattern and seam list. */
import { polylineLength } from '../../../src/math';
import type { Edge, OpenEdge, Pattern, Piece, Seam, Seams } from '../../../src/model';

/** An edge and its place in its piece. */
export interface KnownEdge {
  readonly edge: Edge;
  readonly piece: Piece;
  /** Number within the piece, from 1: outline first, then holes. */
  readonly number: number;
}

/** One side of a seam with a view of the other. */
export interface Mate {
  readonly seam: Seam;
  /** Number that is printed on both sides. */
  readonly number: number;
  readonly mate: string;
  /** Which end of this edge, and which of the mate's, lie at the corner that the seam counts from. */
  readonly here: 'start' | 'end';
  readonly there: 'start' | 'end';
}

export class Relations {
  private readonly known = new Map<string, KnownEdge>();
  private readonly mates = new Map<string, Mate>();
  private readonly members = new Map<string, readonly string[]>();
  private readonly openEdges = new Map<string, OpenEdge>();
  private readonly middles = new Set<string>();

  constructor(pattern: Pattern | null, seams: Seams | null) {
    for (const piece of pattern?.pieces ?? []) {
      [piece.outline, ...piece.holes].flat().forEach((edge, i) => {
        this.known.set(edge.id, { edge, piece, number: i + 1 });
      });
    }
    if (!seams) return;
    const byId = new Map(seams.seams.map((s) => [s.id, s]));
    const printed = new Map(seams.runs.flatMap((run) => run.seams.map((id) => [id, run.number])));
    for (const seam of seams.seams) {
      const number = printed.get(seam.id) ?? seam.number;
      const there = seam.direction === 'opposed' ? 'end' : 'start';
      this.mates.set(seam.a.edge, { seam, number, mate: seam.b.edge, here: 'start', there });
      this.mates.set(seam.b.edge, { seam, number, mate: seam.a.edge, here: there, there: 'start' });
      this.members.set(seam.id, [seam.a.edge, seam.b.edge]);
    }
    for (const run of seams.runs) {
      this.members.set(
        run.id,
        run.seams.flatMap((id) => this.members.get(id) ?? []),
      );
      const longest = run.seams
        .map((id) => byId.get(id))
        .filter((s) => s !== undefined)
        .reduce<Seam | null>((best, s) => (best && best.lengthA >= s.lengthA ? best : s), null);
      if (longest) this.middles.add(longest.a.edge).add(longest.b.edge);
    }
    for (const open of seams.open) this.openEdges.set(open.edge, open);
  }

  edge(id: string): KnownEdge | null {
    return this.known.get(id) ?? null;
  }

  mateOf(edge: string): Mate | null {
    return this.mates.get(edge) ?? null;
  }

  /** What the seams say about an edge without a mate; null when it has one, or nothing was said. */
  openOf(edge: string): OpenEdge | null {
    return this.openEdges.get(edge) ?? null;
  }

  /** The edges that an id stands for: those of a seam or run, else the id itself. */
  edgesOf(id: string): readonly string[] {
    return this.members.get(id) ?? [id];
  }

  /** The longest edge of its run: the one whose number is shown first. */
  isLeading(edge: string): boolean {
    return this.middles.has(edge);
  }

  /** "Edge 3 of piece B, 24.1 mm, seam 12". */
  describe(id: string, length: (mm: number) => string, scale = 1): string {
    const found = this.known.get(id);
    if (!found) return 'Edge';
    const mate = this.mates.get(id);
    const open = this.openEdges.get(id);
    const state = mate
      ? `, seam ${mate.number}`
      : open?.why === 'border'
        ? ', stays open'
        : open
          ? ', no mate yet'
          : '';
    const mm = polylineLength(found.edge.points) * scale;
    return `Edge ${found.number} of piece ${found.piece.name}, ${length(mm)}${state}`;
  }
}
