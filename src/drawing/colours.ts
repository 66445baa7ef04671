/**
 * Colours of CSS Color 4, sections 4 to 7, as `#rrggbb` and an alpha: names, #rgb(a), #rrggbb(aa), rgb(), hsl(),
 * hwb(). Wider colour spaces are not read.
 */
import { colourNames } from './colourNames';

export interface Colour {
  /** `#rrggbb`, lower case. */
  readonly hex: string;
  /** 0 clear to 1 opaque. */
  readonly alpha: number;
}

export const black: Colour = { hex: '#000000', alpha: 1 };

/** `unsupported`: a colour of CSS that is not read here; `invalid`: no colour at all. */
export function readColour(text: string): Colour | 'currentcolor' | 'unsupported' | 'invalid' {
  const value = text.trim().toLowerCase();
  const named = colourNames.get(value);
  if (named) return { hex: `#${named}`, alpha: 1 };
  if (value === 'currentcolor') return 'currentcolor';
  if (value === 'transparent') return { hex: '#000000', alpha: 0 };
  if (value.startsWith('#')) return readHex(value.slice(1));
  const call = /^([a-z-]+)\(([^()]*)\)$/.exec(value);
  if (call) {
    const [, name, inside] = call as unknown as [string, string, string];
    if (name === 'rgb' || name === 'rgba') return readParts(inside, rgb);
    if (name === 'hsl' || name === 'hsla') return readParts(inside, hsl);
    if (name === 'hwb') return inside.includes(',') ? 'invalid' : readParts(inside, hwb);
  }
  return /^(?:lab|lch|oklab|oklch|color|color-mix|light-dark|rgba?|hsla?|hwb)\(.*\)$/s.test(value)
    ? 'unsupported'
    : 'invalid';
}

function readHex(digits: string): Colour | 'invalid' {
  if (!/^(?:[0-9a-f]{3,4}|[0-9a-f]{6}|[0-9a-f]{8})$/.test(digits)) return 'invalid';
  const full = digits.length < 6 ? [...digits].map((d) => d + d).join('') : digits;
  const alpha = full.length === 8 ? Number.parseInt(full.slice(6), 16) / 255 : 1;
  return { hex: `#${full.slice(0, 6)}`, alpha };
}

interface Part {
  readonly value: number;
  readonly unit: string;
}

type Model = (a: Part, b: Part, c: Part) => readonly [number, number, number] | undefined;

/** The inside of a colour function: three parts and an optional alpha, with commas or with spaces and a slash. */
function readParts(inside: string, model: Model): Colour | 'invalid' {
  const commas = inside.includes(',');
  const [main, slashed, extra] = inside.split('/');
  if (extra !== undefined || (commas && slashed !== undefined)) return 'invalid';
  const words = main!.trim().split(commas ? /\s*,\s*/ : /\s+/);
  if (slashed !== undefined) {
    if (words.length !== 3) return 'invalid';
    words.push(slashed.trim());
  }
  if (words.length < 3 || words.length > 4 || (words.length === 4 && !commas && slashed === undefined)) {
    return 'invalid';
  }
  const parts = words.map(readPart);
  if (parts.some((p) => p === undefined)) return 'invalid';
  const [a, b, c, alpha] = parts as [Part, Part, Part, Part?];
  const mixed = model(a, b, c);
  if (!mixed) return 'invalid';
  const opacity = alpha === undefined ? 1 : alpha.unit === '%' ? alpha.value / 100 : alpha.value;
  return { hex: `#${mixed.map(toHex).join('')}`, alpha: clamp(opacity, 1) };
}

function readPart(word: string): Part | undefined {
  if (word === 'none') return { value: 0, unit: '' };
  const match = /^([+-]?(?:\d+\.?\d*|\.\d+)(?:e[+-]?\d+)?)(%|deg|rad|grad|turn)?$/.exec(word);
  return match ? { value: Number(match[1]), unit: match[2] ?? '' } : undefined;
}

const rgb: Model = (...parts) => {
  if (parts.some((p) => p.unit !== '' && p.unit !== '%')) return undefined;
  return parts.map((p) => (p.unit === '%' ? (p.value / 100) * 255 : p.value)) as [number, number, number];
};

const turnsIn: Readonly<Record<string, number>> = {
  '': 360,
  deg: 360,
  rad: 2 * Math.PI,
  grad: 400,
  turn: 1,
};

/** Hue in turns, 0 to 1. */
function hueOf({ value, unit }: Part): number | undefined {
  const whole = turnsIn[unit];
  if (whole === undefined) return undefined;
  const turns = value / whole;
  return turns - Math.floor(turns);
}

const hsl: Model = (h, s, l) => {
  const hue = hueOf(h);
  if (hue === undefined || [s, l].some((p) => p.unit !== '%' && p.unit !== '')) return undefined;
  const saturation = clamp(s.value / 100, 1);
  const light = clamp(l.value / 100, 1);
  return [0, 8, 4].map((n) => 255 * hslChannel(n, hue, saturation, light)) as [number, number, number];
};

/** CSS Color 4, section 7.1. */
function hslChannel(n: number, hue: number, saturation: number, light: number): number {
  const k = (n + hue * 12) % 12;
  return light - saturation * Math.min(light, 1 - light) * Math.max(-1, Math.min(k - 3, 9 - k, 1));
}

/** CSS Color 4, section 8.1. */
const hwb: Model = (h, w, b) => {
  const hue = hueOf(h);
  if (hue === undefined || [w, b].some((p) => p.unit !== '%' && p.unit !== '')) return undefined;
  const white = clamp(w.value / 100, 1);
  const dark = clamp(b.value / 100, 1);
  if (white + dark >= 1) {
    const grey = (255 * white) / (white + dark);
    return [grey, grey, grey];
  }
  const mix = (n: number): number => 255 * (hslChannel(n, hue, 1, 0.5) * (1 - white - dark) + white);
  return [mix(0), mix(8), mix(4)];
};

const clamp = (v: number, most: number): number => Math.min(most, Math.max(0, v));
const toHex = (v: number): string => Math.round(clamp(v, 255)).toString(16).padStart(2, '0');
