/** The dry fit in a maker's words: rows, and what to do about each. Pure. */
import { gapWorthSaying } from '../../../src/dryfit';
import type { DryFit, DryFitSeam, FoamResult, Seams } from '../../../src/model';
import { nameFoamRows } from './foamRows';

export interface DryFitRow {
  readonly seam: string;
  readonly name: string;
  /** Largest distance where the seam is meant to meet, without its sign. */
  readonly worst: number;
  readonly what: 'open' | 'pressed';
  readonly where: string;
  readonly remedy: string;
}

const whereWords = { inside: 'inside', middle: 'half way', outside: 'outside' } as const;

/** The depth and the sign of the largest distance of a seam. */
export function worstPlace(seam: DryFitSeam): {
  readonly where: DryFitSeam['touches'][number];
  readonly open: boolean;
} {
  const ends = seam.touches.flatMap((where) => [
    { where, size: seam[where].max, open: true },
    { where, size: -seam[where].min, open: false },
  ]);
  return ends.reduce((most, end) => (end.size > most.size ? end : most));
}

/** What a maker can do about a seam. */
export function remedyOf(seam: DryFitSeam, open: boolean): string {
  if (seam.worst < gapWorthSaying) return 'Small enough to press together.';
  if (seam.panels[0] === seam.panels[1])
    return 'Split the panel here: both sides are in one panel and hold each other.';
  if (seam.preparation === 'square') return 'Cut it on a bevel.';
  return open
    ? 'Make the sharpest fold that ends here a seam, or take thinner foam or a larger scale.'
    : 'Take off the corner that presses; thinner foam or a larger scale presses less.';
}

/** Worst first, with the numbers that are printed on the seams. */
export function dryFitRows(fit: DryFit, foam: FoamResult, seams: Seams | null): DryFitRow[] {
  const names = new Map(nameFoamRows(foam, seams).map((row) => [row.seam, row.name]));
  return fit.seams.flatMap((seam) => {
    const name = names.get(seam.seam);
    if (name === undefined) return [];
    const { where, open } = worstPlace(seam);
    return [
      {
        seam: seam.seam,
        name,
        worst: seam.worst,
        what: open ? ('open' as const) : ('pressed' as const),
        where: whereWords[where],
        remedy: remedyOf(seam, open),
      },
    ];
  });
}
