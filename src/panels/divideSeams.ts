/** Seams whose edges are divided: one for each pair of parts that meet. */
import { type Point, polylineLength } from '../math';
import { type OpenEdge, partId, type Seam, type Seams } from '../model';
import { samePlace } from './tolerance';

type Stretch = readonly [from: number, to: number];

/**
 * @param lines edges of the pattern before, by id
 * @param cuts places along each divided edge, in order; both sides of a seam are divided at the same places
 * @param edit for the ids of parts
 */
export function divideSeams(
  seams: Seams,
  lines: ReadonlyMap<string, readonly Point[]>,
  cuts: ReadonlyMap<string, readonly number[]>,
  edit: string,
): Seams {
  const parts = new Map<string, string[]>();
  const list = seams.seams.flatMap((seam): Seam[] => {
    if (!cuts.has(seam.a.edge) && !cuts.has(seam.b.edge)) return [seam];
    const a = stretchesOf(seam.a.edge, seam.partA, lines, cuts, edit);
    const b = stretchesOf(seam.b.edge, seam.partB, lines, cuts, edit);
    if (seam.direction === 'opposed') b.reverse();
    const count = Math.min(a.length, b.length);
    const made = Array.from({ length: count }, (_, k): Seam => {
      const { partA: _a, partB: _b, ...rest } = seam;
      const [one, two] = [a[k]!, b[k]!];
      return {
        ...rest,
        id: count === 1 ? seam.id : partId(seam.id, edit, k),
        a: { piece: seam.a.piece, edge: one.edge },
        b: { piece: seam.b.piece, edge: two.edge },
        lengthA: one.length,
        lengthB: two.length,
        ...(one.part ? { partA: one.part } : {}),
        ...(two.part ? { partB: two.part } : {}),
      };
    });
    parts.set(
      seam.id,
      made.map((s) => s.id),
    );
    return made;
  });
  return {
    ...seams,
    seams: list,
    runs: seams.runs.map((run) =>
      run.seams.some((id) => parts.has(id))
        ? { ...run, seams: run.seams.flatMap((id) => parts.get(id) ?? [id]) }
        : run,
    ),
    open: seams.open.flatMap((open): OpenEdge[] => {
      const own = cuts.get(open.edge);
      if (!own) return [open];
      return Array.from({ length: own.length + 1 }, (_, k) => ({
        ...open,
        edge: partId(open.edge, edit, k),
      }));
    }),
  };
}

interface Part {
  readonly edge: string;
  readonly length: number;
  /** Absent: all of the edge. */
  readonly part: Stretch | null;
}

/** The parts of one side of a seam, along its edge. */
function stretchesOf(
  edge: string,
  part: Stretch | undefined,
  lines: ReadonlyMap<string, readonly Point[]>,
  cuts: ReadonlyMap<string, readonly number[]>,
  edit: string,
): Part[] {
  const total = polylineLength(lines.get(edge)!);
  const [from, to] = part ?? [0, total];
  const own = cuts.get(edge);
  if (!own) return [{ edge, length: to - from, part: part ?? null }];
  const stops = [0, ...own, total];
  return stops.slice(1).flatMap((end, k): Part[] => {
    const start = stops[k]!;
    const [f, t] = [Math.max(from, start), Math.min(to, end)];
    if (t - f <= samePlace) return [];
    const all = f - start <= samePlace && end - t <= samePlace;
    return [{ edge: partId(edge, edit, k), length: t - f, part: all ? null : [f - start, t - start] }];
  });
}
