/** How far a corner of an outline may go while panels are brought to meet, and what holds those that would go farther. */
import { add, dot, norm, type Point, scaleBy, subtract, turnRight, unitOf } from '../math';
import type { CornerMoves, CutPiece } from './cutPiece';
import type { LinearMiss } from './leastSquares';
import { cornerReach, meetWeights } from './tolerance';

/** The number of the first unknown of each corner. */
export type Firsts = readonly (readonly (readonly number[])[])[];

export type Skins = Record<'inside' | 'outside', Point>;

const skins = ['inside', 'outside'] as const;

/** A corner with its moves, the first of them the unknown `from`. */
export function movedCorner(
  { freedom, inside, outside }: CornerMoves,
  from: number,
  by: Float64Array,
): Skins {
  return freedom.reduce<Skins>(
    (at, one, j) => ({
      inside: add(at.inside, scaleBy(one.inside, by[from + j]!)),
      outside: add(at.outside, scaleBy(one.outside, by[from + j]!)),
    }),
    { inside, outside },
  );
}

/** No corner runs away from its panel: the tip of a square dart would, since nothing else holds it. */
export function within(piece: CutPiece, l: number, k: number, at: Skins): Skins {
  const loop = piece.loops[l]!;
  const two = [loop[k]!, loop[(k + 1) % loop.length]!];
  const held = (skin: keyof Skins): Point => {
    const reach = Math.max(
      norm(piece.corners[l]![k]![skin]),
      piece.plan.thickness,
      ...two.map(({ cut }) => cornerReach * Math.abs(cut[skin])),
    );
    const far = norm(at[skin]);
    return far > reach ? scaleBy(at[skin], reach / far) : at[skin];
  };
  return { inside: held('inside'), outside: held('outside') };
}

/**
 * Corners that went too far, by corner and skin: held firmly at their reach, and loosely along it, where they may stand
 * anywhere. A later hold takes the place of an earlier one: where both were kept, a corner beside square cuts stood
 * half a millimetre off its own holds, and its stretch was 0.44 mm longer than its mate (shell 6).
 */
export function pinsOf(
  pieces: readonly CutPiece[],
  first: Firsts,
  found: Float64Array,
): (readonly [string, readonly LinearMiss[]])[] {
  return pieces.flatMap((piece, p) =>
    piece.corners.flatMap((loop, l) =>
      loop.flatMap((corner, k) => {
        const from = first[p]![l]![k]!;
        const at = movedCorner(corner, from, found);
        const goal = within(piece, l, k, at);
        return skins.flatMap((skin) => {
          if (goal[skin] === at[skin]) return [];
          const out = unitOf(goal[skin]);
          const ways = [
            [out, meetWeights.pin],
            [turnRight(out), meetWeights.pinAlong],
          ] as const;
          const held = ways.map(
            ([way, weight]): LinearMiss => ({
              constant: dot(subtract(corner[skin], goal[skin]), way),
              terms: corner.freedom.map((one, j) => [from + j, dot(one[skin], way)] as const),
              weight,
            }),
          );
          return [[`${p} ${l} ${k} ${skin}`, held] as const];
        });
      }),
    ),
  );
}
