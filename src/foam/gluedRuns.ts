/** Which stretches of outlines are glued to each other, and which of them follow each other on both panels. */
import { cross, dot } from '../math';
import type { Rad } from '../units';
import { type CutPiece, directionsAt } from './cutPiece';

/** A stretch by its panel, loop and place in the loop. */
export interface StretchPlace {
  readonly piece: number;
  readonly loop: number;
  readonly place: number;
}

export type GluedPair = readonly [StretchPlace, StretchPlace];

/** Pairs of stretches along one side of the shell; a dart's two are on one panel. */
export function gluedPlaces(pieces: readonly CutPiece[]): GluedPair[] {
  const open = new Map<string, StretchPlace>();
  const pairs: GluedPair[] = [];
  pieces.forEach(({ loops }, piece) => {
    loops.forEach((stretches, loop) => {
      stretches.forEach(({ planned, side }, place) => {
        if (side.kind !== 'seam' || !planned) return;
        const here = { piece, loop, place };
        const mate = open.get(`${side.id} ${side.to} ${side.from}`);
        if (mate) pairs.push([mate, here]);
        else open.set(`${side.id} ${side.from} ${side.to}`, here);
      });
    });
  });
  return pairs;
}

/**
 * The same pairs in runs: as long as both panels go on along each other.
 * @param goesOn whether a run may pass the corner at the end of this stretch
 */
export function gluedRuns(
  pieces: readonly CutPiece[],
  goesOn: (corner: StretchPlace) => boolean = () => true,
): GluedPair[][] {
  const mates = new Map<string, StretchPlace>();
  const pairs = gluedPlaces(pieces);
  for (const [a, b] of pairs) {
    mates.set(keyOf(a), b);
    mates.set(keyOf(b), a);
  }
  const step = ({ piece, loop, place }: StretchPlace, by: number): StretchPlace => {
    const { length } = pieces[piece]!.loops[loop]!;
    return { piece, loop, place: (place + by + length) % length };
  };
  /** The pair after this one, when both panels go on along each other. */
  const next = ([a, b]: GluedPair, by: 1 | -1): GluedPair | null => {
    const [own, other] = [step(a, by), step(b, -by)];
    const ends = by === 1 ? [a, other] : [own, b];
    if (!ends.every(goesOn)) return null;
    const mate = mates.get(keyOf(own));
    return mate && keyOf(mate) === keyOf(other) ? [own, other] : null;
  };
  const done = new Set<string>();
  const take = ([a, b]: GluedPair): boolean => {
    if (done.has(keyOf(a))) return false;
    done.add(keyOf(a));
    done.add(keyOf(b));
    return true;
  };
  return pairs.flatMap((pair) => {
    if (!take(pair)) return [];
    const run = [pair];
    for (const by of [1, -1] as const)
      for (let at = next(pair, by); at && take(at); at = next(at, by))
        by === 1 ? run.push(at) : run.unshift(at);
    return [run];
  });
}

const keyOf = ({ piece, loop, place }: StretchPlace): string => `${piece} ${loop} ${place}`;

/** By seam, the seams of the run it is in, where no corner on the way turns by `most` or more: one stroke of the knife. */
export function seamsOfStroke(pieces: readonly CutPiece[], most: Rad): Map<string, readonly string[]> {
  const stretch = ({ piece, loop, place }: StretchPlace) => pieces[piece]!.loops[loop]!.at(place)!;
  const isStraight = (corner: StretchPlace) => {
    const { length } = pieces[corner.piece]!.loops[corner.loop]!;
    const { before, after } = directionsAt(
      stretch(corner),
      stretch({ ...corner, place: (corner.place + 1) % length }),
    );
    return Math.abs(Math.atan2(cross(before, after), dot(before, after))) < most;
  };
  const found = new Map<string, readonly string[]>();
  for (const run of gluedRuns(pieces, isStraight)) {
    const seams = [...new Set(run.map(([a]) => stretch(a).side.id))];
    for (const seam of seams) found.set(seam, [...(found.get(seam) ?? []), ...seams]);
  }
  return found;
}
