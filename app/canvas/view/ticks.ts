/**
 * Divisions of length for grid, rulers and scale bar, in the person's unit. Pure. Steps are chosen so that they are
 * round in that unit: 1, 10, 100 mm; halves, quarters … and whole inches.
 */
import type { Mm } from '../../../src/units';

export type RulerUnit = 'mm' | 'in';

const inch: Mm = 25.4;

/** Steps that a ruler may label, smallest first. */
const labelSteps: Readonly<Record<RulerUnit, readonly Mm[]>> = {
  mm: [1, 2, 5, 10, 20, 50, 100, 200, 500, 1000, 2000, 5000, 10_000],
  in: [1 / 8, 1 / 4, 1 / 2, 1, 2, 6, 12, 24, 60, 120, 240, 480].map((n) => n * inch),
};

/** How many parts a labelled step is divided into: a middle tick, then small ticks. */
const divisions: Readonly<Record<RulerUnit, (step: Mm) => readonly [number, number]>> = {
  mm: (step) => (leading(step) === 2 ? [2, 4] : leading(step) === 5 ? [5, 5] : [2, 10]),
  in: (step) => {
    const n = Math.round((step / inch) * 8);
    return n === 48 ? [2, 6] : n === 96 || n === 192 || n === 480 ? [2, 12] : [2, 4];
  },
};

const leading = (step: number) => Math.round(step / 10 ** Math.floor(Math.log10(step) + 1e-9));

export interface Tick {
  /** Distance from the ruler's zero, mm. */
  readonly at: Mm;
  readonly size: 'large' | 'middle' | 'small';
  /** Text of a large tick, in the unit, without it. */
  readonly text: string;
}

/**
 * Ticks between two distances at a zoom (pixels per mm). Labelled ticks are at least `apart` pixels from each other,
 * small ones at least 4.
 */
export function rulerTicks(from: Mm, to: Mm, scale: number, unit: RulerUnit, apart = 56): Tick[] {
  const steps = labelSteps[unit];
  const step = steps.find((s) => s * scale >= apart) ?? steps.at(-1)!;
  const [halves, parts] = divisions[unit](step);
  const fine = step / parts;
  const part = fine * scale >= 4 ? parts : (step / halves) * scale >= 4 ? halves : 1;
  const ticks: Tick[] = [];
  // Counted in whole parts, so that no tick drifts by rounding.
  const first = Math.ceil((from / step) * part - 1e-9);
  const last = Math.floor((to / step) * part + 1e-9);
  for (let i = first; i <= last; i++) {
    const size =
      i % part === 0 ? 'large' : Number.isInteger((i * halves) / part) ? 'middle' : ('small' as const);
    const at = (i * step) / part;
    ticks.push({ at, size, text: size === 'large' ? inUnit(at, unit) : '' });
  }
  return ticks;
}

function inUnit(at: Mm, unit: RulerUnit): string {
  const value = unit === 'mm' ? at : at / inch;
  const rounded = Math.round(value * 1000) / 1000;
  return String(rounded === 0 ? 0 : rounded).replace('-', '−');
}

export interface GridLevel {
  readonly step: Mm;
  /** 0..1: how far the level has faded in. */
  readonly strength: number;
  /** Every how many lines the next coarser level has one of its own. */
  readonly every: number;
}

const gridSteps: Readonly<Record<RulerUnit, readonly Mm[]>> = {
  mm: [1, 10, 100, 1000, 10_000],
  in: [inch / 4, inch, 12 * inch, 120 * inch],
};

/** Pixels between lines at which a level of the grid begins to show and is fully there. */
const fade = { from: 5, full: 14 } as const;

/** The levels of the grid that show at a zoom, finest first. */
export function gridLevels(scale: number, unit: RulerUnit): GridLevel[] {
  const steps = gridSteps[unit];
  return steps.flatMap((step, i) => {
    const strength = Math.min(1, Math.max(0, (step * scale - fade.from) / (fade.full - fade.from)));
    const next = steps[i + 1];
    return strength > 0 ? [{ step, strength, every: next ? Math.round(next / step) : 0 }] : [];
  });
}

const barSteps: Readonly<Record<RulerUnit, readonly Mm[]>> = {
  mm: [0.5, 1, 2, 5, 10, 20, 50, 100, 200, 500, 1000, 2000, 5000, 10_000],
  in: [1 / 32, 1 / 16, 1 / 8, 1 / 4, 1 / 2, 1, 2, 5, 10, 20, 50, 100, 200, 400].map((n) => n * inch),
};

/** The longest round length that is at most `room` pixels long at a zoom (the shortest one when none is). */
export function scaleBarLength(scale: number, unit: RulerUnit, room = 150): Mm {
  const steps = barSteps[unit];
  return steps.filter((s) => s * scale <= room).at(-1) ?? steps[0]!;
}
