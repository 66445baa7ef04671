/** What the texts of a drawing say beyond numbers: captions of legends, named sizes, titles. */
import type { DrawingText, LineRole } from '../model';
import { senseIn, wordsIn } from './roleWords';

/** Role that a caption such as "valley fold" gives to the sample beside it, or null. */
export function captionRole(text: string): LineRole | null {
  if (text.length > 60) return null;
  const found = senseIn([text]);
  if (!found) return null;
  switch (found.sense) {
    case 'mountain':
    case 'valley':
    case 'fold':
    case 'outline':
      return found.sense;
    case 'hole':
      return 'outline';
    case 'tab':
    case 'notes':
    case 'frame':
    case 'legend':
      return 'notes';
  }
}

/** Words that only titles, legends and notes use. */
const sheetWords = new Set([
  'legend',
  'key',
  'title',
  'scale',
  'page',
  'sheet',
  'date',
  'drawn',
  'unit',
  'units',
  'pattern',
  'version',
  'author',
  'file',
  'print',
  'size',
  'millimetres',
  'millimeters',
  'inches',
  'project',
  'notes',
  'note',
]);

/** True for texts that say something in words: not a number, not a short name. */
export function isWording(text: string): boolean {
  const words = wordsIn(text);
  return words.some((w) => w.length >= 3) && (text.trim().length >= 6 || words.length > 1);
}

export function isSheetWording(text: string): boolean {
  return wordsIn(text).some((w) => sheetWords.has(w)) || captionRole(text) !== null;
}

const perUnit: Readonly<Record<string, number>> = {
  mm: 1,
  millimetre: 1,
  millimetres: 1,
  millimeter: 1,
  millimeters: 1,
  cm: 10,
  centimetre: 10,
  centimetres: 10,
  centimeter: 10,
  centimeters: 10,
  in: 25.4,
  inch: 25.4,
  inches: 25.4,
  '"': 25.4,
  '″': 25.4,
};

/** Lengths that a text names with a unit, mm: "check: 100 mm (4 in)" gives 100 and 101.6. */
export function namedLengths(text: string): number[] {
  const out: number[] = [];
  const pattern =
    /(\d+(?:[.,]\d+)?)\s*(millimet(?:re|er)s?|centimet(?:re|er)s?|inch(?:es)?|mm|cm|in|"|″)(?![a-z])/gi;
  for (const m of text.matchAll(pattern)) {
    const value = Number(m[1]!.replace(',', '.')) * (perUnit[m[2]!.toLowerCase()] ?? 0);
    if (value > 0) out.push(value);
  }
  return out;
}

/** Half the width of a text's ink, from its size and length (letters are a little over half as wide as high). */
export function halfWidth(text: DrawingText): number {
  return 0.28 * text.size * Math.max(1, text.text.trim().length);
}

/** Number or letter code printed at an edge: "7", "12a", "A3", "B-12", "#5". */
export function isEdgeCode(text: string): boolean {
  return (
    /^[#(]?[A-Za-z]{0,2}[-.]?\d{1,4}(?:[-.]\d{1,3})?[A-Za-z]{0,2}['′*]?[)]?$/.test(text.trim()) ||
    /^[A-Za-z]{1,2}['′]?$/.test(text.trim())
  );
}
