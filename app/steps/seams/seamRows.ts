/** The seam table: one row for each run, as a maker counts seams. Pure. */
import type { Seam, Seams } from '../../../src/model';
import type { NamedEdge } from '../names';
import { isAmbiguous } from './openRows';

export interface RunRow {
  readonly id: string;
  readonly number: number;
  readonly seams: readonly Seam[];
  /** "A – C". */
  readonly pieces: string;
  readonly lengthA: number;
  readonly lengthB: number;
  readonly difference: number;
  readonly evidence: Seam['evidence'] | 'several';
  /** Least of its seams. */
  readonly confidence: number;
  /** One of its seams joins a piece drawn from the other side. */
  readonly along: boolean;
}

export function runRows(seams: Seams, edges: ReadonlyMap<string, NamedEdge>): RunRow[] {
  const byId = new Map(seams.seams.map((seam) => [seam.id, seam]));
  return seams.runs.map((run) => {
    const own = run.seams.flatMap((id) => byId.get(id) ?? []);
    const first = own[0];
    const sum = (side: 'lengthA' | 'lengthB') => own.reduce((n, seam) => n + seam[side], 0);
    const kinds = new Set(own.map((seam) => seam.evidence));
    const [kind] = kinds;
    const nameOf = (edge: string | undefined) => edges.get(edge ?? '')?.pieceName ?? '?';
    return {
      id: run.id,
      number: run.number,
      seams: own,
      pieces: `${nameOf(first?.a.edge)} – ${nameOf(first?.b.edge)}`,
      lengthA: sum('lengthA'),
      lengthB: sum('lengthB'),
      difference: own.reduce((n, seam) => Math.max(n, Math.abs(seam.lengthA - seam.lengthB)), 0),
      evidence: kinds.size === 1 && kind ? kind : 'several',
      confidence: own.reduce((n, seam) => Math.min(n, seam.confidence), 1),
      along: own.some((seam) => seam.direction === 'along'),
    };
  });
}

/** Why the seams of a run were found, each sentence once; with many, the first two. */
export function reasonsOf(row: RunRow): readonly string[] {
  const all = [...new Set(row.seams.flatMap((seam) => seam.reason ?? []))];
  return all.length > 2 ? [...all.slice(0, 2), `And ${all.length - 2} more.`] : all;
}

export type RowFilter = 'all' | 'look' | 'lengths' | 'number' | 'mine';

/** A seam whose sides differ by more than this deserves a look: about what a glue line hides. Common practice, no source. */
export const lengthDoubt = 0.5;

/** A found seam less sure than this is shown before it is trusted: where other mates come near. */
export const lookBelow = 0.75;

/** Sides differ, run the same way, or the program itself is not sure. */
export const wantsALook = (row: RunRow): boolean =>
  row.difference > lengthDoubt ||
  (row.along && row.evidence !== 'person') ||
  row.seams.some((seam) => seam.evidence !== 'person' && seam.confidence < lookBelow);

export function filterRows(rows: readonly RunRow[], filter: RowFilter): readonly RunRow[] {
  switch (filter) {
    case 'all':
      return rows;
    case 'look':
      return rows.filter(wantsALook);
    case 'lengths':
      return rows.filter((row) => row.seams.some((seam) => seam.evidence === 'geometry'));
    case 'number':
      return rows.filter((row) => row.seams.some((seam) => seam.evidence === 'number'));
    case 'mine':
      return rows.filter((row) => row.seams.some((seam) => seam.evidence === 'person'));
  }
}

export interface SeamCounts {
  readonly paired: number;
  readonly open: number;
  readonly ambiguous: number;
  readonly borders: number;
  readonly largestDifference: number;
}

/** Edges, not seams, for the open ones: `open` have no evidence or no answer, `ambiguous` have several. */
export function countSeams(seams: Seams): SeamCounts {
  const undecided = seams.open.filter((edge) => edge.why !== 'border');
  const ambiguous = undecided.filter(isAmbiguous).length;
  return {
    paired: seams.seams.length,
    open: undecided.length - ambiguous,
    ambiguous,
    borders: seams.open.length - undecided.length,
    largestDifference: seams.seams.reduce((n, s) => Math.max(n, Math.abs(s.lengthA - s.lengthB)), 0),
  };
}

/** Open edges to offer as a mate, best first: named candidates, then the nearest length. */
export function matesFor(
  edge: NamedEdge,
  open: readonly NamedEdge[],
  candidates: readonly string[],
): readonly NamedEdge[] {
  const rank = (e: NamedEdge) => (candidates.includes(e.edge) ? 0 : 1);
  return open
    .filter((e) => e.edge !== edge.edge)
    .sort(
      (p, q) =>
        rank(p) - rank(q) ||
        Math.abs(p.length - edge.length) - Math.abs(q.length - edge.length) ||
        p.name.localeCompare(q.name, 'en', { numeric: true }),
    );
}
