import { type BentFaces, divideFaces } from './bentFaces';
import type { FoldInput } from './foldUp';
import type { Tie } from './girthTies';
import { bendAngles, buildHinges, type Hinges } from './hinge';
import { buildPriorRows, type PriorRows } from './priorRows';
import { buildSystem, type KnownBend, type MildHinges, type System } from './system';
import type { ShellTopology } from './topology';

/**
 * The surface that is folded, with all that is known of its hinges: as drawn, or with faces divided so that they may
 * bend slightly.
 */
export interface Surface {
  readonly topology: ShellTopology;
  readonly hinges: Hinges;
  /** +1 mountain, −1 valley, 0 unknown, per hinge. */
  readonly signs: Int8Array;
  readonly prior: PriorRows;
  readonly knownBends: readonly KnownBend[];
  /** Both null where it is as drawn. */
  readonly bent: BentFaces | null;
  readonly mild: MildHinges | null;
}

/** A bend that the file gives counts as much as three rows of the smoothness about its fold. */
const givenWeight = 3;

/** Folds that drawings leave out stay under 3°; the rest is for diagonals that stand askew to them. */
export const mildBend = 0.06;

/**
 * Pull of virtual diagonals towards flat, beside the smoothness. Without it flat faces of a net of quads take part in
 * every free motion (0.9 % of the size off instead of 0.02 %); nets without lines have triangles that are bent in truth
 * (0.02 does best there, 0.3 doubles their error). Own family and random domes, folds under 3° left out.
 */
const pullOnLines = 0.5;
const pullElsewhere = 0.06;

/** @param signOfEdge signs by edge of the surface as drawn, those of mirror partners filled in */
export function surfaceAsDrawn(input: FoldInput, signOfEdge: Int8Array): Surface {
  const { topology, strips } = input;
  const hinges = buildHinges(topology);
  return {
    topology,
    hinges,
    signs: Int8Array.from(hinges.edgeOf, (e) => signOfEdge[e]!),
    prior: buildPriorRows(topology, hinges, strips),
    knownBends: knownBendsOf(input, (edge) => hinges.hingeOf[edge]!),
    bent: null,
    mild: null,
  };
}

/** The same with every face of more than three corners divided, but for strips of bent faces, which bend as it is. */
export function surfaceWithBentFaces(
  input: FoldInput,
  signOfEdge: Int8Array,
  mirror: Int32Array | null,
): Surface {
  const bent = divideFaces(input.topology, mirror, input.strips);
  const { topology, drawnEdge } = bent;
  const hinges = buildHinges(topology);
  const strips = Array.from(bent.drawnFace, (f) => input.strips?.[f] ?? null);
  const prior = buildPriorRows(topology, hinges, strips);
  const hingeOfDrawn = new Map<number, number>();
  for (const [h, e] of hinges.edgeOf.entries()) hingeOfDrawn.set(drawnEdge[e]!, h);
  return {
    topology,
    hinges,
    signs: Int8Array.from(hinges.edgeOf, (e) => (drawnEdge[e]! < 0 ? 0 : signOfEdge[drawnEdge[e]!]!)),
    prior,
    knownBends: knownBendsOf(input, (edge) => hingeOfDrawn.get(edge) ?? -1),
    bent,
    mild: {
      virtual: Uint8Array.from(hinges.edgeOf, (e) => (drawnEdge[e]! < 0 ? 1 : 0)),
      limit: mildBend,
      pull: prior.lines ? pullOnLines : pullElsewhere,
    },
  };
}

function knownBendsOf(input: FoldInput, hingeOf: (edge: number) => number): KnownBend[] {
  const of = (list: FoldInput['knownBends'], as: KnownBend['as']): KnownBend[] =>
    (list ?? []).flatMap((k) => {
      const hinge = hingeOf(k.edge);
      return hinge < 0 ? [] : [{ hinge, bend: k.bend, weight: k.weight, as }];
    });
  return [
    ...of(input.knownBends, 'known'),
    ...of(
      (input.givenBends ?? []).map((g) => ({ ...g, weight: givenWeight })),
      'hint',
    ),
  ];
}

/** The least squares of a surface, with its smoothness or without. */
export function systemOf(
  surface: Surface,
  input: FoldInput,
  mirror: Int32Array | null,
  options: { readonly smooth: boolean; readonly ties?: readonly Tie[] },
): System {
  const { topology, hinges, signs, prior, knownBends, mild } = surface;
  const known = {
    bends: knownBends,
    distances: input.knownDistances ?? [],
    ties: options.ties ?? [],
    mild,
  };
  return buildSystem(topology, hinges, signs, options.smooth ? prior : null, known, mirror);
}

/** Sharpest bend within a face that still counts as mild, rad: a diagonal askew to the true fold bends about twice as far. */
const sharpestMild = 2 * mildBend;
/** Part of the virtual diagonals that may bend beyond the limit at all: those askew to the true folds. */
const fewBeyond = 0.05;

/** Whether faces bend no further than folds do that drawings leave out. */
export function bendsAreMild({ hinges, mild }: Surface, x: Float64Array): boolean {
  if (!mild) return true;
  const within = bendAngles(hinges, x).filter((_, h) => mild.virtual[h]);
  const beyond = within.filter((b) => Math.abs(b) > mild.limit * softLimit).length;
  return beyond <= fewBeyond * within.length && within.every((b) => Math.abs(b) <= sharpestMild);
}

/** The limit is soft: lengths press on it by so much. */
const softLimit = 1.05;
