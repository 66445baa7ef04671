/** Reading order of pieces, and what to call them. */
import { type Box, boxOf, type Point } from '../math';
import type { DrawingText } from '../model';
import { isWording } from './captions';
import { insideRing } from './numbers';

/**
 * Order of boxes as one reads a page: rows from the top, each from left to right. A box belongs to the row when its
 * middle lies below the top and above the bottom of the row's first (highest) box.
 */
export function readingOrder(boxes: readonly Box[]): number[] {
  const left = [...boxes.keys()].sort(
    (a, b) => boxes[b]!.maxY - boxes[a]!.maxY || boxes[a]!.minX - boxes[b]!.minX,
  );
  const order: number[] = [];
  while (left.length > 0) {
    const first = boxes[left[0]!]!;
    const row = left.filter((i) => (boxes[i]!.minY + boxes[i]!.maxY) / 2 >= first.minY || i === left[0]);
    row.sort((a, b) => boxes[a]!.minX - boxes[b]!.minX || boxes[b]!.maxY - boxes[a]!.maxY);
    order.push(...row);
    const taken = new Set(row);
    left.splice(0, left.length, ...left.filter((i) => !taken.has(i)));
  }
  return order;
}

/** A, B … Z, AA, AB … */
export function letterName(index: number): string {
  let n = index;
  let name = '';
  do {
    name = String.fromCharCode(65 + (n % 26)) + name;
    n = Math.floor(n / 26) - 1;
  } while (n >= 0);
  return name;
}

export interface NameSeeker {
  /** Outer ring. */
  readonly ring: readonly Point[];
}

/** Longest text that can be a name. */
const longestName = 28;

/**
 * Names for pieces in the given order: the text printed on each, else the next letter that no printed name uses. Of
 * several texts on a piece the largest wins, then the one with words. Equal names get a number.
 */
export function namePieces(
  pieces: readonly NameSeeker[],
  texts: readonly DrawingText[],
  usable: readonly number[],
): string[] {
  const boxes = pieces.map((p) => boxOf(p.ring));
  const printed = pieces.map((piece, i): string => {
    const b = boxes[i]!;
    const inside = usable
      .map((t) => texts[t]!)
      .filter(
        (t) => t.centre.x >= b.minX && t.centre.x <= b.maxX && t.centre.y >= b.minY && t.centre.y <= b.maxY,
      )
      .filter((t) => isName(t.text) && insideRing(t.centre, piece.ring));
    inside.sort(
      (x, y) =>
        y.size - x.size || Number(isWording(y.text)) - Number(isWording(x.text)) || (x.id < y.id ? -1 : 1),
    );
    return inside[0]?.text.trim().replace(/\s+/g, ' ') ?? '';
  });
  const taken = new Set<string>();
  const counts = new Map<string, number>();
  for (const name of printed) if (name) counts.set(name, (counts.get(name) ?? 0) + 1);
  // One text on many pieces is a note ("cut 2"), not a name.
  const isNote = (name: string) => (counts.get(name) ?? 0) > Math.max(2, pieces.length / 3);
  const names = printed.map((name) => {
    if (!name || isNote(name)) return '';
    let unique = name;
    for (let n = 2; taken.has(unique); n++) unique = `${name} ${n}`;
    taken.add(unique);
    return unique;
  });
  let letter = 0;
  return names.map((name) => {
    if (name) return name;
    while (taken.has(letterName(letter))) letter++;
    taken.add(letterName(letter));
    return letterName(letter);
  });
}

function isName(text: string): boolean {
  const t = text.trim();
  return t.length > 0 && t.length <= longestName && /[\p{L}\p{N}]/u.test(t);
}
