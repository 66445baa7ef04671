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
import { type GluedSurface, glueFaces } from './glue';
import { edgesOf } from './sides';

/** The folded edges. */
export interface EdgesInSpace {
  /** Start and end, mm; edges of one connected part are in one frame. Null for edges that were not folded. */
  endsOf(edge: string): readonly [Point3, Point3] | null;
  /** How far folded lengths are from flat ones. */
  readonly residual: { readonly rms: Mm; readonly max: Mm };
}

/** An earlier answer of the same probe that the one asked for differs from by a few pieces. */
export interface NearShell {
  readonly folded: EdgesInSpace;
  /** Edges of pieces that moved: each lies where the other edge lay. */
  readonly movedTo: ReadonlyMap<string, string>;
}

/**
 * Folds the pattern up with these pairs of edges, a's start on b's end; `rough` only for a look, see `foldUp`.
 * @throws Cancelled
 */
export type EdgeProbe = (
  pairs: readonly { readonly a: string; readonly b: string }[],
  work?: Work,
  from?: { readonly near?: NearShell | null; readonly rough?: boolean },
) => Promise<EdgesInSpace>;

/**
 * The probe of a pattern; it shares `folds` with `foldPattern`.
 * @throws GirthwiseError (by the promise) for pairs that would make no surface; `foldPattern` itself leaves them out
 */
export function edgeProbe(pattern: Pattern, folds: FoldMemory | null = null): EdgeProbe {
  const edges = edgesOf(pattern);
  const cornersOf = new WeakMap<EdgesInSpace, ReadonlyMap<string, readonly Point3[]>>();
  return async (pairs, work = unwatched, { near = null, rough = false } = {}) => {
    const seams = asSeams(pairs, (edge) => edges.get(edge)?.piece ?? '');
    const glued = glueFaces(pattern, seams);
    const refused = glued.leftOut.filter((l) => l.why !== 'no-face');
    if (refused.length > 0)
      throw new GirthwiseError('no-surface', `${refused.length} of ${pairs.length} pairs make no surface.`);
    const old = near && cornersOf.get(near.folded);
    const start = near && old ? placesNear(glued, near, old, (edge) => edges.get(edge)?.piece) : null;
    const shell = await foldPattern(pattern, seams, nothingKnown, work, folds, { near: start, rough });
    const faces = new Map(shell.faces.map((f) => [faceKey(f), f] as const));
    const placeOf = new Map<number, Point3>();
    for (const face of glued.faces) {
      const patch = faces.get(faceKey(face));
      face.vertices.forEach((v, i) => {
        const place = shell.vertices[patch?.vertices[i] ?? -1];
        if (place) placeOf.set(v, place);
      });
    }
    const folded: EdgesInSpace = {
      endsOf(edge) {
        const ends = glued.endsOfEdge.get(edge);
        const [start, end] = [placeOf.get(ends?.[0] ?? -1), placeOf.get(ends?.[1] ?? -1)];
        return start && end ? [start, end] : null;
      },
      residual: shell.residual,
    };
    const corners = shell.faces.map((f) => [faceKey(f), f.vertices.map((v) => shell.vertices[v]!)] as const);
    cornersOf.set(folded, new Map(corners));
    return folded;
  };
}

const faceKey = (f: { readonly piece: string; readonly face: string; readonly part?: number }): string =>
  `${f.piece} ${f.face} ${f.part ?? 0}`;

/** Where the vertices of the glued surface lie in the shell near it, as far as edges and faces that stayed tell. */
function placesNear(
  glued: GluedSurface,
  { folded, movedTo }: NearShell,
  corners: ReadonlyMap<string, readonly Point3[]>,
  pieceOf: (edge: string) => string | undefined,
): ReadonlyMap<number, Point3> {
  const moved = new Set([...movedTo.keys()].map(pieceOf));
  const places = new Map<number, Point3>();
  for (const face of glued.faces) {
    if (moved.has(face.piece)) continue;
    corners.get(faceKey(face))?.forEach((p, i) => {
      places.set(face.vertices[i]!, p);
    });
  }
  for (const [edge, there] of movedTo) {
    const [vertices, ends] = [glued.endsOfEdge.get(edge), folded.endsOf(there)];
    if (!vertices || !ends) continue;
    vertices.forEach((v, i) => {
      if (!places.has(v)) places.set(v, ends[i]!);
    });
  }
  return places;
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
