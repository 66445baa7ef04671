/// <reference path="./opentypeModule.d.ts" />
/**
 * Lettering as filled outlines from a font file (.woff, .ttf or .otf). Each letter is looked up by itself: whole-text
 * shaping of the font reader fails on some fonts, and panel numbers need no ligatures. Letters are flattened once and
 * kept; the unit inside is the em, y up, baseline at 0.
 */
import { parse } from 'opentype.js/dist/opentype.mjs';
import { GirthwiseError } from '../base';
import type { Point } from '../math';
import type { Lettering, LetterShapes } from '../model';
import type { Mm } from '../units';
import { flattenGlyph } from './flattenGlyph';
import { glyphFlatness, smallLetter } from './tolerance';

/** A font, ready to letter with. */
export interface LetteringFont extends LetterShapes {
  /** Letters of the text that the font has no shape for, each once; they print as an empty box. */
  missing(text: string): string[];
}

interface Letter {
  readonly known: boolean;
  /** em */
  readonly advance: number;
  /** em, y up */
  readonly rings: readonly (readonly Point[])[];
}

/**
 * Reads a font.
 * @throws GirthwiseError `font-unreadable` when the bytes are no font that can be read.
 */
export function loadLettering(font: ArrayBuffer): LetteringFont {
  const parsed = parseFont(font);
  const letters = new Map<string, Letter>();
  const em = parsed.unitsPerEm;
  /** Height of digits and capitals, em: "0" overshoots the line, "1" and "H" stand on it. */
  const capital = parsed.charToGlyph('H').getBoundingBox().y2 / em;
  if (!(capital > 0)) throw new GirthwiseError('font-unreadable', 'The font has no capital H to measure by.');

  const letterOf = (character: string, height: Mm): Letter => {
    const flatness = height > smallLetter ? glyphFlatness.tall : glyphFlatness.small;
    const key = `${character}${flatness}`;
    const known = letters.get(key);
    if (known) return known;
    const glyph = parsed.charToGlyph(character);
    const letter: Letter = {
      known: glyph.index !== 0,
      advance: (glyph.advanceWidth ?? 0) / em,
      rings: flattenGlyph(glyph.getPath(0, 0, em).commands, em, flatness),
    };
    letters.set(key, letter);
    return letter;
  };
  const lettersOf = (text: string, height: Mm) => Array.from(text, (c) => letterOf(c, height));
  const advanceOf = (run: readonly Letter[]) => run.reduce((sum, l) => sum + l.advance, 0);

  return {
    widthOf: (text, height) => (advanceOf(lettersOf(text, height)) * height) / capital,
    missing: (text) => [...new Set(Array.from(text))].filter((c) => !letterOf(c, smallLetter).known),
    letter: (text, at, height, angle, use, of): Lettering => {
      const run = lettersOf(text, height);
      const size: Mm = height / capital;
      const c = Math.cos(angle) * size;
      const s = Math.sin(angle) * size;
      let pen = -advanceOf(run) / 2;
      const rings: Point[][] = [];
      for (const letter of run) {
        for (const ring of letter.rings) {
          rings.push(
            ring.map((p) => {
              const x = p.x + pen;
              const y = p.y - capital / 2;
              return { x: at.x + x * c - y * s, y: at.y + x * s + y * c };
            }),
          );
        }
        pen += letter.advance;
      }
      return { text, use, rings, at, angle, height, of };
    },
  };
}

function parseFont(font: ArrayBuffer) {
  try {
    return parse(font);
  } catch (cause) {
    const why = cause instanceof Error ? cause.message : String(cause);
    throw new GirthwiseError('font-unreadable', `The font for lettering cannot be read: ${why}`);
  }
}
