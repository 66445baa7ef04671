/** The seam list of the foam step: rows with names for people, and its summary. Pure. */
import type { FoamResult, FoamSeamRow, Seams } from '../../../src/model';

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
