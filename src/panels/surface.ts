/**
 * The faces of the pattern with what joins them, as one table: sides of faces (half-edges), their twins across folds
 * and seams, and hinges: the lines that an edit can cut or join. Nothing here knows which are cut.
 */
import type { Point } from '../math';
import type { Pattern, Seams } from '../model';
import { type GluedFace, type GluedSurface, glueFaces } from '../shell';

export interface Surface {
  readonly faces: readonly SurfaceFace[];
  /** First side of each face in the tables below. */
  readonly start: readonly number[];
  readonly faceOf: readonly number[];
  /** The same side of the neighbouring face; −1 at the border and at seams that are not glued. */
  readonly twin: readonly number[];
  /** Chain of each side. */
  readonly chainOf: readonly number[];
  readonly chains: readonly Chain[];
  readonly hinges: readonly Hinge[];
  readonly hingeAt: ReadonlyMap<string, number>;
  readonly glued: GluedSurface;
}

export interface SurfaceFace {
  readonly piece: string;
  readonly face: string;
  /** Counter-clockwise seen from outside; the first side begins a chain. */
  readonly vertices: readonly number[];
  /** As seen from outside, in the frame of the drawing (mirrored in x where the piece was drawn from inside). */
  readonly flat: readonly Point[];
  readonly over: boolean;
  /** Corners that the ring was turned on by, so that it begins with a chain. */
  readonly turnedBy: number;
}

/** Consecutive sides of one face on one fold or edge: `count` sides from `first` on, none past the end of the ring. */
export interface Chain {
  readonly face: number;
  readonly first: number;
  readonly count: number;
  /** Fold or edge of the pattern. */
  readonly side: string;
  readonly seam: string | null;
  /** −1: open. */
  readonly hinge: number;
}

export interface Hinge {
  /** Fold id or seam id of the pattern. */
  readonly id: string;
  readonly kind: 'fold' | 'seam';
  /** Chains: the fold's (seam's) left side, seen from outside, and the other. */
  readonly a: number;
  readonly b: number;
}

export function surfaceOf(pattern: Pattern, seams: Seams): Surface {
  const glued = glueFaces(pattern, seams);
  const over = new Set(glued.turnedOver);
  const folds = new Map(pattern.pieces.flatMap((p) => p.folds.map((f) => [f.id, f] as const)));
  const whole = glued.whole.map((f) => turnedToStart(f));
  const start: number[] = [];
  let count = 0;
  for (const f of whole) {
    start.push(count);
    count += f.vertices.length;
  }
  const faceOf = whole.flatMap((f, k) => f.vertices.map(() => k));
  const at = new Map<string, number>();
  whole.forEach(({ vertices }, k) => {
    vertices.forEach((v, i) => {
      at.set(`${v} ${vertices[(i + 1) % vertices.length]}`, start[k]! + i);
    });
  });
  const twin = whole.flatMap(({ vertices }) =>
    vertices.map((v, i) => at.get(`${vertices[(i + 1) % vertices.length]} ${v}`) ?? -1),
  );
  const chainOf: number[] = [];
  const drafts: Omit<Chain, 'hinge'>[] = [];
  whole.forEach((f, k) => {
    f.vertices.forEach((_, i) => {
      const h = start[k]! + i;
      const last = drafts.at(-1);
      const goesOn =
        i > 0 &&
        last !== undefined &&
        last.side === f.sideIds[i] &&
        last.seam === f.seamIds[i] &&
        (twin[h] === -1 ? twin[h - 1] === -1 : twin[h]! === twin[h - 1]! - 1 && twin[h] !== h - 1);
      if (goesOn) drafts[drafts.length - 1] = { ...last, count: last.count + 1 };
      else drafts.push({ face: k, first: i, count: 1, side: f.sideIds[i]!, seam: f.seamIds[i]! });
      chainOf.push(drafts.length - 1);
    });
  });
  const hinges: Hinge[] = [];
  const hingeOf = new Array<number>(drafts.length).fill(-1);
  drafts.forEach((chain, c) => {
    const other = twin[start[chain.face]! + chain.first]!;
    if (other < 0) return;
    const d = chainOf[other]!;
    if (d < c) return;
    const fold = folds.get(chain.side);
    const id = chain.seam ?? chain.side;
    const swap = fold ? runsBack(fold.points, whole[chain.face]!, chain) : false;
    hingeOf[c] = hingeOf[d] = hinges.length;
    hinges.push({ id, kind: chain.seam === null ? 'fold' : 'seam', a: swap ? d : c, b: swap ? c : d });
  });
  return {
    faces: whole.map(({ piece, face, vertices, flat, by }) => ({
      piece,
      face,
      vertices,
      flat,
      over: over.has(piece),
      turnedBy: by,
    })),
    start,
    faceOf,
    twin,
    chainOf,
    chains: drafts.map((chain, c) => ({ ...chain, hinge: hingeOf[c]! })),
    hinges,
    hingeAt: new Map(hinges.map((h, i) => [h.id, i])),
    glued,
  };
}

/** A ring may begin in the middle of a curve when its piece was turned over: then it is turned on to where one begins. */
function turnedToStart(face: GluedFace): GluedFace & { readonly by: number } {
  const n = face.vertices.length;
  const begins = (i: number) =>
    face.sideIds[i] !== face.sideIds[(i + n - 1) % n] || face.seamIds[i] !== face.seamIds[(i + n - 1) % n];
  let by = 0;
  while (by < n && !begins(by)) by++;
  if (by === 0 || by === n) return { ...face, by: 0 };
  const turned = <T>(ring: readonly T[]): T[] => ring.map((_, i) => ring[(i + by) % n]!);
  return {
    ...face,
    vertices: turned(face.vertices),
    flat: turned(face.flat),
    drawn: turned(face.drawn),
    sideIds: turned(face.sideIds),
    seamIds: turned(face.seamIds),
    by,
  };
}

/** Whether a chain runs against its fold as drawn. */
function runsBack(
  points: readonly Point[],
  face: GluedFace,
  chain: { readonly first: number; readonly count: number },
): boolean {
  const p = face.drawn[chain.first]!;
  const q = face.drawn[(chain.first + chain.count) % face.drawn.length]!;
  const s = points[0]!;
  return Math.hypot(p.x - s.x, p.y - s.y) > Math.hypot(q.x - s.x, q.y - s.y);
}

/** Corner numbers of a chain in ring order, both ends included. */
export function cornersOf(surface: Surface, chain: Chain): number[] {
  const n = surface.faces[chain.face]!.vertices.length;
  return Array.from({ length: chain.count + 1 }, (_, i) => (chain.first + i) % n);
}
