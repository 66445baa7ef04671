/**
 * What soft bends do to the flat piece: each face slides by a small vector, so that the piece is longer or shorter
 * across every fold by the length that the bend takes (see softBend), and the outline follows.
 *
 * Faces: the least-squares solution of t(right) − t(left) = Δ · n over the folds, n the normal of the fold from its
 * left to its right face, weighted by fold length. Where no folds close a ring it is exact, so n parallel folds change
 * the length of a strip by exactly the sum of their Δ. The area-weighted mean of the slides is zero, so that the piece
 * stays where it is. Corners move by the mean of their faces; a side between two corners moves in proportion.
 */
import {
  add,
  distance,
  norm,
  type Point,
  polylineLength,
  ringArea,
  scaleBy,
  subtract,
  turnRight,
  unitOf,
} from '../math';
import type { Fold, Piece } from '../model';
import type { Mm } from '../units';
import { sameCorner } from './tolerance';

/** How far the corner at a place moves. */
export type CornerMove = (corner: Point) => Point;

const still: CornerMove = () => ({ x: 0, y: 0 });

/**
 * The moves of all corners of a piece. `change` gives the Δ of a fold in mm; places are those of the piece as given,
 * already at their final scale.
 */
export function foldMoves(piece: Piece, change: (fold: Fold) => Mm): CornerMove {
  const folds = piece.folds.filter((fold) => fold.left !== fold.right && change(fold) !== 0);
  if (folds.length === 0) return still;
  const slides = faceSlides(piece, change);
  const corners = new CornerFaces(piece);
  return (corner) => {
    const faces = corners.at(corner);
    if (faces.length === 0) return { x: 0, y: 0 };
    const sum = faces.reduce((move, face) => add(move, slides[face]!), { x: 0, y: 0 });
    return scaleBy(sum, 1 / faces.length);
  };
}

/** Moves a line whose ends are corners: its ends by their own moves, what lies between in proportion. */
export function moveLine(points: readonly Point[], moves: CornerMove): Point[] {
  const start = moves(points[0]!);
  const end = moves(points.at(-1)!);
  if (norm(start) === 0 && norm(end) === 0) return [...points];
  const length = polylineLength(points);
  let along = 0;
  return points.map((p, k) => {
    if (k > 0) along += distance(points[k - 1]!, p);
    const part = length === 0 ? 0 : along / length;
    return add(p, add(scaleBy(start, 1 - part), scaleBy(end, part)));
  });
}

/** The slide of every face, by its place in `piece.faces`. */
function faceSlides(piece: Piece, change: (fold: Fold) => Mm): Point[] {
  const number = new Map(piece.faces.map((face, k) => [face.id, k]));
  const ties = piece.folds.flatMap((fold): Tie[] => {
    const left = number.get(fold.left);
    const right = number.get(fold.right);
    const chord = subtract(fold.points.at(-1)!, fold.points[0]!);
    if (left === undefined || right === undefined || left === right || norm(chord) === 0) return [];
    return [{ left, right, weight: norm(chord), gap: scaleBy(turnRight(unitOf(chord)), change(fold)) }];
  });
  const areas = piece.faces.map((face) => Math.abs(ringArea(face.polygon)));
  return centred(solveTies(piece.faces.length, ties), groupsOf(piece.faces.length, ties), areas);
}

/** t(right) − t(left) should be `gap`. */
interface Tie {
  readonly left: number;
  readonly right: number;
  readonly weight: number;
  readonly gap: Point;
}

/** Number of the group of faces that each face hangs together with. */
function groupsOf(count: number, ties: readonly Tie[]): number[] {
  const group = Array.from({ length: count }, (_, k) => k);
  const find = (k: number): number => {
    let root = k;
    while (group[root] !== root) root = group[root]!;
    return root;
  };
  for (const tie of ties) group[find(tie.left)] = find(tie.right);
  return group.map((_, k) => find(k));
}

/** Takes the area-weighted mean off each group. */
function centred(slides: readonly Point[], groups: readonly number[], areas: readonly number[]): Point[] {
  const sums = new Map<number, { move: Point; area: number }>();
  slides.forEach((slide, k) => {
    const sum = sums.get(groups[k]!) ?? { move: { x: 0, y: 0 }, area: 0 };
    sums.set(groups[k]!, { move: add(sum.move, scaleBy(slide, areas[k]!)), area: sum.area + areas[k]! });
  });
  return slides.map((slide, k) => {
    const sum = sums.get(groups[k]!)!;
    return sum.area === 0 ? slide : subtract(slide, scaleBy(sum.move, 1 / sum.area));
  });
}

/**
 * Weighted least squares over the ties, the first face of each group held at zero: normal equations (a graph
 * Laplacian) by Cholesky factors in place. Pieces have tens of faces, rarely hundreds.
 */
function solveTies(count: number, ties: readonly Tie[]): Point[] {
  const groups = groupsOf(count, ties);
  const held = groups.map((group, k) => groups.indexOf(group) === k);
  const a = Array.from({ length: count }, () => new Float64Array(count));
  const bx = new Float64Array(count);
  const by = new Float64Array(count);
  for (const { left, right, weight, gap } of ties) {
    a[left]![left]! += weight;
    a[right]![right]! += weight;
    a[left]![right]! -= weight;
    a[right]![left]! -= weight;
    bx[right]! += weight * gap.x;
    by[right]! += weight * gap.y;
    bx[left]! -= weight * gap.x;
    by[left]! -= weight * gap.y;
  }
  for (let k = 0; k < count; k++) {
    if (!held[k]) continue;
    for (let m = 0; m < count; m++) {
      a[k]![m] = 0;
      a[m]![k] = 0;
    }
    a[k]![k] = 1;
    bx[k] = 0;
    by[k] = 0;
  }
  for (let k = 0; k < count; k++) {
    const pivot = Math.sqrt(a[k]![k]!);
    for (let m = k; m < count; m++) a[m]![k]! /= pivot;
    for (let m = k + 1; m < count; m++) {
      const factor = a[m]![k]!;
      if (factor === 0) continue;
      for (let n = m; n < count; n++) a[n]![m]! -= factor * a[n]![k]!;
    }
  }
  for (const b of [bx, by]) {
    for (let k = 0; k < count; k++) {
      b[k]! /= a[k]![k]!;
      for (let m = k + 1; m < count; m++) b[m]! -= a[m]![k]! * b[k]!;
    }
    for (let k = count - 1; k >= 0; k--) {
      for (let m = k + 1; m < count; m++) b[k]! -= a[m]![k]! * b[m]!;
      b[k]! /= a[k]![k]!;
    }
  }
  return Array.from({ length: count }, (_, k) => ({ x: bx[k]!, y: by[k]! }));
}

/** Finds the faces that meet at a corner, by place: their corners sorted by x. */
class CornerFaces {
  private readonly entries: readonly { readonly at: Point; readonly face: number }[];

  constructor(piece: Piece) {
    this.entries = piece.faces
      .flatMap((face, k) => [face.polygon, ...face.holes].flat().map((at) => ({ at, face: k })))
      .sort((p, q) => p.at.x - q.at.x);
  }

  at(corner: Point): number[] {
    let low = 0;
    let high = this.entries.length;
    while (low < high) {
      const middle = (low + high) >> 1;
      if (this.entries[middle]!.at.x < corner.x - sameCorner) low = middle + 1;
      else high = middle;
    }
    const faces: number[] = [];
    for (let k = low; k < this.entries.length; k++) {
      const { at, face } = this.entries[k]!;
      if (at.x > corner.x + sameCorner) break;
      if (distance(at, corner) <= sameCorner && !faces.includes(face)) faces.push(face);
    }
    return faces.sort((p, q) => p - q);
  }
}
