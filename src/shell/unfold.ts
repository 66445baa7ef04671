/**
 * Unfolds the pieces of a pattern again from a reshaped shell: the same faces, folds and cuts, every id as it was. A
 * piece without a closed ring of faces round an inner vertex unfolds exactly (face by face across its folds). Bent
 * faces are laid on their mean plane, and rings that no longer close are spread by least squares: rigid faces, shared
 * corners averaged (local/global, after Sorkine and Alexa 2007). Lengths mm.
 */
import {
  alongMovedSide,
  distance,
  distanceToSegment,
  lerp,
  type Point,
  type Point3,
  point,
  rotate,
} from '../math';
import type { Edge, EdgeLabel, Face, Fold, Pattern, Piece, Shell, ShellPatch, Tab } from '../model';
import type { Mm } from '../units';
import { outlinesCross, ringCrossing } from './flatOverlap';
import { flattenPatches } from './flatten';

export interface Unfolded {
  /** At the size of the places given; pieces stand where they stood, the drawing spread so that none touch. */
  readonly pattern: Pattern;
  /** Pieces that overlap themselves when flat; `at` and the edges on the drawing as it was. */
  readonly overlaps: readonly {
    readonly piece: string;
    readonly edges: readonly string[];
    readonly at: Point;
  }[];
  /** Largest difference between the length of a side in space and flat, piece by piece, where over `exactMisfit`. */
  readonly misfits: readonly { readonly piece: string; readonly length: Mm }[];
  /** Pieces without a face in the shell: scaled as a whole. */
  readonly loose: readonly string[];
}

/** Sides that agree this well count as exact: rounding, and the fold-up's own residual. */
export const exactMisfit: Mm = 0.01;
/** Pieces are moved apart by this much a time until none touch. */
const spreadStep = 1.02;
const mostSpreads = 60;

/**
 * @param shell the shell that the pattern folds up to
 * @param places where its vertices are now
 * @param spread how much farther apart than on the drawing the pieces stand: at least the largest growth
 */
export function unfoldAgain(
  pattern: Pattern,
  shell: Shell,
  places: readonly Point3[],
  spread: number,
): Unfolded {
  const patchesOf = new Map<string, ShellPatch[]>();
  for (const patch of shell.faces) patchesOf.set(patch.piece, [...(patchesOf.get(patch.piece) ?? []), patch]);
  const misfits: { piece: string; length: Mm }[] = [];
  const loose: string[] = [];
  const drafts = pattern.pieces.map((piece): Piece => {
    const patches = patchesOf.get(piece.id);
    if (!patches) {
      loose.push(piece.id);
      return mapPiece(piece, (p) => point(p.x * spread, p.y * spread));
    }
    const { flats, misfit } = flattenPatches(patches, places);
    if (misfit > exactMisfit) misfits.push({ piece: piece.id, length: misfit });
    return mapPiece(piece, mapOf(patches, alignTo(patches, flats, spread)));
  });
  const overlaps = drafts.flatMap((draft, i) => {
    const found = ringCrossing([...draft.outline, ...draft.holes.flat()]);
    const was = pattern.pieces[i]!;
    const edge = found && [...was.outline, ...was.holes.flat()].find((e) => e.id === found[0]);
    // A drawing that crosses itself already is not the unfolding's doing.
    if (!found || !edge || ringCrossing([...was.outline, ...was.holes.flat()])) return [];
    return [{ piece: was.id, edges: found, at: lerp(edge.points[0]!, edge.points.at(-1)!, 0.5) }];
  });
  const { pieces, factor } = apart(pattern.pieces, drafts, spread);
  return { pattern: assemble(pattern, pieces, factor), overlaps, misfits, loose };
}

/** Turned and moved as a whole to where the piece was: least squares over its corners, its middle `spread` times out. */
function alignTo(
  patches: readonly ShellPatch[],
  flats: readonly (readonly Point[])[],
  spread: number,
): Point[][] {
  const before = patches.flatMap((patch) => [...patch.flat]);
  const given = flats.flat();
  const over = patches.reduce((sum, patch) => sum + twiceArea(patch.flat), 0) < 0;
  // Pieces drawn from inside are mirror images of what is seen from outside.
  const after = over ? given.map((p) => point(-p.x, p.y)) : given;
  const from = middleOf(after);
  const to = middleOf(before);
  let c = 0;
  let s = 0;
  after.forEach((p, i) => {
    const ax = p.x - from.x;
    const ay = p.y - from.y;
    const bx = before[i]!.x - to.x;
    const by = before[i]!.y - to.y;
    c += ax * bx + ay * by;
    s += ax * by - ay * bx;
  });
  const angle = Math.atan2(s, c);
  let k = 0;
  return flats.map((ring) =>
    ring.map(() => {
      const p = after[k++]!;
      const q = rotate(point(p.x - from.x, p.y - from.y), angle);
      return point(q.x + to.x * spread, q.y + to.y * spread);
    }),
  );
}

const middleOf = (points: readonly Point[]): Point => {
  let x = 0;
  let y = 0;
  for (const p of points) {
    x += p.x;
    y += p.y;
  }
  return point(x / points.length, y / points.length);
};

const twiceArea = (ring: readonly Point[]): number =>
  ring.reduce((sum, p, i) => {
    const q = ring[(i + 1) % ring.length]!;
    return sum + p.x * q.y - p.y * q.x;
  }, 0);

/** A drawn point belongs to a side of a face when it is this near, as a part of the side's length. */
const onSide = 0.1;

/**
 * Where a point of the drawn piece goes: corners to their new places; points on a side (curves bulge a little) as the
 * side goes; points inside a face by the affine map that fits its corners best.
 */
function mapOf(patches: readonly ShellPatch[], flats: readonly (readonly Point[])[]): (p: Point) => Point {
  const sides = patches.flatMap((patch, k) =>
    patch.flat.map((a, i) => {
      const j = (i + 1) % patch.flat.length;
      return { a, b: patch.flat[j]!, newA: flats[k]![i]!, newB: flats[k]![j]! };
    }),
  );
  return (p) => {
    let best: (typeof sides)[number] | null = null;
    let nearest = Number.POSITIVE_INFINITY;
    for (const side of sides) {
      const d = distanceToSegment(p, side.a, side.b);
      if (d < nearest) {
        nearest = d;
        best = side;
      }
    }
    if (best && nearest <= onSide * distance(best.a, best.b)) return alongMovedSide(p, best);
    const k = patches.findIndex((patch) => inside(p, patch.flat));
    return k < 0 ? (best ? alongMovedSide(p, best) : p) : affine(p, patches[k]!.flat, flats[k]!);
  };
}

function inside(p: Point, ring: readonly Point[]): boolean {
  let odd = false;
  ring.forEach((a, i) => {
    const b = ring[(i + 1) % ring.length]!;
    if (a.y > p.y !== b.y > p.y && p.x < a.x + ((p.y - a.y) / (b.y - a.y)) * (b.x - a.x)) odd = !odd;
  });
  return odd;
}

/** The affine map of least squares from one set of corners to another, at a point. */
function affine(p: Point, from: readonly Point[], to: readonly Point[]): Point {
  const m = middleOf(from);
  const n = middleOf(to);
  let [xx, xy, yy, ux, uy, vx, vy] = [0, 0, 0, 0, 0, 0, 0];
  from.forEach((q, i) => {
    const x = q.x - m.x;
    const y = q.y - m.y;
    const u = to[i]!.x - n.x;
    const v = to[i]!.y - n.y;
    xx += x * x;
    xy += x * y;
    yy += y * y;
    ux += u * x;
    uy += u * y;
    vx += v * x;
    vy += v * y;
  });
  const det = xx * yy - xy * xy;
  if (det === 0) return n;
  const x = p.x - m.x;
  const y = p.y - m.y;
  const s = (x * yy - y * xy) / det;
  const t = (y * xx - x * xy) / det;
  return point(n.x + ux * s + uy * t, n.y + vx * s + vy * t);
}

function mapPiece(piece: Piece, map: (p: Point) => Point): Piece {
  const edge = (e: Edge): Edge => ({ ...e, points: e.points.map(map) });
  const outline = piece.outline.map(edge);
  const holes = piece.holes.map((hole) => hole.map(edge));
  const edges = new Map([...piece.outline, ...piece.holes.flat()].map((e) => [e.id, e]));
  const mapped = new Map([...outline, ...holes.flat()].map((e) => [e.id, e]));
  return {
    ...piece,
    outline,
    holes,
    folds: piece.folds.map((f): Fold => ({ ...f, points: f.points.map(map) })),
    faces: piece.faces.map(
      (f): Face => ({ ...f, polygon: f.polygon.map(map), holes: f.holes.map((h) => h.map(map)) }),
    ),
    tabs: piece.tabs.map((t): Tab => {
      const side = sideOf(edges.get(t.edge), mapped.get(t.edge));
      return side ? { ...t, polygon: t.polygon.map((p) => alongMovedSide(p, side)) } : t;
    }),
  };
}

/** An edge from end to end, before and after. */
function sideOf(before: Edge | undefined, after: Edge | undefined) {
  if (!before || !after) return null;
  return {
    a: before.points[0]!,
    b: before.points.at(-1)!,
    newA: after.points[0]!,
    newB: after.points.at(-1)!,
  };
}

/** The pieces moved out from the corner of the drawing until no two outlines cross. */
function apart(
  before: readonly Piece[],
  pieces: readonly Piece[],
  spread: number,
): { pieces: readonly Piece[]; factor: number } {
  let factor = spread;
  let moved: readonly Piece[] = pieces;
  // A drawing whose pieces lie on each other already keeps its layout.
  if (outlinesCross(before)) return { pieces, factor };
  for (let round = 0; round < mostSpreads && outlinesCross(moved); round++) {
    factor *= spreadStep;
    const more = factor / spread - 1;
    moved = pieces.map((piece) => {
      const m = middleOf(piece.outline.flatMap((e) => [...e.points]));
      return mapPiece(piece, (p) => point(p.x + m.x * more, p.y + m.y * more));
    });
  }
  return { pieces: moved, factor };
}

function assemble(pattern: Pattern, pieces: readonly Piece[], factor: number): Pattern {
  const before = new Map(
    pattern.pieces.flatMap((p) => [...p.outline, ...p.holes.flat()]).map((e) => [e.id, e]),
  );
  const after = new Map(pieces.flatMap((p) => [...p.outline, ...p.holes.flat()]).map((e) => [e.id, e]));
  const out = (p: Point) => point(p.x * factor, p.y * factor);
  return {
    ...pattern,
    size: { ...pattern.size, width: pattern.size.width * factor, height: pattern.size.height * factor },
    pieces,
    labels: pattern.labels.map((label): EdgeLabel => {
      const side = sideOf(before.get(label.edge), after.get(label.edge));
      if (!side) return { ...label, at: out(label.at) };
      const turn =
        Math.atan2(side.newB.y - side.newA.y, side.newB.x - side.newA.x) -
        Math.atan2(side.b.y - side.a.y, side.b.x - side.a.x);
      return { ...label, at: alongMovedSide(label.at, side), angle: label.angle + turn };
    }),
    unread: pattern.unread.map((line) => ({ ...line, at: out(line.at), length: line.length * factor })),
  };
}
