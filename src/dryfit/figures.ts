/** Distances put together to the figures that are shown. */
import type {
  DryFitDepth,
  DryFitPlace,
  DryFitSeam,
  DryFitSide,
  GapFigures,
  GapRange,
  SeamPreparation,
} from '../model';
import type { Mm } from '../units';
import type { SideGaps } from './gaps';

const depths: readonly DryFitDepth[] = ['inside', 'middle', 'outside'];

/** Where a seam is meant to meet: bevelled at every depth, square on the skin that touches first. */
export function meantToMeet(preparation: SeamPreparation, bend: number | null): readonly DryFitDepth[] {
  if (preparation !== 'square') return depths;
  return [(bend ?? 0) < 0 ? 'outside' : 'inside'];
}

export function figuresOf(values: readonly Mm[]): GapFigures | null {
  if (values.length === 0) return null;
  const sorted = values.map(Math.abs).sort((a, b) => a - b);
  return {
    mean: sorted.reduce((s, v) => s + v, 0) / sorted.length,
    p95: sorted[Math.min(sorted.length - 1, Math.floor(0.95 * sorted.length))]!,
    max: sorted.at(-1)!,
  };
}

export function rangeOf(values: readonly Mm[]): GapRange {
  return {
    min: Math.min(...values),
    mean: values.reduce((s, v) => s + v, 0) / Math.max(1, values.length),
    max: Math.max(...values),
  };
}

/** Of each figure the larger. */
export function worseOf(a: GapFigures | null, b: GapFigures | null): GapFigures | null {
  if (!a || !b) return a ?? b;
  return { mean: Math.max(a.mean, b.mean), p95: Math.max(a.p95, b.p95), max: Math.max(a.max, b.max) };
}

/** A seam's gaps with how it is cut. */
export interface MeasuredSide {
  readonly seam: string;
  readonly vertices: readonly [number, number];
  readonly preparation: SeamPreparation;
  readonly bend: number | null;
  readonly gaps: SideGaps;
}

/** Figures over many sides on the worse depth; a square seam counts at every depth with the skin that touches. */
export function figuresAtDepths(sides: readonly MeasuredSide[]): GapFigures | null {
  return depths
    .map((depth) =>
      figuresOf(
        sides.flatMap(({ preparation, bend, gaps }) => {
          const meant = meantToMeet(preparation, bend);
          return [...gaps[meant.length === 1 ? meant[0]! : depth]];
        }),
      ),
    )
    .reduce(worseOf, null);
}

export const worstOf = (sides: readonly MeasuredSide[]): Mm =>
  sides.reduce(
    (most, { preparation, bend, gaps }) =>
      Math.max(most, ...meantToMeet(preparation, bend).flatMap((d) => gaps[d].map(Math.abs))),
    0,
  );

/** The largest distance of these sides where they are meant to meet; null without sides. */
export function worstPlaceOf(sides: readonly MeasuredSide[]): DryFitPlace | null {
  let worst: DryFitPlace | null = null;
  for (const { vertices, preparation, bend, gaps } of sides)
    for (const depth of meantToMeet(preparation, bend))
      gaps[depth].forEach((gap, k) => {
        if (worst && Math.abs(gap) <= Math.abs(worst.gap)) return;
        worst = { vertices, part: k / (gaps[depth].length - 1), depth, gap };
      });
  return worst;
}

/** Each side once, of all models the worse. */
export function sidesOf(measured: readonly MeasuredSide[]): DryFitSide[] {
  const found = new Map<string, DryFitSide>();
  for (const { vertices, preparation, bend, gaps } of measured) {
    const all = meantToMeet(preparation, bend).flatMap((depth) => [...gaps[depth]]);
    const key = vertices.join(' ');
    const so = found.get(key);
    found.set(key, {
      vertices,
      open: Math.max(so?.open ?? 0, ...all),
      pressed: Math.max(so?.pressed ?? 0, ...all.map((gap) => -gap)),
    });
  }
  return [...found.values()];
}

/** Worst first; equals in the order of the seams. */
export const byWorst = (a: DryFitSeam, b: DryFitSeam): number => b.worst - a.worst;
