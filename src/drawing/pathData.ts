/**
 * Path data (`d`) and point lists -> outlines, by a scanner of our own: it keeps the good part before an error, says
 * at which character it stopped, accepts every number that the grammar allows (leading zeros too) and no command
 * beyond it.
 * Source: SVG 2, chapter 9.3 (the grammar of section 9.3.9; errors: section 9.5.4) and 10.6 for point lists.
 */
import { endpointArc } from './arcs';
import { NumberScanner } from './numberScanner';
import { OutlinePen, type Subpath } from './outline';

/** `badAt`: index of the character at which the data stop making sense; −1 when all of it does. */
export interface OutlineText {
  readonly subpaths: readonly Subpath[];
  readonly badAt: number;
}

/** Numbers that each command takes. */
const numbersOf: Readonly<Record<string, number>> = {
  M: 2,
  L: 2,
  H: 1,
  V: 1,
  C: 6,
  S: 4,
  Q: 4,
  T: 2,
  A: 7,
  Z: 0,
};

/**
 * Reads path data.
 * @param arcTolerance how far cubics may lie from arcs, in user units
 */
export function readPathData(d: string, arcTolerance: number): OutlineText {
  const pen = new OutlinePen();
  const scan = new NumberScanner(d);
  const v = [0, 0, 0, 0, 0, 0, 0];
  /** Control point that a smooth command reflects, and the kind of curve it belongs to. */
  let smooth: 'C' | 'Q' | '' = '';
  let smoothX = 0;
  let smoothY = 0;
  let first = true;
  scan.skipSpaces();
  while (scan.at < d.length) {
    const commandAt = scan.at;
    const letter = d[commandAt]!;
    const command = letter.toUpperCase();
    const count = numbersOf[command];
    if (count === undefined || (first && command !== 'M') || letter > 'z') {
      return { subpaths: pen.subpaths, badAt: commandAt };
    }
    const relative = letter !== command;
    scan.at++;
    scan.skipSpaces();
    if (count === 0) {
      pen.close();
      smooth = '';
      continue;
    }
    let again = true;
    for (let round = 0; again; round++) {
      for (let i = 0; i < count; i++) {
        if (i > 0) scan.skipComma();
        const value = command === 'A' && (i === 3 || i === 4) ? scan.flag() : scan.number();
        if (Number.isNaN(value)) return { subpaths: pen.subpaths, badAt: scan.at };
        v[i] = value;
      }
      const ox = relative ? pen.x : 0;
      const oy = relative ? pen.y : 0;
      const a = v[0]!;
      const b = v[1]!;
      let next: 'C' | 'Q' | '' = '';
      switch (command) {
        case 'M':
          // Pairs after the first are lines (SVG 2, section 9.3.3).
          if (round === 0) pen.moveTo(a + ox, b + oy);
          else pen.lineTo(a + ox, b + oy);
          break;
        case 'L':
          pen.lineTo(a + ox, b + oy);
          break;
        case 'H':
          pen.lineTo(a + ox, pen.y);
          break;
        case 'V':
          pen.lineTo(pen.x, a + oy);
          break;
        case 'C':
          smoothX = v[2]! + ox;
          smoothY = v[3]! + oy;
          pen.cubicTo(a + ox, b + oy, smoothX, smoothY, v[4]! + ox, v[5]! + oy);
          next = 'C';
          break;
        case 'S': {
          const x1 = smooth === 'C' ? 2 * pen.x - smoothX : pen.x;
          const y1 = smooth === 'C' ? 2 * pen.y - smoothY : pen.y;
          smoothX = a + ox;
          smoothY = b + oy;
          pen.cubicTo(x1, y1, smoothX, smoothY, v[2]! + ox, v[3]! + oy);
          next = 'C';
          break;
        }
        case 'Q':
          smoothX = a + ox;
          smoothY = b + oy;
          pen.quadraticTo(smoothX, smoothY, v[2]! + ox, v[3]! + oy);
          next = 'Q';
          break;
        case 'T':
          smoothX = smooth === 'Q' ? 2 * pen.x - smoothX : pen.x;
          smoothY = smooth === 'Q' ? 2 * pen.y - smoothY : pen.y;
          pen.quadraticTo(smoothX, smoothY, a + ox, b + oy);
          next = 'Q';
          break;
        case 'A':
          endpointArc(pen, a, b, v[2]!, v[3] === 1, v[4] === 1, v[5]! + ox, v[6]! + oy, arcTolerance);
          break;
      }
      smooth = next;
      first = false;
      const comma = scan.skipComma();
      again = comma || scan.startsNumber;
    }
  }
  return { subpaths: pen.subpaths, badAt: -1 };
}

/** Reads the `points` of a polyline or polygon; an odd number at the end is an error and is dropped. */
export function readPoints(text: string, closed: boolean): OutlineText {
  const pen = new OutlinePen();
  const scan = new NumberScanner(text);
  let first = true;
  let badAt = -1;
  scan.skipSpaces();
  while (scan.at < text.length) {
    const x = scan.number();
    if (Number.isNaN(x)) {
      badAt = scan.at;
      break;
    }
    scan.skipComma();
    const y = scan.number();
    if (Number.isNaN(y)) {
      badAt = scan.at;
      break;
    }
    if (first) pen.moveTo(x, y);
    else pen.lineTo(x, y);
    first = false;
    const comma = scan.skipComma();
    if (comma && scan.at >= text.length) badAt = scan.at;
  }
  if (closed && pen.subpaths.length > 0) pen.close();
  return { subpaths: pen.subpaths, badAt };
}
