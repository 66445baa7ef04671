/**
 * Where the edges of a pattern come to lie when it is folded up with some seams and no others: what the search for
 * seams asks in order to check what flat outlines leave open. Nothing here knows how seams are found.
 */
import { GirthwiseError, unwatched, type Work } from '../base';
import type { Point3 } from '../math';
import { nothingKnown, type Pattern, type Seam, type Seams } from '../model';
import type { Mm } from '../units';
import type { FoldMemory } from './foldMemory';
import { foldPattern } from './foldPattern';
import { glueFaces } from './glue';
import { edgesOf } from './sides';

/** The folded edges. */
export interface EdgesInSpace {
  /** Start and end, mm; edges of one connected part are in one frame. Null for edges that were not folded. */
  endsOf(edge: string): readonly [Point3, Point3] | null;
  /** How far folded lengths are from flat ones. */
  readonly residual: { readonly rms: Mm; readonly max: Mm };
}

/** Folds the pattern up with these pairs of edges, a's start on b's end. @throws Cancelled */
export type EdgeProbe = (
  pairs: readonly { readonly a: string; readonly b: string }[],
  work?: Work,
) => Promise<EdgesInSpace>;

/**
 * The probe of a pattern; it shares `folds` with `foldPattern`.
 * @throws GirthwiseError (by the promise) for pairs that would make no surface; `foldPattern` itself leaves them out
 */
export function edgeProbe(pattern: Pattern, folds: FoldMemory | null = null): EdgeProbe {
  const edges = edgesOf(pattern);
  return async (pairs, work = unwatched) => {
    const seams = asSeams(pairs, (edge) => edges.get(edge)?.piece ?? '');
    const glued = glueFaces(pattern, seams);
    const refused = glued.leftOut.filter((l) => l.why !== 'no-face');
    if (refused.length > 0)
      throw new GirthwiseError('no-surface', `${refused.length} of ${pairs.length} pairs make no surface.`);
    const shell = await foldPattern(pattern, seams, nothingKnown, work, folds);
    const faces = new Map(shell.faces.map((f) => [`${f.piece} ${f.face} ${f.part ?? 0}`, f] as const));
    const placeOf = new Map<number, Point3>();
    for (const face of glued.faces) {
      const patch = faces.get(`${face.piece} ${face.face} ${face.part ?? 0}`);
      face.vertices.forEach((v, i) => {
        const place = shell.vertices[patch?.vertices[i] ?? -1];
        if (place) placeOf.set(v, place);
      });
    }
    return {
      endsOf(edge) {
        const ends = glued.endsOfEdge.get(edge);
        const [start, end] = [placeOf.get(ends?.[0] ?? -1), placeOf.get(ends?.[1] ?? -1)];
        return start && end ? [start, end] : null;
      },
      residual: shell.residual,
    };
  };
}

/** Pairs as seams, as far as folding up looks at them. */
function asSeams(
  pairs: readonly { readonly a: string; readonly b: string }[],
  pieceOf: (edge: string) => string,
): Seams {
  const seams = pairs.map(
    ({ a, b }, i): Seam => ({
      id: `${a} ${b}`,
      number: i + 1,
      a: { piece: pieceOf(a), edge: a },
      b: { piece: pieceOf(b), edge: b },
      direction: 'opposed',
      evidence: 'geometry',
      confidence: 1,
      lengthA: 0,
      lengthB: 0,
    }),
  );
  return { seams, runs: [], open: [], issues: [] };
}
