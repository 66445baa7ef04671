/** Options of the command line as decisions. Every value is checked; what can’t be meant is a {@link UsageError}. */
import { type Decisions, defaultDecisions, type PageDecisions, type StandsFor } from '../model';
import { type Mm, parseLength } from '../units';
import { type ParsedLine, UsageError } from './arguments';

type Options = ParsedLine['options'];

/** A length with its unit; `least` is the smallest that makes sense, `above` excludes it. */
function lengthOf(name: string, text: string, range: { least?: Mm; above?: Mm } = {}): Mm {
  if (!/[a-z"']\s*$/i.test(text)) {
    throw new UsageError(`--${name} ${text}: a length needs its unit, e.g. ${text}mm or ${text}cm.`);
  }
  const parsed = parseLength(text, 'mm');
  if (!parsed.ok) throw new UsageError(`--${name} ${text}: ${parsed.reason}`);
  const { least = 0, above } = range;
  if (parsed.value < least || (above !== undefined && parsed.value <= above)) {
    const bound = above !== undefined ? `more than ${above} mm` : `at least ${least} mm`;
    throw new UsageError(`--${name} ${text}: it must be ${bound}.`);
  }
  return parsed.value;
}

function oneOf<T extends string>(name: string, text: string, allowed: readonly T[]): T {
  const found = allowed.find((a) => a.toLowerCase() === text.toLowerCase());
  if (!found) throw new UsageError(`--${name} ${text}: it must be one of ${allowed.join(', ')}.`);
  return found;
}

function scaleOf(text: string): number {
  const found = /^\s*(\d+(?:\.\d+)?)\s*(%?)\s*$/.exec(text);
  const value = found ? Number(found[1]) / (found[2] ? 100 : 1) : Number.NaN;
  if (!(value > 0)) throw new UsageError(`--scale ${text}: a scale is written as 97% or 0.97.`);
  // "97" without the sign would be a helmet of 60 m.
  if (!found?.[2] && value > 10) throw new UsageError(`--scale ${text}: write ${text}% if percent is meant.`);
  return value;
}

/** A part of a whole, such as 0.62 or 62%. */
function partOf(name: string, text: string): number {
  const found = /^\s*(\d*\.?\d+)\s*(%?)\s*$/.exec(text);
  const value = found ? Number(found[1]) / (found[2] ? 100 : 1) : Number.NaN;
  if (!(value >= 0 && value <= 1)) {
    throw new UsageError(`--${name} ${text}: write a part of the shell’s height, such as 0.62.`);
  }
  return value;
}

/** Drawing units per inch of each unit that a drawing may be in. */
const unitsPerInch: Readonly<Record<string, number>> = { px: 96, pt: 72, in: 1, cm: 2.54, mm: 25.4 };

/** Size of drawings that state none. 96 per inch when nothing is said. */
export function sizeOf(options: Options): { perInch: number; assumed: boolean } {
  const text = options.get('unit');
  if (text === undefined) return { perInch: 96, assumed: true };
  const named = unitsPerInch[text.trim().toLowerCase()];
  const perInch = named ?? Number(text);
  if (!(perInch > 0) || !Number.isFinite(perInch)) {
    throw new UsageError(
      `--unit ${text}: write a number of units per inch (96, 90, 72) or mm, cm, in, pt, px.`,
    );
  }
  return { perInch, assumed: false };
}

/** A size written as `210x297mm` or `8.5inx11in`; null when the text is none. */
function extentOf(name: string, text: string): { readonly width: Mm; readonly height: Mm } | null {
  const own = /^\s*([\d.]+)\s*([a-z"]*)\s*[x×]\s*([\d.]+)\s*([a-z"]*)\s*$/i.exec(text);
  if (!own) return null;
  const [, w, wUnit, h, hUnit] = own;
  return {
    width: lengthOf(name, `${w}${wUnit || hUnit}`, { above: 0 }),
    height: lengthOf(name, `${h}${hUnit}`, { above: 0 }),
  };
}

/** A page as named or as `210x297mm`. */
function paperOf(text: string): Pick<PageDecisions, 'paper' | 'ownSize'> {
  const ownSize = extentOf('page', text);
  if (!ownSize) {
    const paper = oneOf('page', text, ['A4', 'A3', 'Letter', 'Legal', 'Tabloid'] as const);
    return { paper, ownSize: defaultDecisions.pages.ownSize };
  }
  return { paper: 'own', ownSize };
}

function fitOf(options: Options, from: Decisions['fit']): Decisions['fit'] {
  const ways = ['scale', 'head', 'known'].filter((o) => options.has(o));
  if (ways.length > 1) {
    throw new UsageError(`${ways.map((w) => `--${w}`).join(' and ')} both set the size: give one.`);
  }
  let fit = from;
  const ease = options.get('ease');
  if (ease !== undefined) fit = { ...fit, padding: lengthOf('ease', ease), clearance: 0 };
  const girth = options.get('pattern-girth');
  if (girth !== undefined) {
    fit = { ...fit, girth: { kind: 'typed', length: lengthOf('pattern-girth', girth, { above: 0 }) } };
  }
  const brow = options.get('brow');
  if (brow !== undefined) fit = { ...fit, brow: { ...fit.brow, at: partOf('brow', brow) } };
  const scale = options.get('scale');
  if (scale !== undefined) return { ...fit, how: 'percent', percent: scaleOf(scale) };
  const head = options.get('head');
  if (head !== undefined) {
    return { ...fit, how: 'head', head: lengthOf('head', head, { above: 0 }), headEnteredAs: 'tape' };
  }
  const known = options.get('known');
  if (known !== undefined) {
    const [have, want, ...more] = known.split('=');
    if (!have || !want || more.length > 0) {
      throw new UsageError(`--known ${known}: write what is there and what it shall be, e.g. 120mm=135mm.`);
    }
    return {
      ...fit,
      how: 'known',
      known: { have: lengthOf('known', have, { above: 0 }), want: lengthOf('known', want, { above: 0 }) },
    };
  }
  return fit;
}

/** Decisions from the options, on top of those of a saved project where one is given. */
export function decisionsOf(options: Options, from: Decisions | null): Decisions {
  // Nothing said about size means as drawn, not "head girth not typed yet".
  const base: Decisions = from ?? {
    ...defaultDecisions,
    fit: { ...defaultDecisions.fit, how: 'percent', percent: 1 },
  };
  const value = (name: string) => options.get(name);
  const foam = { ...base.foam };
  const pages = { ...base.pages };
  const thickness = value('foam');
  const kerf = value('kerf');
  const stands = value('stands-for');
  const seam = value('seam');
  const trace = value('trace');
  const page = value('page');
  const margin = value('margin');
  const overlap = value('overlap');
  const seed = value('seed');
  if (seed !== undefined && !/^\d+$/.test(seed)) {
    throw new UsageError(`--seed ${seed}: a seed is a whole number.`);
  }
  return {
    ...base,
    reading: readingOf(options, base.reading, from !== null),
    fit: fitOf(options, base.fit),
    foam: {
      ...foam,
      ...(thickness === undefined ? {} : { thickness: lengthOf('foam', thickness) }),
      ...(kerf === undefined ? {} : { kerf: lengthOf('kerf', kerf) }),
      ...(stands === undefined
        ? {}
        : { standsFor: oneOf<StandsFor>('stands-for', stands, ['outside', 'middle', 'inside']) }),
      ...(seam === undefined
        ? {}
        : { preparation: oneOf('seam', seam, ['bevel', 'square'] as const), preparationOf: {} }),
      ...(trace === undefined ? {} : { traced: oneOf('trace', trace, ['outside', 'inside'] as const) }),
    },
    ...sheetsOf(options, base),
    pages: {
      ...pages,
      ...(page === undefined ? {} : paperOf(page)),
      ...(margin === undefined ? {} : { margin: lengthOf('margin', margin) }),
      ...(overlap === undefined ? {} : { overlap: lengthOf('overlap', overlap) }),
    },
  };
}

/** Sheets of one size take the place of those that a project has; a layout on those goes with them. */
function sheetsOf(options: Options, base: Decisions): Partial<Decisions> {
  const [sheet, gap, seed] = ['sheet', 'gap', 'seed'].map((name) => options.get(name));
  const size = sheet === undefined ? null : extentOf('sheet', sheet);
  if (sheet !== undefined && !size)
    throw new UsageError(`--sheet ${sheet}: write width and height with their unit, e.g. 600x900mm.`);
  return {
    sheets: {
      ...base.sheets,
      ...(size ? { stock: [], laid: null } : {}),
      ...(gap === undefined ? {} : { gap: lengthOf('gap', gap) }),
      ...(seed === undefined ? {} : { seed: Number(seed) }),
    },
    ...(size ? { build: { ...base.build, sheet: size } } : {}),
  };
}

/** Nobody said how large a drawing without a size is: neither the command line nor the saved project. */
export function isSizeAssumed(options: Options, saved: Decisions | null): boolean {
  return sizeOf(options).assumed && (saved === null || saved.reading.size.kind === 'ask');
}

/** A saved answer to the question of size stays; otherwise the command line's word, 96 per inch by default. */
function readingOf(options: Options, from: Decisions['reading'], saved: boolean): Decisions['reading'] {
  const { perInch, assumed } = sizeOf(options);
  if (saved && assumed && from.size.kind !== 'ask') return from;
  return { ...from, size: { kind: 'perInch', value: perInch } };
}
