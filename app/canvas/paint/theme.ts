/**
 * The bench's colours, read from the page's custom properties once per change of theme. Canvas drawing can't follow
 * CSS by itself; this is the only place that knows the names.
 */
import { GirthwiseError } from '../../../src/base';
import type { Ink } from '../scene/looks';
import type { AreaTone, LabelTone } from '../scene/scene';

/** A colour as red, green, blue and opacity, each 0..1. */
export type Rgba = readonly [number, number, number, number];

/** Custom properties that the bench reads; `app/ui/theme.css` defines them for both themes. */
export const themeVariables = [
  '--bench',
  '--bench-grid',
  '--bench-grid-strong',
  '--ink',
  '--ink-soft',
  '--hairline',
  '--control',
  '--card',
  '--piece',
  '--accent',
  '--accent-soft',
  '--look',
  '--look-mark',
  '--look-soft',
  '--fail-mark',
] as const;

export type ThemeVariable = (typeof themeVariables)[number];

export interface BenchTheme {
  readonly colours: Readonly<Record<ThemeVariable, Rgba>>;
  readonly font: string;
}

/** Reads a colour as style sheets write them: `#rgb`, `#rrggbb`, `rgb(r g b / a)` or `rgb(r, g, b)`. */
export function parseColour(text: string): Rgba | null {
  const hex = /^#([0-9a-f]{3}|[0-9a-f]{6}|[0-9a-f]{8})$/i.exec(text.trim())?.[1];
  if (hex) {
    const full = hex.length === 3 ? [...hex].map((c) => c + c).join('') : hex;
    const part = (i: number) => Number.parseInt(full.slice(2 * i, 2 * i + 2), 16) / 255;
    return [part(0), part(1), part(2), full.length === 8 ? part(3) : 1];
  }
  const inside = /^rgba?\(([^)]+)\)$/i.exec(text.trim())?.[1];
  const numbers = inside?.split(/[\s,/]+/).filter((s) => s !== '') ?? [];
  if (numbers.length < 3 || numbers.length > 4) return null;
  const values = numbers.map((n, i) => {
    const value = Number.parseFloat(n);
    return n.endsWith('%') ? value / 100 : i < 3 ? value / 255 : value;
  });
  const [r, g, b, a = 1] = values;
  return r === undefined || g === undefined || b === undefined || values.some(Number.isNaN)
    ? null
    : [r, g, b, a];
}

/** Colours from a reader of custom properties. Throws when one is missing: a style sheet and this file disagree. */
export function themeFrom(read: (name: string) => string): BenchTheme {
  const colours = Object.fromEntries(
    themeVariables.map((name) => {
      const colour = parseColour(read(name));
      if (!colour) throw new GirthwiseError('theme-variable', `${name} is not a colour: “${read(name)}”`);
      return [name, colour];
    }),
  ) as Record<ThemeVariable, Rgba>;
  return { colours, font: read('--font').trim() || 'sans-serif' };
}

/** `opacity` multiplies the colour's own. */
export function cssColour(colour: Rgba, opacity = 1): string {
  const [r, g, b, a] = colour;
  const byte = (v: number) => Math.round(v * 255);
  return `rgb(${byte(r)} ${byte(g)} ${byte(b)} / ${a * opacity})`;
}

export const inkVariable: Readonly<Record<Ink, ThemeVariable>> = {
  ink: '--ink',
  soft: '--ink-soft',
  faint: '--control',
  accent: '--accent',
  look: '--look-mark',
  fail: '--fail-mark',
};

export const areaVariable: Readonly<Record<AreaTone, ThemeVariable>> = {
  piece: '--piece',
  tab: '--card',
  page: '--card',
  overlap: '--accent-soft',
  lettering: '--ink',
};

export const labelVariable: Readonly<Record<LabelTone, ThemeVariable>> = {
  ink: '--ink',
  soft: '--ink-soft',
  look: '--look',
  accent: '--accent',
};
