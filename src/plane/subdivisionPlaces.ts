/**
 * Points at the very same place, found by hashing their coordinates: a clean drawing writes every corner several
 * times with the same digits, so most questions about what lies near an end are answered without a search.
 */
import type { Point } from '../math';

export interface Places {
  /** Place of each point; places are numbered in the order of their first points. */
  readonly of: Int32Array;
  /** First point of each place. */
  readonly first: Int32Array;
  /** The next point at the same place in the order of the points, −1 after the last. */
  readonly after: Int32Array;
}

/** Groups points whose coordinates are equal; −0 counts as 0. */
export function placesOf(points: readonly Point[]): Places {
  const count = points.length;
  const table = new Int32Array(tableSize(count)).fill(-1);
  const mask = table.length - 1;
  const of = new Int32Array(count);
  const after = new Int32Array(count).fill(-1);
  const first = new Int32Array(count);
  const last = new Int32Array(count);
  const number = new Float64Array(2);
  const bits = new Int32Array(number.buffer);
  let places = 0;
  for (let i = 0; i < count; i++) {
    const { x, y } = points[i]!;
    number[0] = x + 0;
    number[1] = y + 0;
    let slot = mixed(bits[0]! ^ Math.imul(bits[1]!, 31), bits[2]! ^ Math.imul(bits[3]!, 31)) & mask;
    for (;;) {
      const place = table[slot]!;
      if (place < 0) {
        table[slot] = places;
        first[places] = i;
        last[places] = i;
        of[i] = places++;
        break;
      }
      const p = points[first[place]!]!;
      if (p.x === x && p.y === y) {
        of[i] = place;
        after[last[place]!] = i;
        last[place] = i;
        break;
      }
      slot = (slot + 1) & mask;
    }
  }
  return { of, first: first.slice(0, places), after };
}

/** A power of two with room to spare for so many entries. */
export function tableSize(count: number): number {
  let size = 16;
  while (size < 2 * count) size *= 2;
  return size;
}

/** One well-mixed number for two. */
export function mixed(a: number, b: number): number {
  let h = Math.imul(a, 0x9e3779b1) ^ Math.imul(b, 0x85ebca6b);
  h = Math.imul(h ^ (h >>> 15), 0x2c1b3c6d);
  return h ^ (h >>> 13);
}
