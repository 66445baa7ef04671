/**
 * Openings of what is glued so far: the rings of edges that are not glued yet or never are. They are walked along the
 * panels' edges and, where an edge is glued, across the seam, so that two openings that touch in a corner stay two.
 */
import { polylineLength } from '../math';
import type { FoamResult, Seam, Seams } from '../model';
import type { Mm } from '../units';
import { leastRest } from './tolerance';

/** An edge, or the stretch of one that has a seam of its own or none. */
interface Side {
  readonly panel: number;
  readonly length: Mm;
  readonly seam: string | null;
  /** Neighbours round the panel. */
  next: number;
  previous: number;
  /** The side that it is glued to by its seam, and whether the two run against each other. */
  mate: { readonly side: number; readonly opposed: boolean } | null;
}

export interface Openings {
  /**
   * Girths of all openings of an assembly, widest first.
   *
   * @param present panels of the assembly, by index
   * @param glued ids of the seams that are glued
   */
  of(present: ReadonlySet<number>, glued: ReadonlySet<string>): Mm[];
}

/** Reads the sides of all panels once; extra parts have none that matter. */
export function openingsOf(foam: FoamResult, { seams }: Seams): Openings {
  const sides = sidesOf(foam, seams);
  return {
    of(present, glued) {
      const isOpen = (s: Side) => s.seam === null || s.mate === null || !glued.has(s.seam);
      const left = new Set(sides.flatMap((s, i) => (present.has(s.panel) && isOpen(s) ? [i] : [])));
      const girths: Mm[] = [];
      for (const first of left) {
        let girth = 0;
        let at = first;
        let forward = true;
        // A ring has no more sides than there are; each is left at most once in each direction.
        while (left.delete(at)) {
          girth += sides[at]!.length;
          at = forward ? sides[at]!.next : sides[at]!.previous;
          for (let turns = 0; !isOpen(sides[at]!) && turns < sides.length; turns++) {
            const { side, opposed } = sides[at]!.mate!;
            if (!opposed) forward = !forward;
            at = forward ? sides[side]!.next : sides[side]!.previous;
          }
        }
        girths.push(girth);
      }
      return girths.sort((a, b) => b - a);
    },
  };
}

function sidesOf({ panels, rows }: FoamResult, seams: readonly Seam[]): Side[] {
  const rowOf = new Map(rows.map((r) => [r.seam, r] as const));
  const onEdge = new Map<
    string,
    { seam: Seam; side: 'a' | 'b'; part: readonly [Mm, Mm] | null; length: Mm }[]
  >();
  const put = (seam: Seam, side: 'a' | 'b') => {
    const { edge } = seam[side];
    const row = rowOf.get(seam.id);
    const [part, length] =
      side === 'a'
        ? [seam.partA ?? null, row?.lengthA ?? seam.lengthA]
        : [seam.partB ?? null, row?.lengthB ?? seam.lengthB];
    onEdge.set(edge, [...(onEdge.get(edge) ?? []), { seam, side, part, length }]);
  };
  for (const seam of seams) {
    put(seam, 'a');
    put(seam, 'b');
  }
  const sides: Side[] = [];
  const ends = new Map<string, { a?: number; b?: number }>();
  panels.forEach((panel, index) => {
    for (const loop of panel.loops) {
      const start = sides.length;
      const add = (length: Mm, seam: string | null): number =>
        sides.push({ panel: index, length, seam, next: 0, previous: 0, mate: null }) - 1;
      for (const edge of loop) {
        const whole = polylineLength(edge.points);
        const own = [...(onEdge.get(edge.id) ?? [])].sort((p, q) => (p.part?.[0] ?? 0) - (q.part?.[0] ?? 0));
        // Parts are lengths on the paper; gaps between them get longer as the parts do.
        const glued = own.reduce((sum, o) => sum + o.length, 0);
        const drawn = own.reduce((sum, o) => sum + (o.part ? o.part[1] - o.part[0] : o.length), 0);
        const scale = drawn > 0 ? glued / drawn : 1;
        let reached = 0;
        let used = 0;
        for (const { seam, side, part, length } of own) {
          const gap = part ? (part[0] - reached) * scale : 0;
          if (gap > leastRest) used += sides[add(gap, null)]!.length;
          ends.set(seam.id, { ...ends.get(seam.id), [side]: add(part ? length : whole, seam.id) });
          used += part ? length : whole;
          reached = part?.[1] ?? 0;
        }
        if (own.length === 0 || whole - used > leastRest) add(whole - used, null);
      }
      const count = sides.length - start;
      for (let i = 0; i < count; i++) {
        sides[start + i]!.next = start + ((i + 1) % count);
        sides[start + i]!.previous = start + ((i + count - 1) % count);
      }
    }
  });
  for (const seam of seams) {
    const { a, b } = ends.get(seam.id) ?? {};
    if (a === undefined || b === undefined) continue;
    const opposed = seam.direction === 'opposed';
    sides[a]!.mate = { side: b, opposed };
    sides[b]!.mate = { side: a, opposed };
  }
  return sides;
}
