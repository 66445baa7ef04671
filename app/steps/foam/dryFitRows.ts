/** The dry fit in a maker's words: rows, and what to do about each. Pure. */
import { foldWorthMending, gapWorthSaying } from '../../../src/dryfit';
import type { DryFit, DryFitClash, DryFitSeam, FoamDecisions, FoamResult, Seams } from '../../../src/model';
import { formatAngle, formatLength } from '../../../src/units';
import type { Mend } from '../../commands';
import { usualThicknesses } from '../foamChoices';
import { nameFoamRows } from './foamRows';

export interface Remedy {
  readonly words: string;
  /** The same as a button; null where only the hand can do it. */
  readonly act: { readonly label: string; readonly mend: Mend } | null;
}

export interface DryFitRow {
  readonly seam: string;
  readonly name: string;
  /** Largest distance where the seam is meant to meet, without its sign. */
  readonly worst: number;
  readonly what: 'open' | 'pressed';
  readonly where: string;
  readonly remedy: Remedy;
  readonly measured: DryFitSeam;
}

const whereWords = { inside: 'inside', middle: 'half way', outside: 'outside' } as const;

/** How the two ways of bending are named for a maker. */
export const modelWords = {
  rigid: 'stiff faces, bent at the folds alone',
  mitre: 'skins that stretch into the folds',
} as const;

/** What a remedy has to know of the foam. */
export interface RemedyContext {
  readonly foam: FoamResult;
  readonly decisions: Pick<FoamDecisions, 'thickness' | 'thicknessOf'>;
  /** The seams of the same printed number, this one with them. */
  readonly runOf: (seam: string) => readonly string[];
}

/** What a maker can do about a seam. */
export function remedyOf(seam: DryFitSeam, context: RemedyContext): Remedy {
  const { fold } = seam;
  if (seam.worst < gapWorthSaying) return { words: 'Small enough to press together.', act: null };
  const collides = context.foam.issues.some(
    ({ code, place }) => code === 'bevel-collides' && place.ids?.includes(seam.seam),
  );
  if (seam.preparation === 'square' && !collides)
    return {
      words: 'Cut it on a bevel.',
      act: { label: 'Bevel it', mend: { kind: 'bevel', seams: context.runOf(seam.seam) } },
    };
  if (fold && Math.abs(fold.bend) >= foldWorthMending)
    return {
      words: `The fold of ${formatAngle(Math.abs(fold.bend))} that ends there stretches the foam: make it a seam.`,
      act: { label: 'Cut that fold', mend: { kind: 'split', fold: fold.id } },
    };
  return thinner(
    seam.panels,
    seam.preparation === 'square' ? 'Bevels would run into each other here.' : null,
    context,
  );
}

/** What a maker can do about panels that run into each other. */
export const clashRemedy = ({ panels }: DryFitClash, context: RemedyContext): Remedy =>
  thinner(panels, 'A larger scale makes room as well, or leave one of them off.', context);

/** The next thinner usual sheet for panels; in words alone where there is none. */
function thinner(panels: readonly string[], also: string | null, { decisions }: RemedyContext): Remedy {
  const now = Math.min(...panels.map((id) => decisions.thicknessOf[id] ?? decisions.thickness));
  const next = usualThicknesses.filter((t) => t < now).at(-1);
  const more = also === null ? '' : ` ${also}`;
  if (next === undefined) return { words: `A larger scale leaves less open.${more}`, act: null };
  const once = [...new Set(panels)];
  const these = once.length === 1 ? 'this panel' : 'both panels';
  return {
    words: `Thinner foam for ${these}.${more}`,
    act: {
      label: `Make ${these} ${formatLength(next, 'mm')}`,
      mend: { kind: 'thinner', panels: once, thickness: next },
    },
  };
}

export function remedyContext(
  foam: FoamResult,
  seams: Seams | null,
  decisions: RemedyContext['decisions'],
): RemedyContext {
  const runOf = new Map(
    (seams?.runs ?? []).flatMap((run) => run.seams.map((id) => [id, run.seams] as const)),
  );
  return { foam, decisions, runOf: (seam) => runOf.get(seam) ?? [seam] };
}

/** Worst first, with the numbers that are printed on the seams. */
export function dryFitRows(
  fit: DryFit,
  foam: FoamResult,
  seams: Seams | null,
  decisions: RemedyContext['decisions'],
): DryFitRow[] {
  const names = new Map(nameFoamRows(foam, seams).map((row) => [row.seam, row.name]));
  const context = remedyContext(foam, seams, decisions);
  return fit.seams.flatMap((seam) => {
    const name = names.get(seam.seam);
    if (name === undefined) return [];
    return [
      {
        seam: seam.seam,
        name,
        worst: seam.worst,
        what: seam.place.gap < 0 ? ('pressed' as const) : ('open' as const),
        where: whereWords[seam.place.depth],
        remedy: remedyOf(seam, context),
        measured: seam,
      },
    ];
  });
}
