/** Published head girths. Figures only; what they mean for a fit is in context.ts. All lengths mm. */
import type { Mm } from '../units';

/** Percentiles of one group of people, in rising order. */
export interface GirthTable {
  readonly people: string;
  readonly count: number;
  /** [percentile, girth]. */
  readonly percentiles: readonly (readonly [number, Mm])[];
}

/**
 * Head circumference in the US Army's anthropometric survey of 2012 (ANSUR II, public release; report NATICK/TR-15/007).
 * Percentiles worked out from the released data by linear interpolation. Soldiers of 17 to 58 years.
 */
export const adultGirths: { readonly men: GirthTable; readonly women: GirthTable } = {
  men: {
    people: 'men',
    count: 4082,
    percentiles: [
      [1, 538],
      [5, 548],
      [10, 554],
      [25, 563],
      [50, 574],
      [75, 585],
      [90, 595],
      [95, 601],
      [99, 614.2],
    ],
  },
  women: {
    people: 'women',
    count: 1986,
    percentiles: [
      [1, 521],
      [5, 532],
      [10, 538],
      [25, 548],
      [50, 560],
      [75, 573],
      [90, 587],
      [95, 597],
      [99, 611],
    ],
  },
};

export const adultSource =
  'ANSUR II, US Army anthropometric survey of 2012 (soldiers of 17 to 58 years); percentiles worked out from the public data';

/** Girths of healthy children at one age: 3rd, 50th and 97th percentile of boys and girls. */
export interface ChildGirths {
  readonly months: number;
  readonly boys: readonly [Mm, Mm, Mm];
  readonly girls: readonly [Mm, Mm, Mm];
}

/** WHO Child Growth Standards, head circumference for age; worked out from its table of L, M and S. Ends at 5 years. */
export const childGirths: readonly ChildGirths[] = [
  { months: 0, boys: [321, 345, 369], girls: [317, 339, 361] },
  { months: 12, boys: [436, 461, 485], girls: [423, 449, 474] },
  { months: 24, boys: [457, 482, 508], girls: [446, 472, 498] },
  { months: 36, boys: [468, 495, 521], girls: [459, 485, 512] },
  { months: 60, boys: [479, 507, 535], girls: [472, 499, 526] },
];

export const childSource = 'WHO Child Growth Standards, head circumference for age, up to 5 years';

/**
 * Ratios of heads in the same survey (ANSUR II, public release), worked out from the released data: all 6,068 people
 * together, as sampled (67 % men).
 */
export const headRatios = {
  people: '6,068 adults, ANSUR II',
  /** Head circumference by tape over the girth of the ellipse of head length and breadth: mean 1.0373, SD 0.0190. */
  tapeOverEllipse: 1.0373,
  /** Head breadth over head length: men 0.7744 (SD 0.0357), women 0.7794 (SD 0.0367). */
  breadthToLength: 0.776,
  /** Tragion to top of head (men 131.15 mm, women 126.48 mm) over head circumference (mean 570.04 mm). */
  earToCrown: 0.227,
  /** The tape's plane above the ear hole, as a part of the girth. Common practice, no source. */
  browAboveEar: 0.048,
} as const;
