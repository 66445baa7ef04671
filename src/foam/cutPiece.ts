/**
 * A flat neutral piece with the cut of every stretch of its outline, and where each corner goes on both skins.
 */
import { add, type Point, point, scaleBy, subtract, turnRight, unitOf } from '../math';
import type { Mm, Rad } from '../units';
import { type CornerMove, foldMoves, moveLine } from './foldShift';
import type { NeutralStretch } from './neutralOutline';
import type { NeutralPiece } from './neutralPieces';
import { borderCut, type SeamCut } from './seamCut';
import { type PiecePlan, type PlannedSeam, plannedCut } from './shapePiece';
import { lineCorner, shellCorner } from './shellCorners';
import type { FoamNet } from './surface';
import { refusedBend } from './tolerance';

/** A stretch with its cut, and where its ends go. */
export interface CutStretch extends NeutralStretch {
  readonly planned: PlannedSeam | null;
  readonly bend: Rad;
  readonly cut: SeamCut;
  /** Flat, after the faces have made room for scored folds. */
  readonly line: readonly Point[];
}

/** A displacement on both skins. */
export interface CornerFreedom {
  readonly inside: Point;
  readonly outside: Point;
  /** It takes a little off a bevel at every depth, also where its mate lies at neutral depth. */
  readonly trims?: true;
  /** It leans the rim of a border. */
  readonly leans?: true;
}

/** Displacements of the corner at the end of a stretch, on both skins, and for one unit of kerf. */
export interface CornerMoves {
  /** How it may move and leave the cuts beside it what they are: any sum of these. */
  readonly freedom: readonly CornerFreedom[];
  readonly inside: Point;
  readonly outside: Point;
  readonly kerf: Point;
}

export interface CutPiece {
  readonly neutral: NeutralPiece;
  readonly plan: PiecePlan;
  /** Moves of flat corners that make room for scored folds. */
  readonly moves: CornerMove;
  readonly loops: readonly (readonly CutStretch[])[];
  /** The corner at the end of each stretch. */
  readonly corners: readonly (readonly CornerMoves[])[];
}

/**
 * @param plan its depths are those of the skins above and below the neutral surface; its seams by seam id and, for edges
 * whose seam the shell left out, by edge id
 */
export function cutPiece(neutral: NeutralPiece, net: FoamNet, plan: PiecePlan): CutPiece {
  const moves = foldMoves(neutral.flat, (fold) => plan.foldLengths[fold.id] ?? 0);
  const loops = neutral.loops.map((loop) =>
    loop.map((stretch): CutStretch => {
      const { side } = stretch;
      const key = side.kind === 'seam' ? side.id : stretch.edge;
      const planned = plan.seams[`${key} ${stretch.edge}`] ?? plan.seams[key] ?? null;
      const bend = planned ? bendHere(planned, side.bend) : 0;
      const cut = planned ? plannedCut(planned, bend, plan) : borderCut;
      return { ...stretch, planned, bend, cut, line: moveLine(stretch.points, moves) };
    }),
  );
  const gone = new Set([
    ...net.goneBy(neutral.depth + plan.depths.outside),
    ...net.goneBy(neutral.depth - plan.depths.inside),
  ]);
  const corners = loops.map((loop) =>
    loop.map((stretch, k) => cornerOf(stretch, loop[(k + 1) % loop.length]!, neutral, net, plan, gone)),
  );
  return { neutral, plan, moves, loops, corners };
}

/** The directions of the outline on both sides of the corner at the end of a stretch. */
export function directionsAt(before: CutStretch, after: CutStretch): { before: Point; after: Point } {
  return {
    before: unitOf(subtract(before.line.at(-1)!, before.line.at(-2)!)),
    after: unitOf(subtract(after.line[1]!, after.line[0]!)),
  };
}

/** The bend at a stretch: as typed, else what the shell has there; flat where it is refused. */
function bendHere(planned: PlannedSeam, shell: Rad | null): Rad {
  if (planned.bend === null) return 0;
  if (planned.typed || shell === null || Math.abs(shell) >= refusedBend) return planned.bend;
  return shell;
}

function cornerOf(
  before: CutStretch,
  after: CutStretch,
  neutral: NeutralPiece,
  net: FoamNet,
  plan: PiecePlan,
  gone: ReadonlySet<number>,
): CornerMoves {
  const directions = directionsAt(before, after);
  const lines = (s1: Mm, s2: Mm, blend: 'mean' | 'deeper') =>
    lineCorner(
      { direction: directions.before, shift: s1 },
      { direction: directions.after, shift: s2 },
      blend,
    );
  const kerf = lines(1, 1, 'mean');
  const freedom = freedomOf(before, after, plan);
  const kinds = new Set([kindOf(before), kindOf(after)]);
  const fan = neutral.fans[before.endNode]!;
  const shell = shellCorner(fan, net.vectors[before.endVertex]!);
  const stays = !gone.has(before.endVertex);
  if (kinds.has('bevel') && kinds.size === 1) {
    const line = lines(Math.tan(before.bend / 2), Math.tan(after.bend / 2), 'mean');
    return { freedom, ...byHeight(stays ? scaleBy(add(shell, line), 0.5) : line, plan), kerf };
  }
  // Where a bevelled seam ends on a border, mates have the same end at every depth by the shell alone: their borders,
  // each upright in its own plane, would cut the bevel at different places.
  if (kinds.has('bevel') && kinds.has('border') && stays) return { freedom, ...byHeight(shell, plan), kerf };
  const blend = before.planned && after.planned ? 'deeper' : 'mean';
  return {
    freedom,
    inside: lines(before.cut.inside, after.cut.inside, blend),
    outside: lines(before.cut.outside, after.cut.outside, blend),
    kerf,
  };
}

/** A move in proportion to the height above the neutral layer. */
const byHeight = (slope: Point, { depths }: PiecePlan) => ({
  inside: scaleBy(slope, -depths.inside),
  outside: scaleBy(slope, depths.outside),
});

function kindOf({ planned }: CutStretch): 'bevel' | 'upright' | 'lapped' | 'border' {
  if (!planned) return 'border';
  if (planned.preparation === 'bevel' || planned.preparation === 'lapped') return planned.preparation;
  return 'upright';
}

/** A bevel pivots about the neutral layer, an upright cut stays upright, a border stays on its line as far as
 *  it can, a lap stays where it is. */
function freedomOf(before: CutStretch, after: CutStretch, plan: PiecePlan): CornerMoves['freedom'] {
  const kinds = [kindOf(before), kindOf(after)];
  const directions = directionsAt(before, after);
  const axes = [point(1, 0), point(0, 1)];
  const alike = (d: Point) => ({ inside: d, outside: d });
  const has = (kind: (typeof kinds)[number]) => kinds.includes(kind);
  if (has('lapped') || kinds.every((kind) => kind === 'border')) return [];
  const along = (kind: string) => (kinds[0] === kind ? directions.before : directions.after);
  if (has('border')) {
    const t = along('border');
    const move = (d: Point) => (has('bevel') ? byHeight(d, plan) : alike(d));
    return [move(t), { ...move(turnRight(t)), leans: true }];
  }
  if (!has('upright'))
    return [
      ...axes.map((d) => byHeight(d, plan)),
      ...axes.map((d) => ({ ...alike(d), trims: true as const })),
    ];
  // Beside a bevel the upright cut decides.
  return axes.map(alike);
}
