import type { OpeningChoice } from '../../../src/model';

/** The selected edges that lie on the rim of an opening: of several openings, the one with most of them. */
export function selectedRim(
  selection: readonly string[],
  openings: readonly OpeningChoice[],
): readonly string[] {
  const own = new Set(selection);
  const found = openings.map(({ edges }) => edges.filter((e) => own.has(e)));
  return found.reduce<readonly string[]>((best, edges) => (edges.length > best.length ? edges : best), []);
}
