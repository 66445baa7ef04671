/** Seams and typed bends as a maker who knows the shell would give them. */
import { defaultDecisions, type FoamDecisions, type Seam, type Seams } from '../../src/model';
import type { Truth } from '../support/harbourWatch';

const seamId = (a: string, b: string) => (a < b ? `${a}~${b}` : `${b}~${a}`);

/** Every pair of mates as one seam, numbered in order of pieces. */
export function seamsOfTruth(truth: Truth): Seams {
  const seams: Seam[] = [];
  const seen = new Set<string>();
  const pieceOf = new Map(truth.pieces.flatMap((p) => p.outline.map((e) => [e.id, p.id] as const)));
  for (const edge of truth.pieces.flatMap((p) => p.outline)) {
    if (edge.mate === null || seen.has(seamId(edge.id, edge.mate))) continue;
    const id = seamId(edge.id, edge.mate);
    seen.add(id);
    seams.push({
      id,
      number: seams.length + 1,
      a: { piece: pieceOf.get(edge.id)!, edge: edge.id },
      b: { piece: pieceOf.get(edge.mate)!, edge: edge.mate },
      direction: 'opposed',
      evidence: 'person',
      confidence: 1,
      lengthA: 0,
      lengthB: 0,
    });
  }
  return {
    seams,
    runs: seams.map((seam) => ({ id: `run.${seam.id}`, number: seam.number, seams: [seam.id] })),
    open: [],
    issues: [],
  };
}

/** The shell's own bend at every seam and fold. */
export function bendsOfTruth(truth: Truth): Record<string, number> {
  const bends: Record<string, number> = {};
  for (const piece of truth.pieces) {
    for (const fold of piece.folds) bends[fold.id] = fold.bend;
    for (const edge of piece.outline)
      if (edge.mate !== null) bends[seamId(edge.id, edge.mate)] = edge.bend ?? 0;
  }
  return bends;
}

/** Default foam settings with the shell's bends typed in. */
export const foamOfTruth = (truth: Truth, changes: Partial<FoamDecisions> = {}): FoamDecisions => ({
  ...defaultDecisions.foam,
  bends: bendsOfTruth(truth),
  ...changes,
});
