/**
 * Corners of outlines chosen so that panels meet.
 *
 * How real foam bends lies between two models: faces that stay rigid, each with its own cut edge, and skins that stretch
 * so that a corner stands at the mitre of its faces. Corners by rule are exact in one of them, or half right in both,
 * and look at one panel alone, so that mates differ in length by what their corners slip along the seam. Here all
 * corners move at once, within what their cuts allow (`CornerMoves.freedom`), so that over all glued stretches the gaps
 * in both models, and the differences of the bent lengths of mates, become small. Both are linear in the moves.
 *
 * The dry fit measures by the same two models, but places panels by folding them flat to bent; what it finds small is
 * small for foam between the two, which is not proof for any foam.
 */
import {
  add3,
  cross,
  cross3,
  dot3,
  norm3,
  type Point3,
  point3,
  polylineLength,
  scaleBy3,
  subtract3,
  unitOf3,
} from '../math';
import type { Mm } from '../units';
import { type CornerMoves, type CutPiece, type CutStretch, directionsAt } from './cutPiece';
import { gluedPlaces, gluedRuns, type StretchPlace } from './gluedRuns';
import { gluedHeight, moveAt } from './gluedSkin';
import { type Firsts, movedCorner, pinsOf, type Skins, within } from './heldCorners';
import { type LeastSquares, type LinearMiss, leastSquares } from './leastSquares';
import { fanMitre, inSpace } from './shellCorners';
import type { FoamNet } from './surface';
import { meetWeights, narrowPanel, shallowWedge } from './tolerance';

/** Rounds in which corners that went too far are held. After two of them, cutting back the others made runs of shell 7
 *  differ by 0.4 mm; after five the most is 0.01 mm there, and 0.11 mm on the family (shell 6). */
const pinRounds = 5;
/** Rounds of weights in each of them: they start from weights that have settled. */
const roundsPinned = 3;

/** @param pieces all panels from the shell. @returns the same with their corners moved, in the same order. */
export function meetCorners(pieces: readonly CutPiece[], net: FoamNet): CutPiece[] {
  const { count, first } = numberMoves(pieces);
  if (count === 0) return [...pieces];
  const others = [...gapMisses(pieces, first, net), ...holds(pieces, first), ...sideways(pieces, first)];
  const solve = (from: LeastSquares | null, pins: readonly LinearMiss[], rounds?: number) => {
    const held = new Set(pins.flatMap(({ terms }) => terms.map(([u]) => u)));
    const slips = slipMisses(pieces, first, net, from?.unknowns ?? null, held);
    return leastSquares([...others, ...slips, ...pins], count, from, rounds);
  };
  // Bent lengths are linear in the moves only for one direction of each stretch: the second pass has that of the first.
  let found = solve(solve(null, [], 2), []);
  // Where a corner is held back its neighbours and mates have to know; those that give way may then go too far.
  const pins = new Map<string, readonly LinearMiss[]>();
  for (let round = 0; round < pinRounds; round++) {
    const more = pinsOf(pieces, first, found.unknowns);
    if (more.length === 0) break;
    for (const [corner, held] of more) pins.set(corner, held);
    found = solve(found, [...pins.values()].flat(), roundsPinned);
  }
  return pieces.map((piece, p) => ({
    ...piece,
    corners: piece.corners.map((loop, l) =>
      loop.map(
        (corner, k): CornerMoves => ({
          ...corner,
          ...within(piece, l, k, movedCorner(corner, first[p]![l]![k]!, found.unknowns)),
        }),
      ),
    ),
  }));
}

function numberMoves(pieces: readonly CutPiece[]): { count: number; first: Firsts } {
  let count = 0;
  const first = pieces.map(({ corners }) =>
    corners.map((loop) =>
      loop.map(({ freedom }) => {
        count += freedom.length;
        return count - freedom.length;
      }),
    ),
  );
  return { count, first };
}

/** What each move costs by itself, per millimetre on the skins. */
function holds(pieces: readonly CutPiece[], first: Firsts): LinearMiss[] {
  return pieces.flatMap(({ corners }, p) =>
    corners.flatMap((loop, l) =>
      loop.flatMap(({ freedom }, k) =>
        freedom.map(({ inside, outside, trims, leans }, j): LinearMiss => {
          // In foam without thickness a move does nothing, but has to be held all the same.
          const size = Math.max(1e-3, Math.hypot(inside.x, inside.y, outside.x, outside.y));
          const weight = leans ? meetWeights.border : trims ? meetWeights.trim : meetWeights.hold;
          return { constant: 0, terms: [[first[p]![l]![k]! + j, size]], weight };
        }),
      ),
    ),
  );
}

/**
 * Square cuts lie where their skins touch: a corner may slip along them, but both sides of a seam together could move
 * across it at no cost, and would where that brings lengths together: right through a panel narrower than its foam.
 */
function sideways(pieces: readonly CutPiece[], first: Firsts): LinearMiss[] {
  const widths = pieces.map(widthOf);
  const outward = ({ piece, loop, place }: StretchPlace, vertex: number, sign: number) => {
    const { loops, corners } = pieces[piece]!;
    const count = loops[loop]!.length;
    const atStart = loops[loop]![place]!.startVertex === vertex;
    const k = atStart ? (place + count - 1) % count : place;
    const { before, after } = directionsAt(loops[loop]![k]!, loops[loop]![(k + 1) % count]!);
    const along = atStart ? after : before;
    const from = first[piece]![loop]![k]!;
    return corners[loop]![k]!.freedom.map(
      (one, j) => [from + j, (sign * cross(along, one.inside)) / 2] as const,
    );
  };
  return gluedPlaces(pieces).flatMap(([a, b]) => {
    const own = stretchAt(pieces, a);
    if (!isUpright(own)) return [];
    const width = Math.min(widths[a.piece]!, widths[b.piece]!);
    const weight = meetWeights.sideways * Math.min(1, narrowPanel / width) ** 2;
    return [own.startVertex, own.endVertex].map(
      (vertex): LinearMiss => ({
        constant: 0,
        terms: [...outward(a, vertex, 1), ...outward(b, vertex, -1)],
        weight,
      }),
    );
  });
}

/** Area over outline: half the width of a long strip. */
function widthOf({ loops }: CutPiece): Mm {
  const lines = loops.flatMap((loop) => loop.map(({ points }) => points));
  const area = lines.reduce(
    (sum, line) => sum + line.reduce((s, p, i) => (i > 0 ? s + cross(line[i - 1]!, p) / 2 : s), 0),
    0,
  );
  return Math.abs(area) / lines.reduce((sum, line) => sum + polylineLength(line), 0);
}

const isUpright = ({ planned }: CutStretch): boolean =>
  planned?.preparation === 'square' || planned?.preparation === 'flush';

/** Gaps at the ends of every glued stretch, at the depths where its cut is meant to meet, in both models. */
function gapMisses(pieces: readonly CutPiece[], first: Firsts, net: FoamNet): LinearMiss[] {
  const bevels = haveBevels(pieces);
  return gluedPlaces(pieces).flatMap(([a, b]) => {
    const own = stretchAt(pieces, a);
    const { from, to, face } = own.side;
    const along = directionOf(own, net);
    const middle = add3(net.normals[face]!, net.normals[stretchAt(pieces, b).side.face]!);
    if (norm3(middle) < 1e-6 || norm3(along) === 0) return [];
    const across = cross3(along, unitOf3(middle));
    const thin = Math.min(...[a, b].map(({ piece }) => pieces[piece]!.plan.thickness));
    const far = own.planned?.preparation === 'bevel' || !bevels ? meetWeights.far * thin : 0;
    return (['rigid', 'mitre'] as const).flatMap((model) =>
      meetingDepths(pieces, a, b).flatMap(({ depth, wedge, counts }, level) =>
        [from, to].map((vertex): LinearMiss => {
          const spots = [b, a].map((place) => spotAt(pieces, first, place, vertex, depth, model, true));
          const apart = difference(spots[0]!, spots[1]!, across);
          return {
            ...apart,
            constant: apart.constant - wedge,
            weight: meetWeights[model] * (counts ? 1 : meetWeights.farSkin),
            // The figure that counts is the mean of the worst depth in the worse model.
            ...(counts && {
              group: 3 * (model === 'rigid' ? 0 : 1) + level,
              far,
            }),
            belowZero:
              own.planned?.preparation === 'square' ? meetWeights.squareOverlap : meetWeights.overlap,
          };
        }),
      ),
    );
  });
}

interface MeetingDepth {
  /** Above the paper's surface. */
  readonly depth: Mm;
  /** How far apart both cut faces should be there. */
  readonly wedge: Mm;
  /** It is one of the depths that make the figures. */
  readonly counts: boolean;
}

/** Where both cut faces should touch, within the depth that both panels have. */
function meetingDepths(pieces: readonly CutPiece[], a: StretchPlace, b: StretchPlace): MeetingDepth[] {
  const two = [pieces[a.piece]!, pieces[b.piece]!];
  const low = Math.max(...two.map(({ neutral, plan }) => neutral.depth - plan.depths.inside));
  const high = Math.min(...two.map(({ neutral, plan }) => neutral.depth + plan.depths.outside));
  const { planned, bend } = stretchAt(pieces, a);
  const touch = (depth: Mm): MeetingDepth => ({ depth, wedge: 0, counts: true });
  const glued = () => two[0]!.neutral.depth + gluedHeight(stretchAt(pieces, a), two[0]!.plan);
  switch (planned!.preparation) {
    case 'bevel':
      return [low, (low + high) / 2, high].map(touch);
    case 'square': {
      // Where next to nothing gapes on the far skin, panels press there as soon as they do on the near one.
      const wedge = 2 * (high - low) * Math.sin(Math.abs(bend) / 2);
      const far = glued() > (low + high) / 2 ? low : high;
      return [touch(glued()), ...(wedge < shallowWedge ? [{ depth: far, wedge, counts: false }] : [])];
    }
    case 'flush':
      return [touch(glued())];
    case 'lapped':
      return [];
  }
}

/**
 * By how much mates differ in length where they are glued, once they are bent: every stretch, and every run as a whole; of
 * a dart, which is narrow near its tip, every stretch as firmly as a run.
 * @param about moves from which the lengths change little; null: along the sides of the shell
 * @param held moves of corners that are held back: they leave more to their neighbours, and lengths would give first
 */
function slipMisses(
  pieces: readonly CutPiece[],
  first: Firsts,
  net: FoamNet,
  about: Float64Array | null,
  held: ReadonlySet<number>,
): LinearMiss[] {
  const slip = (a: StretchPlace, b: StretchPlace): Omit<LinearMiss, 'weight'> => {
    const along = directionOf(stretchAt(pieces, a), net);
    const { from, to } = stretchAt(pieces, a).side;
    const lengthOf = (place: StretchPlace) => {
      const { neutral, plan } = pieces[place.piece]!;
      const depth = neutral.depth + gluedHeight(stretchAt(pieces, place), plan);
      const spots = [to, from].map((v) => spotAt(pieces, first, place, v, depth, 'mitre', false));
      const way = about ? subtract3(moved(spots[0]!, about), moved(spots[1]!, about)) : along;
      return difference(spots[0]!, spots[1]!, norm3(way) > 0 ? unitOf3(way) : along);
    };
    const [own, mate] = [lengthOf(a), lengthOf(b)];
    return {
      constant: own.constant - mate.constant,
      terms: [...own.terms, ...mate.terms.map(([u, f]) => [u, -f] as const)],
    };
  };
  const bevels = haveBevels(pieces);
  const all = bevels ? meetWeights.wholeSlip : meetWeights.squareWholeSlip;
  const one = ({ terms }: Pick<LinearMiss, 'terms'>) => {
    if (!bevels) return meetWeights.squareSlip;
    return terms.some(([u]) => held.has(u)) ? meetWeights.slipAtPin : meetWeights.slip;
  };
  return gluedRuns(pieces).flatMap((run) => {
    const parts = run.map(([a, b]) => slip(a, b));
    const whole: LinearMiss = {
      constant: parts.reduce((sum, { constant }) => sum + constant, 0),
      terms: parts.flatMap(({ terms }) => terms),
      weight: all,
    };
    const isDart = run.every(([a, b]) => a.piece === b.piece);
    return [
      ...parts.map((miss) => ({ ...miss, weight: isDart ? all : one(miss) })),
      ...(isDart ? [] : [whole]),
    ];
  });
}

const haveBevels = (pieces: readonly CutPiece[]): boolean =>
  pieces.some(({ loops }) =>
    loops.some((loop) => loop.some(({ planned }) => planned?.preparation === 'bevel')),
  );

const stretchAt = (pieces: readonly CutPiece[], { piece, loop, place }: StretchPlace): CutStretch =>
  pieces[piece]!.loops[loop]![place]!;

/** Unit direction of a stretch's side as its face runs; zero where it has no length. */
function directionOf({ side }: CutStretch, net: FoamNet): Point3 {
  const d = subtract3(net.places[side.to]!, net.places[side.from]!);
  return norm3(d) > 0 ? unitOf3(d) : d;
}

/** A place of a bent panel that depends on the moves of one corner. */
interface Spot {
  readonly at: Point3;
  readonly steps: readonly (readonly [unknown: number, step: Point3])[];
}

const moved = ({ at, steps }: Spot, by: Float64Array): Point3 =>
  steps.reduce((p, [u, step]) => add3(p, scaleBy3(step, by[u]!)), at);

const difference = (p: Spot, q: Spot, along: Point3): Pick<LinearMiss, 'constant' | 'terms'> => ({
  constant: dot3(subtract3(p.at, q.at), along),
  terms: [
    ...p.steps.map(([u, step]) => [u, dot3(step, along)] as const),
    ...q.steps.map(([u, step]) => [u, -dot3(step, along)] as const),
  ],
});

/** The corner of a stretch at a vertex of the shell and a height above the paper's surface, as the foam is bent. */
function spotAt(
  pieces: readonly CutPiece[],
  first: Firsts,
  { piece, loop, place }: StretchPlace,
  vertex: number,
  depth: Mm,
  model: 'rigid' | 'mitre',
  asLaid: boolean,
): Spot {
  const { neutral, plan, loops, corners } = pieces[piece]!;
  const stretch = loops[loop]![place]!;
  const atStart = stretch.startVertex === vertex;
  const count = loops[loop]!.length;
  const k = atStart ? (place + count - 1) % count : place;
  const node = atStart ? stretch.startNode : stretch.endNode;
  const corner = corners[loop]![k]!;
  const height = depth - neutral.depth;
  const round = neutral.fans[node]!;
  const fan = model === 'mitre' ? round : round.filter(({ face }) => face === stretch.side.face);
  const put = (move: Skins): Point3 => inSpace(fan, moveAt(move, height, plan));
  const from = first[piece]![loop]![k]!;
  const off = fan.reduce((sum, face) => add3(sum, scaleBy3(face.off, 1 / fan.length)), point3(0, 0, 0));
  const foot = asLaid ? add3(neutral.places[vertex]!, off) : neutral.places[vertex]!;
  return {
    at: add3(add3(foot, scaleBy3(fanMitre(fan), height)), put(corner)),
    steps: corner.freedom.map((one, j) => [from + j, put(one)] as const),
  };
}
