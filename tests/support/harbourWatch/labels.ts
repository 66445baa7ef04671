/** Where the numbers and names of a pattern are printed. */
import { distance, type Point, subtract, turnLeft, unitOf } from '../../../src/math';
import { middleOf } from './decorate';
import type { Truth } from './truth';

export interface TruthLabel {
  readonly kind: 'number' | 'name';
  readonly text: string;
  /** Middle of the text, mm. */
  readonly at: Point;
  /** Font size, mm. */
  readonly size: number;
  /** Direction of the baseline, counter-clockwise from +x. */
  readonly angle: number;
  /** The edge (number) or piece (name) that it belongs to. */
  readonly of: string;
}

const numberSize = 3;
const nameSize = 5;

/** Numbers lie inside, beside the middle of their edge and along it; names lie at the heart of their piece. */
export function labelsOf(truth: Truth): TruthLabel[] {
  return truth.pieces.flatMap((piece): TruthLabel[] => {
    const numbers = piece.outline
      .filter((e) => e.number !== '')
      .map((e): TruthLabel => {
        const first = e.points[0]!;
        const last = e.points[e.points.length - 1]!;
        const along = unitOf(subtract(last, first));
        const inward = turnLeft(along);
        const m = middleOf(e);
        const off = 0.75 * numberSize;
        return {
          kind: 'number',
          text: e.number,
          at: { x: m.x + inward.x * off, y: m.y + inward.y * off },
          size: numberSize,
          angle: Math.atan2(along.y, along.x),
          of: e.id,
        };
      });
    // No name where it would run into a number.
    const crowded = numbers.some((l) => distance(l.at, piece.heart) < nameSize + numberSize / 2);
    if (crowded) return numbers;
    return [
      ...numbers,
      { kind: 'name', text: piece.name, at: piece.heart, size: nameSize, angle: 0, of: piece.id },
    ];
  });
}
