/** The lines of a piece divided at places along them, and the sides of its faces that follow. */
import type { Point } from '../math';
import { type Edge, type FaceSide, type Fold, type Piece, partId } from '../model';
import type { Mm } from '../units';
import { partsOfLine } from './lines';

/** By line: where it is divided, mm from its start, in order. */
export type LineCuts = ReadonlyMap<string, readonly Mm[]>;

export interface DividedLines {
  readonly outline: readonly Edge[];
  readonly holes: readonly (readonly Edge[])[];
  readonly folds: readonly Fold[];
  /** By id, new lines included. */
  readonly points: Map<string, readonly Point[]>;
}

/** @param marked what every part of a divided line has besides. */
export function divideLines(
  piece: Piece,
  cuts: LineCuts,
  edit: string,
  marked: { readonly flat?: true } = {},
): DividedLines {
  const divided = <T extends Edge | Fold>(line: T): T[] => {
    const own = cuts.get(line.id);
    if (!own) return [line];
    return partsOfLine(line.points, own).map((points, k) => ({
      ...line,
      ...marked,
      id: partId(line.id, edit, k),
      points,
    }));
  };
  const outline = piece.outline.flatMap(divided);
  const holes = piece.holes.map((loop) => loop.flatMap(divided));
  const folds = piece.folds.flatMap(divided);
  const points = new Map<string, readonly Point[]>(
    [...outline, ...holes.flat(), ...folds].map((l) => [l.id, l.points]),
  );
  return { outline, holes, folds, points };
}

/** The sides of a face along the divided lines. */
export function divideSides(sides: readonly FaceSide[], cuts: LineCuts, edit: string): FaceSide[] {
  return sides.flatMap((side): FaceSide[] => {
    const own = cuts.get(side.id);
    if (!own) return [side];
    const parts = Array.from({ length: own.length + 1 }, (_, k) => ({
      ...side,
      id: partId(side.id, edit, k),
    }));
    return side.forward ? parts : parts.reverse();
  });
}

/** The corners of a face along its sides, in order round it. */
export function ringAlong(
  sides: readonly FaceSide[],
  points: ReadonlyMap<string, readonly Point[]>,
): Point[] {
  return sides.flatMap(({ id, forward }) => {
    const line = points.get(id)!;
    return (forward ? line : [...line].reverse()).slice(0, -1);
  });
}
