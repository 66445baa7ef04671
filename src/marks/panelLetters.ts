import type { Lettering, LetterShapes, MarkLine, Panel } from '../model';
import type { Mm, Rad } from '../units';
import type { Room } from './room';
import type { Spots } from './spots';
import { smallestLetter } from './tolerance';

/** A panel while it is being lettered. */
export interface PanelLetters {
  readonly panel: Panel;
  readonly room: Room;
  readonly spots: Spots;
  readonly font: LetterShapes;
  /** Tallest seam number on this panel. */
  readonly tallest: Mm;
  /** Direction of up on the panel. */
  readonly up: Rad;
}

export interface Lettered {
  readonly lettering: Lettering[];
  readonly leaders: MarkLine[];
  /** Texts that found no place. */
  readonly unplaced: string[];
}

/** Letter heights to try, tallest first, down to the smallest that is legible. */
export function heightsFrom(tallest: Mm): Mm[] {
  const heights: Mm[] = [];
  for (let h = Math.max(tallest, smallestLetter); h > smallestLetter; h *= 0.85) heights.push(h);
  return [...heights, smallestLetter];
}
