/**
 * Transform lists: the `transform` attribute (SVG 1.1 syntax) and the CSS property (functions with units).
 * Source: CSS Transforms 1, sections 8 to 11 (the SVG grammar is its appendix to section 8).
 */
import { compose, identity, type Matrix, rotation, scaling, translation } from './matrix';

const degree = Math.PI / 180;
const anglesInRadians: Readonly<Record<string, number>> = {
  deg: degree,
  rad: 1,
  grad: Math.PI / 200,
  turn: 2 * Math.PI,
};

/** Turns a written CSS length into user units; undefined when it can't. */
export type ToPx = (value: number, unit: string, axis: 'x' | 'y') => number | undefined;

const functionPattern = /\s*,?\s*([a-zA-Z]+)\s*\(([^()]*)\)\s*/y;
const argumentPattern = /\s*([+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?)([a-zA-Z]+|%)?\s*(,)?/y;

interface Argument {
  readonly value: number;
  readonly unit: string;
}

/**
 * Reads a transform list into one map.
 * @param toPx lengths of the CSS syntax; absent for the attribute, whose numbers are user units and degrees
 * @returns undefined when any part is not understood: a list with an error has no effect (CSS Transforms 1, 8).
 */
export function readTransform(text: string, toPx?: ToPx): Matrix | undefined {
  if (/^\s*(?:none)?\s*$/.test(text)) return identity;
  let result = identity;
  functionPattern.lastIndex = 0;
  while (functionPattern.lastIndex < text.length) {
    const match = functionPattern.exec(text);
    if (!match) return undefined;
    const args = readArguments(match[2]!);
    const one = args && readFunction(match[1]!, args, toPx);
    if (!one) return undefined;
    result = compose(result, one);
  }
  return result;
}

function readArguments(text: string): Argument[] | undefined {
  const out: Argument[] = [];
  argumentPattern.lastIndex = 0;
  while (argumentPattern.lastIndex < text.length) {
    const match = argumentPattern.exec(text);
    if (!match) return undefined;
    out.push({ value: Number(match[1]), unit: (match[2] ?? '').toLowerCase() });
    // A comma needs something after it.
    if (match[3] && argumentPattern.lastIndex >= text.length) return undefined;
  }
  return out;
}

function readFunction(name: string, args: readonly Argument[], toPx: ToPx | undefined): Matrix | undefined {
  const count = args.length;
  const number = (i: number): number => (args[i]!.unit === '' ? args[i]!.value : Number.NaN);
  // Bare numbers are degrees and user units in the attribute; in CSS only 0 may go without its unit.
  const angle = (i: number): number => {
    const { value, unit } = args[i]!;
    if (unit === '') return toPx && value !== 0 ? Number.NaN : value * degree;
    return toPx ? value * (anglesInRadians[unit] ?? Number.NaN) : Number.NaN;
  };
  const length = (i: number, axis: 'x' | 'y'): number => {
    const { value, unit } = args[i]!;
    if (unit === '') return toPx && value !== 0 ? Number.NaN : value;
    return toPx?.(value, unit, axis) ?? Number.NaN;
  };
  const factor = (i: number): number => (toPx && args[i]!.unit === '%' ? args[i]!.value / 100 : number(i));
  switch (toPx ? name.toLowerCase() : name) {
    case 'matrix':
      if (count !== 6) return undefined;
      return finite({ a: number(0), b: number(1), c: number(2), d: number(3), e: number(4), f: number(5) });
    case 'translate':
      if (count < 1 || count > 2) return undefined;
      return finite(translation(length(0, 'x'), count > 1 ? length(1, 'y') : 0));
    case 'scale':
      if (count < 1 || count > 2) return undefined;
      return finite(scaling(factor(0), count > 1 ? factor(1) : factor(0)));
    case 'rotate': {
      if (count !== 1 && count !== 3) return undefined;
      const turn = rotation(angle(0));
      if (count === 1) return finite(turn);
      if (toPx) return undefined;
      const [x, y] = [number(1), number(2)];
      return finite(compose(translation(x, y), compose(turn, translation(-x, -y))));
    }
    case 'skewX':
    case 'skewx':
      return count === 1 ? finite({ ...identity, c: Math.tan(angle(0)) }) : undefined;
    case 'skewY':
    case 'skewy':
      return count === 1 ? finite({ ...identity, b: Math.tan(angle(0)) }) : undefined;
  }
  if (!toPx || count < 1) return undefined;
  // The rest is CSS only; names are case-insensitive there and were lowered above.
  switch (name.toLowerCase()) {
    case 'translatex':
      return count === 1 ? finite(translation(length(0, 'x'), 0)) : undefined;
    case 'translatey':
      return count === 1 ? finite(translation(0, length(0, 'y'))) : undefined;
    case 'scalex':
      return count === 1 ? finite(scaling(factor(0), 1)) : undefined;
    case 'scaley':
      return count === 1 ? finite(scaling(1, factor(0))) : undefined;
    case 'skew':
      if (count > 2) return undefined;
      return finite({ ...identity, c: Math.tan(angle(0)), b: count > 1 ? Math.tan(angle(1)) : 0 });
  }
  return undefined;
}

function finite(m: Matrix): Matrix | undefined {
  return Number.isFinite(m.a + m.b + m.c + m.d + m.e + m.f) ? m : undefined;
}
