/** The colours of the shell view, from the page's custom properties. */
import { GirthwiseError } from '../../src/base';
import { parseColour, type Rgba } from '../canvas/paint/theme';
import { tintCount } from './model';

export type Rgb = readonly [number, number, number];

export interface ShellTheme {
  readonly tints: readonly Rgb[];
  /** The inside of the shell. */
  readonly inside: Rgb;
  readonly ink: Rgb;
  readonly soft: Rgb;
  readonly accent: Rgb;
  readonly accentSoft: Rgb;
  readonly look: Rgb;
  readonly head: Rgb;
}

/** How far a tint stands from the grey of pieces: enough to tell neighbours apart, quiet enough for lines on it. */
const tintStrength = 0.085;

/** Colour i of a ring of hues round the given one, equally light to the eye (Rec. 709 luma, from memory). */
function tintOf([r, g, b]: Rgb, i: number): Rgb {
  const angle = (2 * Math.PI * i) / tintCount;
  // Two directions of the colour cube across the axis of greys.
  const u = [0.816, -0.408, -0.408];
  const v = [0, Math.SQRT1_2, -Math.SQRT1_2];
  const shift = [0, 1, 2].map((k) => tintStrength * (Math.cos(angle) * u[k]! + Math.sin(angle) * v[k]!));
  const luma = 0.2126 * shift[0]! + 0.7152 * shift[1]! + 0.0722 * shift[2]!;
  const put = (value: number, k: number) => Math.min(1, Math.max(0, value + shift[k]! - luma));
  return [put(r, 0), put(g, 1), put(b, 2)];
}

/** @throws GirthwiseError when the style sheet lacks a colour. */
export function shellTheme(read: (name: string) => string): ShellTheme {
  const colour = (name: string): Rgb => {
    const found: Rgba | null = parseColour(read(name));
    if (!found) throw new GirthwiseError('theme-variable', `${name} is not a colour: “${read(name)}”`);
    return [found[0], found[1], found[2]];
  };
  const piece = colour('--piece');
  return {
    tints: Array.from({ length: tintCount }, (_, i) => tintOf(piece, i)),
    inside: colour('--hairline'),
    ink: colour('--ink'),
    soft: colour('--ink-soft'),
    accent: colour('--accent'),
    accentSoft: colour('--accent-soft'),
    look: colour('--look-mark'),
    head: colour('--control'),
  };
}
