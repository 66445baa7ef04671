import type { FoamDecisions, FoamResult, MarkDecisions, Seams } from '../model';
import { type Cut, realStages } from '../pipeline';
import type { Mm } from '../units';

export interface NeutralLengths {
  readonly a: Mm;
  readonly b: Mm;
}

/**
 * Length of both sides of every seam in the neutral layer, by seam id. The cut between the two skins of a panel is
 * ruled, so an edge at the part K of the thickness from the inside is (1 − K) of its inside and K of its outside
 * length. Kerf is no part of it.
 */
export function neutralLengths(
  { pattern, scale, bends }: Cut,
  seams: Seams,
  foam: FoamDecisions,
  marks: MarkDecisions,
): ReadonlyMap<string, NeutralLengths> {
  const skin = (traced: 'inside' | 'outside'): FoamResult['rows'] =>
    realStages.makePanels(pattern, seams, scale, { ...foam, traced, kerf: 0 }, marks, undefined, bends).rows;
  const k = foam.neutralRatio;
  const inside = new Map(skin('inside').map((row) => [row.seam, row] as const));
  return new Map(
    skin('outside').flatMap((out) => {
      const inn = inside.get(out.seam);
      if (!inn) return [];
      const between = (i: Mm, o: Mm): Mm => (1 - k) * i + k * o;
      return [
        [out.seam, { a: between(inn.lengthA, out.lengthA), b: between(inn.lengthB, out.lengthB) }] as const,
      ];
    }),
  );
}
