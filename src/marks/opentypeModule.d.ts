/**
 * The part of the font reader that is used here. Its own type package describes an older version and pulls in the
 * browser's types, which the core does without.
 */
declare module 'opentype.js/dist/opentype.mjs' {
  export interface PathCommand {
    readonly type: 'M' | 'L' | 'Q' | 'C' | 'Z';
    readonly x?: number;
    readonly y?: number;
    readonly x1?: number;
    readonly y1?: number;
    readonly x2?: number;
    readonly y2?: number;
  }
  export interface Glyph {
    readonly index: number;
    readonly advanceWidth?: number;
    /** y runs down; `size` units per em. */
    getPath(x: number, y: number, size: number): { readonly commands: readonly PathCommand[] };
    getBoundingBox(): { readonly y2: number };
  }
  export interface Font {
    readonly unitsPerEm: number;
    charToGlyph(letter: string): Glyph;
  }
  export function parse(data: ArrayBuffer): Font;
}
