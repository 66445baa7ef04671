/** Changes to a pattern in its own flat frames: numbers, glue tabs, flat folds left out. */
import { seededRandom } from '../../../src/base';
import { distance, lerp, type Point, polylineLength, subtract, turnRight, unitOf } from '../../../src/math';
import type { Truth, TruthEdge, TruthFace, TruthPiece, TruthTab } from './truth';
import { convexOverlap } from './unfold';

/** Edges by id. */
export const edgesOf = (truth: Truth): Map<string, TruthEdge> =>
  new Map(truth.pieces.flatMap((p) => p.outline.map((e) => [e.id, e] as const)));

/** One number for each pair of edges, counted in the order of pieces and outlines. */
export function numberEdges(truth: Truth): Truth {
  const numbers = new Map<string, string>();
  for (const piece of truth.pieces)
    for (const edge of piece.outline) {
      if (edge.mate === null || numbers.has(edge.id)) continue;
      const number = String(numbers.size / 2 + 1);
      numbers.set(edge.id, number);
      numbers.set(edge.mate, number);
    }
  return withNumbers(truth, numbers);
}

/**
 * Runs of seams: successive edges of one piece that meet successive edges of another (or the same) piece in reverse
 * order. Each run as pairs of edge ids along its first side.
 */
export function runsOf(truth: Truth): (readonly [string, string])[][] {
  const place = new Map<string, { piece: TruthPiece; index: number }>();
  for (const piece of truth.pieces)
    piece.outline.forEach((e, index) => {
      place.set(e.id, { piece, index });
    });
  const nextOf = (id: string, step: 1 | -1) => {
    const { piece, index } = place.get(id)!;
    return piece.outline[(index + step + piece.outline.length) % piece.outline.length]!;
  };
  const follows = (id: string, step: 1 | -1): TruthEdge | null => {
    const next = nextOf(id, step);
    const mate = edgeAt.get(id)!.mate!;
    return next.mate !== null && next.mate !== id && nextOf(mate, step === 1 ? -1 : 1).id === next.mate
      ? next
      : null;
  };
  const edgeAt = edgesOf(truth);
  const done = new Set<string>();
  const runs: (readonly [string, string])[][] = [];
  for (const piece of truth.pieces)
    for (const edge of piece.outline) {
      if (edge.mate === null || done.has(edge.id)) continue;
      let start = edge;
      for (let before = follows(start.id, -1); before && before !== edge; before = follows(start.id, -1))
        start = before;
      const run: (readonly [string, string])[] = [];
      for (let at: TruthEdge | null = start; at && !done.has(at.id); at = follows(at.id, 1)) {
        run.push([at.id, at.mate!]);
        done.add(at.id);
        done.add(at.mate!);
      }
      runs.push(run);
    }
  return runs;
}

/** One number for each run, printed at one edge of the run on each side, not always at edges that meet. */
export function numberRuns(truth: Truth, seed: number): Truth {
  const random = seededRandom(seed);
  const numbers = new Map<string, string>();
  runsOf(truth).forEach((run, i) => {
    const pick = (side: 0 | 1) => run[Math.floor(random() * run.length)]![side];
    numbers.set(pick(0), String(i + 1));
    numbers.set(pick(1), String(i + 1));
  });
  return withNumbers(truth, numbers);
}

export const withoutNumbers = (truth: Truth): Truth => withNumbers(truth, new Map());

function withNumbers(truth: Truth, numbers: ReadonlyMap<string, string>): Truth {
  return {
    ...truth,
    pieces: truth.pieces.map((piece) => ({
      ...piece,
      outline: piece.outline.map((edge) => ({ ...edge, number: numbers.get(edge.id) ?? '' })),
    })),
  };
}

/** A tab on one edge of each seam, where there is room for it: the first side in order, else its mate, else none. */
export function withTabs(truth: Truth, height = 6): Truth {
  const edges = edgesOf(truth);
  const pieceOf = new Map(truth.pieces.flatMap((p) => p.outline.map((e) => [e.id, p.id] as const)));
  const tabs = new Map<string, TruthTab[]>(truth.pieces.map((p) => [p.id, []]));
  const pieces = new Map(truth.pieces.map((p) => [p.id, p]));
  for (const [a, b] of truth.mates) {
    for (const id of [a, b]) {
      const edge = edges.get(id)!;
      if (edge.curve) continue;
      const owner = pieceOf.get(id)!;
      const tab = tabFor(edge, pieces.get(owner)!, tabs.get(owner)!, height);
      if (tab) {
        tabs.get(owner)!.push(tab);
        break;
      }
    }
  }
  return { ...truth, pieces: truth.pieces.map((p) => ({ ...p, tabs: tabs.get(p.id)! })) };
}

/** Room kept free round a tab, mm. */
const tabRoom = 0.6;

function tabFor(
  edge: TruthEdge,
  piece: TruthPiece,
  others: readonly TruthTab[],
  height: number,
): TruthTab | null {
  const a = edge.points[0]!;
  const b = edge.points[edge.points.length - 1]!;
  const length = distance(a, b);
  const shape = (h: number, inset: number, room: number): Point[] => {
    const along = unitOf(subtract(b, a));
    const out = turnRight(along);
    const at = (s: number, t: number) => ({
      x: a.x + along.x * s + out.x * t,
      y: a.y + along.y * s + out.y * t,
    });
    return [a, at(inset - room, h + room), at(length - inset + room, h + room), b];
  };
  for (const part of [1, 0.7, 0.5]) {
    const h = Math.min(height, 0.4 * length) * part;
    if (h < 1.5) return null;
    const inset = Math.min(h, 0.32 * length);
    const roomy = shape(h, inset, tabRoom);
    const blocked =
      piece.faces.some((f) => convexOverlap(roomy, f.polygon)) ||
      others.some((t) => convexOverlap(roomy, t.polygon));
    if (!blocked) return { edge: edge.id, polygon: shape(h, inset, 0) };
  }
  return null;
}

/** Leaves out folds milder than the angle, as some patterns do: the faces beside them become one. */
export function withoutMildFolds(truth: Truth, under: number): Truth {
  return { ...truth, pieces: truth.pieces.map((p) => mergeMild(p, under)) };
}

function mergeMild(piece: TruthPiece, under: number): TruthPiece {
  const drop = new Set(piece.folds.filter((f) => Math.abs(f.bend) < under).map((f) => f.id));
  if (drop.size === 0) return piece;
  const group = new Map(piece.faces.map((f) => [f.id, f.id]));
  const rootOf = (id: string): string => (group.get(id) === id ? id : rootOf(group.get(id)!));
  for (const fold of piece.folds) if (drop.has(fold.id)) group.set(rootOf(fold.right), rootOf(fold.left));
  const faceById = new Map(piece.faces.map((f) => [f.id, f]));
  const foldById = new Map(piece.folds.map((f) => [f.id, f]));
  const faces = piece.faces
    .filter((f) => rootOf(f.id) === f.id)
    .map((root): TruthFace => {
      const members = piece.faces.filter((f) => rootOf(f.id) === root.id);
      if (members.length === 1) return root;
      // Walk the ring, stepping over dropped folds into the next member.
      const polygon: Point[] = [];
      const sides: TruthFace['sides'][number][] = [];
      const startFace = members.find((f) => f.sides.some((s) => !drop.has(s.id)))!;
      const startSide = startFace.sides.findIndex((s) => !drop.has(s.id));
      let face = startFace;
      let i = startSide;
      do {
        const side = face.sides[i]!;
        polygon.push(face.polygon[i]!);
        sides.push(side);
        i = (i + 1) % face.sides.length;
        while (drop.has(face.sides[i]!.id)) {
          const fold = foldById.get(face.sides[i]!.id)!;
          const next: TruthFace = faceById.get(fold.left === face.id ? fold.right : fold.left)!;
          i = (next.sides.findIndex((s) => s.id === fold.id) + 1) % next.sides.length;
          face = next;
        }
      } while (face !== startFace || i !== startSide);
      return { id: root.id, meshFaces: members.flatMap((m) => m.meshFaces), polygon, sides };
    });
  const folds = piece.folds
    .filter((f) => !drop.has(f.id))
    .map((f) => ({ ...f, left: rootOf(f.left), right: rootOf(f.right) }));
  return { ...piece, faces, folds };
}

/** Middle of an edge, half-way along it. */
export function middleOf(edge: TruthEdge): Point {
  const half = polylineLength(edge.points) / 2;
  let left = half;
  for (let i = 1; i < edge.points.length; i++) {
    const d = distance(edge.points[i - 1]!, edge.points[i]!);
    if (left <= d) return lerp(edge.points[i - 1]!, edge.points[i]!, left / d);
    left -= d;
  }
  return edge.points[edge.points.length - 1]!;
}
