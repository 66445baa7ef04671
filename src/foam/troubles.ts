/** What went wrong on a skin of a panel: edges that run into each other, edges and parts that are gone. */
import { ringArea } from '../math';
import type { ShiftEdge, ShiftResult } from '../plane';
import type { SeamCut } from './seamCut';
import { shaving } from './tolerance';

export interface FaceTrouble {
  readonly skin: 'inside' | 'outside';
  /** Pairs of edges that run into each other. */
  readonly crossings: readonly (readonly [string, string])[];
  readonly vanished: readonly string[];
  /** Number of separate parts that are left: 1 is right, 0 means that nothing is left. */
  readonly parts: number;
  /** Bevelled seams at these places whose edge would lie further back on this skin if it were cut square. */
  readonly squareHelps: readonly string[];
}

/** What a shifted edge belongs to. */
export interface ShiftOwner {
  readonly edge: string;
  /** The seam, its cut now and what a square cut would be; null unless it is bevelled. */
  readonly bevelled: { readonly seam: string; readonly now: SeamCut; readonly square: SeamCut } | null;
}

/** @param ownerOf what the edge with this id of the shift belongs to; several may be stretches of one edge */
export function troublesOf(
  skin: 'inside' | 'outside',
  given: readonly (readonly ShiftEdge[])[],
  result: ShiftResult,
  ownerOf: (id: string) => ShiftOwner,
): FaceTrouble[] {
  const parts = result.rings.filter((ring) => ringArea(ring) > shaving).length;
  if (result.crossings.length === 0 && result.vanished.length === 0 && parts === 1) return [];
  const gone = new Set(result.vanished);
  const left = new Set(given.flat().flatMap(({ id }) => (gone.has(id) ? [] : [ownerOf(id).edge])));
  const edgesGone = new Set(result.vanished.map((id) => ownerOf(id).edge));
  const pairs = new Map(
    result.crossings.map(([p, q]) => {
      const pair = [ownerOf(p).edge, ownerOf(q).edge] as const;
      return [pair.join(' '), pair] as const;
    }),
  );
  return [
    {
      skin,
      crossings: [...pairs.values()],
      vanished: [...edgesGone].filter((edge) => !left.has(edge)),
      parts,
      squareHelps: squareHelps(skin, given, result, ownerOf),
    },
  ];
}

/**
 * Bevelled edges that cross another edge, or that lie in a notch in which an edge vanished, and that a square cut would
 * take back: those that reach beyond the square cut's line on this skin. Besides narrow notches these are darts that
 * close because the flat outer skin is longer than the bent one.
 */
function squareHelps(
  skin: 'inside' | 'outside',
  given: readonly (readonly ShiftEdge[])[],
  result: ShiftResult,
  ownerOf: (id: string) => ShiftOwner,
): string[] {
  const found = new Set<string>();
  const take = (id: string) => {
    const { bevelled } = ownerOf(id);
    if (bevelled && bevelled.square[skin] < bevelled.now[skin]) found.add(bevelled.seam);
  };
  for (const [p, q] of result.crossings) {
    take(p);
    take(q);
  }
  const vanished = new Set(result.vanished);
  for (const loop of given) {
    loop.forEach((edge, k) => {
      if (!vanished.has(edge.id)) return;
      const before = loop[(k + loop.length - 1) % loop.length]!;
      const after = loop[(k + 1) % loop.length]!;
      if (!isReflex(before, edge) && !isReflex(edge, after)) return;
      for (const near of [before, edge, after]) take(near.id);
    });
  }
  return [...found];
}

/** The outline turns right from one edge to the next: a corner that points into the material. */
function isReflex(before: ShiftEdge, after: ShiftEdge): boolean {
  const [p, q] = [before.points.at(-2)!, before.points.at(-1)!];
  const [r, s] = [after.points[0]!, after.points[1]!];
  return (q.x - p.x) * (s.y - r.y) - (q.y - p.y) * (s.x - r.x) < 0;
}
