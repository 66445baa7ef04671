/** What the check page is drawn with: lines, words, rulers, squares. Page space, mm. */
import type { Point } from '../math';
import type { Lettering, LetterShapes, LineKind, PageStroke } from '../model';
import { type Mm, mmPerUnit } from '../units';

const figureHeight: Mm = 1.9;

/** Gathers strokes and lettering of one page. */
export class CheckInk {
  readonly strokes: PageStroke[] = [];
  readonly lettering: Lettering[] = [];

  constructor(private readonly font: LetterShapes) {}

  line(from: Point, to: Point, kind: LineKind = 'leader'): void {
    this.strokes.push({ kind, points: [from, to], closed: false });
  }

  ring(points: readonly Point[], kind: LineKind): void {
    this.strokes.push({ kind, points, closed: true });
  }

  add(strokes: readonly PageStroke[]): void {
    this.strokes.push(...strokes);
  }

  /** Words that start at a place on their baseline. */
  words(text: string, start: Point, height: Mm = figureHeight): void {
    const at = { x: start.x + this.font.widthOf(text, height) / 2, y: start.y + height / 2 };
    this.lettering.push(this.font.letter(text, at, height, 0, 'detail', ''));
  }

  /** A figure with its middle at a place. */
  figure(text: string, at: Point, turned = 0, height: Mm = figureHeight): void {
    this.lettering.push(this.font.letter(text, at, height, turned, 'detail', ''));
  }

  /**
   * A line with millimetres on one side and sixteenths of an inch on the other. `across` goes right from its start and
   * lies below it, `up` goes up and lies right of it; the millimetres are outside.
   */
  ruler(start: Point, length: Mm, way: 'across' | 'up', label: string): void {
    /** A point so far along the ruler and so far to its inner side. */
    const at = (along: Mm, inward: Mm): Point =>
      way === 'across'
        ? { x: start.x + along, y: start.y - rulerMiddle - inward }
        : { x: start.x + rulerMiddle + inward, y: start.y + along };
    const turned = way === 'across' ? 0 : Math.PI / 2;
    this.line(at(0, 0), at(length, 0), 'notch');
    for (let mm = 0; mm <= length + 1e-9; mm++)
      this.line(at(mm, 0), at(mm, mm % 10 === 0 ? -3.2 : mm % 5 === 0 ? -2.4 : -1.5));
    for (let mm = 10; mm < length - 4; mm += 10) this.figure(String(mm), at(mm, -4.6), turned);
    const sixteenth = mmPerUnit.in / 16;
    for (let n = 0; n * sixteenth <= length + 1e-9; n++)
      this.line(at(n * sixteenth, 0), at(n * sixteenth, n % 16 === 0 ? 3.2 : n % 4 === 0 ? 2.4 : 1.5));
    for (let inch = 1; inch * mmPerUnit.in < length - 4; inch++)
      this.figure(String(inch), at(inch * mmPerUnit.in, 4.6), turned);
    for (const end of [0, length]) this.line(at(end, -endTick), at(end, endTick), 'notch');
    const middle = Math.min(length / 2, length - 20) + mmPerUnit.in / 2;
    this.figure(label, at(middle, 7.6), turned, 2.3);
  }

  /** A square with its lower-left corner at a place, and its diagonals where asked. */
  square({ x, y }: Point, side: Mm, label: string, diagonals: boolean): void {
    const corners = [
      { x, y },
      { x: x + side, y },
      { x: x + side, y: y + side },
      { x, y: y + side },
    ];
    this.ring(corners, 'notch');
    if (diagonals) {
      this.line(corners[0]!, corners[2]!);
      this.line(corners[1]!, corners[3]!);
    }
    this.words(label, { x: x + (diagonals ? 8 : 2), y: y + side - 2 - figureHeight });
  }
}

/** From the side of a ruler's band to its line: the figures and ticks of the millimetres. */
const rulerMiddle: Mm = 6;
const endTick: Mm = 5;
