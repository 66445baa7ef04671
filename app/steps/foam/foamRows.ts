/** The seam list of the foam step: rows with names for people, and its summary. Pure. */
import type { BendSource, FoamResult, FoamSeamRow, Seams } from '../../../src/model';

export interface NamedFoamRow extends FoamSeamRow {
  /** The printed number; with its part where a seam has several edges: "3.2". */
  readonly name: string;
}

export function nameFoamRows(foam: FoamResult, seams: Seams | null): NamedFoamRow[] {
  const parts = new Map<string, string>();
  for (const run of seams?.runs ?? [])
    run.seams.forEach((id, i) => {
      parts.set(id, run.seams.length > 1 ? `${run.number}.${i + 1}` : `${run.number}`);
    });
  return foam.rows.map((row) => ({ ...row, name: parts.get(row.seam) ?? String(row.run) }));
}

export interface FoamSummary {
  readonly worstMismatch: number;
  readonly widestWedge: number;
  /** Largest tilt from square, without its sign. */
  readonly steepestBevel: number;
}

export function summariseFoam(foam: FoamResult): FoamSummary {
  let worstMismatch = 0;
  let widestWedge = 0;
  let steepestBevel = 0;
  for (const row of foam.rows) {
    worstMismatch = Math.max(worstMismatch, Math.abs(row.mismatch));
    widestWedge = Math.max(widestWedge, row.openWedge);
    steepestBevel = Math.max(steepestBevel, Math.abs(row.bevel));
  }
  return { worstMismatch, widestWedge, steepestBevel };
}

/** How many bends of folds and seams each source gives; `unset` count as flat. */
export type BendCounts = Readonly<Record<BendSource | 'unset', number>>;

export function countBends(foam: FoamResult): BendCounts {
  const counts = { typed: 0, shell: 0, file: 0, kind: 0, unset: foam.unsetBends.length };
  for (const { bendFrom } of bentThings(foam)) if (bendFrom) counts[bendFrom] += 1;
  return counts;
}

/** The bend in force of a fold or seam and where it is from; null when nobody set one. */
export function bendInForce(
  foam: FoamResult,
  id: string,
): { readonly bend: number; readonly from: BendSource } | null {
  const found = bentThings(foam).find((thing) => thing.id === id);
  return found && found.bend !== null && found.bendFrom ? { bend: found.bend, from: found.bendFrom } : null;
}

interface BentThing {
  readonly id: string;
  readonly bend: number | null;
  readonly bendFrom?: BendSource;
}

const bentThings = (foam: FoamResult): readonly BentThing[] => [
  ...foam.rows.map(({ seam, ...row }) => ({ ...row, id: seam })),
  ...foam.panels.flatMap((panel) => panel.folds),
];
