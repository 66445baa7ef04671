/**
 * A pattern of one half of a shell, completed by its mirror image: every piece once more, turned over, with its seams,
 * and a seam along the rim that both halves share. Made before folding up, so that shell, measures and panels are of the
 * whole. The given pieces stay the same objects.
 */
import { boxOf, type Point, polylineLength } from '../math';
import type {
  Edge,
  Face,
  Fold,
  OpenEdge,
  Pattern,
  Piece,
  Seam,
  SeamDecisions,
  SeamRun,
  SeamSide,
  Seams,
} from '../model';
import type { Mm } from '../units';

const mark = 'mirror:';

/** Id of the mirror image of a piece, face, edge, fold or tab; of an image, the id of what it is the image of. */
export const mirrorId = (id: string): string =>
  id.startsWith(mark) ? id.slice(mark.length) : `${mark}${id}`;
export const isMirrorId = (id: string): boolean => id.startsWith(mark);
/** The id in the drawn half. */
export const drawnHalfId = (id: string): string => (isMirrorId(id) ? mirrorId(id) : id);

/** Room between the half and its mirror image on the drawing. */
const apart: Mm = 20;

/** The pattern with the mirror image of every piece to the right of it. */
export function withMirrorImage(pattern: Pattern): Pattern {
  const points = pattern.pieces.flatMap((p) => p.outline.flatMap((e) => [...e.points]));
  if (points.length === 0) return pattern;
  const line = boxOf(points).maxX + apart / 2;
  const over = (p: Point): Point => ({ x: 2 * line - p.x, y: p.y });
  return {
    ...pattern,
    pieces: [...pattern.pieces, ...pattern.pieces.map((p) => mirrorPiece(p, over))],
    labels: [
      ...pattern.labels,
      ...pattern.labels.map((l) => ({ ...l, edge: mirrorId(l.edge), at: over(l.at), angle: -l.angle })),
    ],
  };
}

/** Turned over; twice is the piece itself when `over` is its own inverse. */
export function mirrorPiece(piece: Piece, over: (p: Point) => Point): Piece {
  const ring = (all: readonly Point[]): Point[] => {
    const turned = all.map(over);
    return turned.length === 0 ? [] : [turned[0]!, ...turned.slice(1).reverse()];
  };
  const loop = (edges: readonly Edge[]): Edge[] =>
    edges
      .map((e): Edge => ({ ...e, id: mirrorId(e.id), points: [...e.points].reverse().map(over) }))
      .reverse();
  return {
    id: mirrorId(piece.id),
    name: piece.name.endsWith(imageName)
      ? piece.name.slice(0, -imageName.length)
      : `${piece.name}${imageName}`,
    outline: loop(piece.outline),
    holes: piece.holes.map(loop),
    folds: piece.folds.map(
      (f): Fold => ({
        ...f,
        id: mirrorId(f.id),
        points: f.points.map(over),
        left: mirrorId(f.right),
        right: mirrorId(f.left),
      }),
    ),
    faces: piece.faces.map(
      (f): Face => ({
        id: mirrorId(f.id),
        polygon: ring(f.polygon),
        // An edge is turned round with its outline, a fold keeps its direction.
        sides: [...f.sides]
          .reverse()
          .map((s) => ({ ...s, id: mirrorId(s.id), forward: s.kind === 'edge' ? s.forward : !s.forward })),
        holes: f.holes.map(ring),
      }),
    ),
    tabs: piece.tabs.map((t) => ({
      ...t,
      id: mirrorId(t.id),
      edge: mirrorId(t.edge),
      polygon: ring(t.polygon),
    })),
  };
}

/** Told after the name of a piece for its mirror image. */
const imageName = '-m';

/**
 * What the person decided about seams, as decisions about the drawn half: what was said of an image counts for what it is
 * the image of. Pairs with one side on each half are left out; see {@link completeHalf}.
 */
export function halfDecisions(decisions: SeamDecisions, seamId: SeamName): SeamDecisions {
  const rim = decisions.half?.rim ?? [];
  const own = new Set(rim.map(drawnHalfId));
  return {
    ...decisions,
    made: decisions.made
      .filter((m) => isMirrorId(m.a) === isMirrorId(m.b))
      .map((m) => (isMirrorId(m.a) ? imageOfMade(m) : m))
      .filter((m) => !own.has(m.a) && !own.has(m.b)),
    rejected: decisions.rejected.flatMap((id) => [id, imageOfSeamId(id, seamId)]),
    borders: [...new Set([...decisions.borders.map(drawnHalfId), ...own])],
  };
}

type Made = SeamDecisions['made'][number];
const reversed = (part: readonly [number, number]): readonly [number, number] => [1 - part[1], 1 - part[0]];
const imageOfMade = ({ a, b, direction, partA, partB }: Made): Made => ({
  ...{ a: mirrorId(a), b: mirrorId(b), direction },
  ...(partA ? { partA: reversed(partA) } : {}),
  ...(partB ? { partB: reversed(partB) } : {}),
});

/** How the id of a seam is made of its edges'. */
export type SeamName = (a: string, b: string) => string;

/** Ids of seams are two ids of edges with a sign between; the image has both mirrored, in the order of its own ids. */
function imageOfSeamId(id: string, seamId: SeamName): string {
  const parts = id.split('+');
  return parts.length === 2 ? seamId(mirrorId(parts[0]!), mirrorId(parts[1]!)) : id;
}

/**
 * Seams of the whole: those of the half, their images, and the rim.
 * @param whole from {@link withMirrorImage}
 * @param seams of the half, its rim counted as a border
 */
export function completeHalf(
  whole: Pattern,
  seams: Seams,
  decisions: SeamDecisions,
  seamId: SeamName,
): Seams {
  const lengths = new Map(
    whole.pieces.flatMap((p) =>
      [...p.outline, ...p.holes.flat()].map((e) => [e.id, polylineLength(e.points)] as const),
    ),
  );
  const rejected = new Set(decisions.rejected);
  const side = (s: SeamSide): SeamSide => ({ piece: mirrorId(s.piece), edge: mirrorId(s.edge) });
  const most = seams.runs.reduce((n, r) => Math.max(n, r.number), 0);
  const turned = (edge: string, part: readonly [Mm, Mm]) => {
    const all = lengths.get(edge) ?? 0;
    return [all - part[1], all - part[0]] as const;
  };
  const image = (s: Seam): Seam => ({
    ...s,
    id: seamId(mirrorId(s.a.edge), mirrorId(s.b.edge)),
    number: s.number + most,
    a: side(s.a),
    b: side(s.b),
    reason: 'Mirror image of its like on the drawn half.',
    ...(s.partA ? { partA: turned(s.a.edge, s.partA) } : {}),
    ...(s.partB ? { partB: turned(s.b.edge, s.partB) } : {}),
  });
  const images = new Map(seams.seams.map((s) => [s.id, image(s)]));
  const rim = new Set((decisions.half?.rim ?? []).map(drawnHalfId));
  const taken = new Set(seams.seams.flatMap((s) => [s.a.edge, s.b.edge]));
  const middle: Seam[] = [];
  const runs: SeamRun[] = [];
  const seam = (a: SeamSide, b: SeamSide, reason: string, number: number): Seam => ({
    ...{ id: seamId(a.edge, b.edge), number, a, b, direction: 'opposed', evidence: 'person', confidence: 1 },
    lengthA: lengths.get(a.edge) ?? 0,
    lengthB: lengths.get(b.edge) ?? 0,
    reason,
  });
  let number = 2 * most;
  for (const piece of whole.pieces) {
    if (isMirrorId(piece.id)) continue;
    for (const loop of [piece.outline, ...piece.holes]) {
      let open: string[] = [];
      const close = () => {
        if (open.length > 0) runs.push({ id: `run:${open[0]}`, number, seams: open });
        open = [];
      };
      for (const e of loop) {
        const id = seamId(e.id, mirrorId(e.id));
        if (!rim.has(e.id) || taken.has(e.id) || rejected.has(id)) {
          close();
          continue;
        }
        if (open.length === 0) number++;
        middle.push(
          seam(
            { piece: piece.id, edge: e.id },
            { piece: mirrorId(piece.id), edge: mirrorId(e.id) },
            'Both halves meet in the mirror plane.',
            number,
          ),
        );
        open.push(id);
      }
      close();
    }
  }
  // Pairs that the person made across the middle.
  const homes = new Map(
    whole.pieces.flatMap((p) => [...p.outline, ...p.holes.flat()].map((e) => [e.id, p.id] as const)),
  );
  const used = new Set([
    ...taken,
    ...[...taken].map(mirrorId),
    ...middle.flatMap((s) => [s.a.edge, s.b.edge]),
  ]);
  for (const { a, b, direction } of decisions.made) {
    const [p, q] = [homes.get(a), homes.get(b)];
    if (isMirrorId(a) === isMirrorId(b) || !p || !q || used.has(a) || used.has(b)) continue;
    number++;
    const made = {
      ...seam({ piece: p, edge: a }, { piece: q, edge: b }, 'You paired these.', number),
      direction,
    };
    middle.push(made);
    used.add(a).add(b);
    runs.push({ id: `run:${made.id}`, number, seams: [made.id] });
  }
  const closed = new Set(middle.flatMap((s) => [s.a.edge, s.b.edge]));
  const openOn = (o: OpenEdge): OpenEdge[] => (closed.has(o.edge) ? [] : [o]);
  return {
    seams: [...seams.seams, ...images.values(), ...middle],
    runs: [
      ...seams.runs,
      ...seams.runs.map((r) => ({
        id: `run:${images.get(r.seams.at(-1)!)?.id ?? r.id}`,
        number: r.number + most,
        // Images run the other way along their outline.
        seams: [...r.seams].reverse().map((id) => images.get(id)!.id),
      })),
      ...runs,
    ],
    open: [
      ...seams.open.flatMap(openOn),
      ...seams.open
        .map((o) => ({
          ...o,
          piece: mirrorId(o.piece),
          edge: mirrorId(o.edge),
          candidates: o.candidates.map(mirrorId),
        }))
        .flatMap(openOn),
    ],
    issues: seams.issues,
  };
}
