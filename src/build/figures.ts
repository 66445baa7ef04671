/** Figures as the arithmetic of a build writes them. */

export const perMetre = 1000;
export const perSquareMetre = 1e6;

/** At most three digits after the point, none that say nothing. */
export const shown = (value: number): string => String(Math.round(value * 1000) / 1000);
