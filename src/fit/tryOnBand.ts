/**
 * The try-on band: paper strips that prove the size before any foam is cut. A strip round the inside of the finished
 * shell at the brow, and one over its crown, each in as many parts as the paper asks for. Made as marked panels, so that
 * the pages print them as they print templates. Flat, mm, y up; text reads from outside the head.
 */
import { fail, type Issue, type Outcome, succeed } from '../base';
import type { Lettering, LetterShapes, MarkedPanel, MarkedPanels, MarkLine, Shell, ShellFit } from '../model';
import { formatLength, type Mm } from '../units';
import { type BandWays, bandWays } from './bandWay';
import { fitIssue } from './shellIssues';

/** Strips are this tall; the brow line runs along their middle. */
export const bandHeight: Mm = 40;
/** Each part ends in a tab of this length that the next one covers. */
export const bandTab: Mm = 20;
/** Parts shorter than this are not worth their tape: the last one would be all tab. */
const shortestPart: Mm = 60;
const tick = { every: 10, long: 50, short: 3, tall: 6 } as const;
const letters = { name: 4, word: 3, number: 2.4 } as const;
/** A place this near an end lies on it: rounding of the cut. */
const onEnd: Mm = 1e-6;
/** Heights of title, figure and advice above the brow line. */
const wordLines = [8, 3, -4] as const;
/** Words stay so far from a part's ends. */
const wordRim: Mm = 2;

/** One strip, before it is cut into parts. */
interface Strip {
  readonly id: 'brow' | 'crown';
  readonly name: string;
  readonly length: Mm;
  /** Lines across the whole strip, with the word beside them. */
  readonly places: readonly { readonly at: Mm; readonly word: string }[];
  /** Ruler ticks count from here, both ways. */
  readonly zero: Mm;
  readonly words: readonly string[];
  /** A tab before the start as well: a strip that is taped to another at both ends. */
  readonly tabFirst: boolean;
  /** What the last tab goes under. */
  readonly last: string;
}

/**
 * @param longest length that a part may have on the paper in use, its tabs included
 * @param unit in which lengths are written
 * @returns one marked panel for each part; an error when there is nothing to measure or the paper is too small
 */
export function tryOnBand(
  shell: Shell,
  fit: ShellFit,
  longest: Mm,
  unit: 'mm' | 'in',
  font: LetterShapes,
): Outcome<MarkedPanels> {
  if (longest < shortestPart + 2 * bandTab)
    return fail(
      bandIssue(
        'band-paper-too-small',
        `Paper with room for ${formatLength(longest, unit)} is too small for the try-on band.`,
        'Choose larger paper or smaller margins.',
      ),
    );
  const ways = bandWays(shell, fit);
  if (!ways)
    return fail(
      bandIssue(
        'band-no-round',
        'The brow of the finished shell is no round that a band could follow.',
        'Set the brow where the shell runs all the way round.',
      ),
    );
  const issues: Issue[] = ways.crown
    ? []
    : [
        fitIssue(
          'band-no-crown',
          'note',
          'The shell is open above the brow, so the try-on band has no strip over the crown.',
          '',
        ),
      ];
  const panels = stripsOf(ways, unit).flatMap((strip) => partsOf(strip, longest, font));
  return succeed({ panels, issues }, issues);
}

const bandIssue = (code: string, message: string, remedy: string): Issue =>
  fitIssue(code, 'error', message, remedy);

const costume = 'Costume, not protective equipment.';

function stripsOf({ brow, crown }: BandWays, unit: 'mm' | 'in'): Strip[] {
  const strips: Strip[] = [
    {
      id: 'brow',
      name: 'Brow strip',
      length: brow.length,
      places: [
        { at: 0, word: 'back' },
        { at: brow.right, word: 'right' },
        { at: brow.front, word: 'front' },
        { at: brow.left, word: 'left' },
      ],
      zero: brow.front,
      words: [
        `inside girth ${formatLength(brow.length, unit)}, taped to a ring at the back`,
        `Wear it with the padding in place. ${costume}`,
      ],
      tabFirst: false,
      last: 'start of part 1, at the back',
    },
  ];
  if (crown)
    strips.push({
      id: 'crown',
      name: 'Crown strip',
      length: crown.length,
      places: [
        { at: 0, word: 'front brow' },
        { at: crown.crown, word: 'crown' },
        { at: crown.length, word: 'back brow' },
      ],
      zero: crown.crown,
      words: [
        `${formatLength(crown.length, unit)} from brow to brow, ends on the brow line of the brow strip`,
        `${crown.along === 'dome' ? 'Measured over the dome, without the hollow above it. ' : ''}${costume}`,
      ],
      tabFirst: true,
      last: 'brow strip, at the back',
    });
  return strips;
}

/** A strip cut into equal parts; each has its tab at the right, the next part covers it up to the line. */
function partsOf(strip: Strip, longest: Mm, font: LetterShapes): MarkedPanel[] {
  const tabs = strip.tabFirst ? 2 * bandTab : bandTab;
  const count = Math.max(1, Math.ceil(strip.length / (longest - tabs)));
  const step = strip.length / count;
  return Array.from({ length: count }, (_, k) => {
    const from = k * step;
    const to = k === count - 1 ? strip.length : (k + 1) * step;
    const first = k === 0 && strip.tabFirst ? bandTab : 0;
    return part(strip, { k, count, from, to, first }, font);
  });
}

interface Cut {
  readonly k: number;
  readonly count: number;
  readonly from: Mm;
  readonly to: Mm;
  /** Tab before the start. */
  readonly first: Mm;
}

function part(strip: Strip, { k, count, from, to, first }: Cut, font: LetterShapes): MarkedPanel {
  const id = `band-${strip.id}-${k + 1}`;
  const half = bandHeight / 2;
  const width = to - from;
  const rect = [
    { x: -first, y: -half },
    { x: width + bandTab, y: -half },
    { x: width + bandTab, y: half },
    { x: -first, y: half },
  ];
  const lines: MarkLine[] = [{ kind: 'cut', points: rect, closed: true, of: id }];
  const line = (kind: MarkLine['kind'], x1: Mm, y1: Mm, x2: Mm, y2: Mm) =>
    lines.push({
      kind,
      points: [
        { x: x1, y: y1 },
        { x: x2, y: y2 },
      ],
      closed: false,
      of: id,
    });
  const lettering: Lettering[] = [];
  /** Text standing with its middle at a height, kept on the part. */
  const write = (text: string, x: Mm, y: Mm, height: Mm, use: Lettering['use'], angle = 0) =>
    lettering.push(font.letter(text, { x, y }, height, angle, use, id));

  line('leader', 0, 0, width, 0);
  line('leader', width, -half, width, half);
  const under = k === count - 1 ? strip.last : `part ${k + 2}`;
  const tabWords = under.split(', ');
  tabWords.forEach((word, i) => {
    const x = width + bandTab * ((i + 1) / (tabWords.length + 1));
    const text = i === 0 ? `under ${word}` : word;
    write(text, x, 0, fitted(font, text, bandHeight - 4, 2.6), 'detail', Math.PI / 2);
  });
  if (first > 0) {
    line('leader', 0, -half, 0, half);
    write('under brow strip', -first / 3, 0, 2.6, 'detail', Math.PI / 2);
    write('at the front', (-2 * first) / 3, 0, 2.6, 'detail', Math.PI / 2);
  }

  const here = strip.places
    .map((place) => ({ ...place, x: place.at - from }))
    .filter(({ x }) => x >= -onEnd && x <= width + onEnd);
  for (const { x, word } of here) {
    line('notch', x, -half, x, half);
    const wide = font.widthOf(word, letters.name);
    // Beside the line, on the side where there is room.
    const right = x + 1.5 + wide <= width - wordRim;
    write(word, right ? x + 1.5 + wide / 2 : x - 1.5 - wide / 2, half - 4, letters.name, 'name');
  }
  const firstTick = Math.ceil((from - strip.zero) / tick.every);
  const lastTick = Math.floor((to - strip.zero) / tick.every);
  for (let n = firstTick; n <= lastTick; n++) {
    const x = strip.zero + n * tick.every - from;
    const long = (n * tick.every) % tick.long === 0;
    line('notch', x, -half, x, -half + (long ? tick.tall : tick.short));
    const text = String(Math.abs(n * tick.every));
    const wide = font.widthOf(text, letters.number);
    const clear = here.every((place) => Math.abs(place.x - x) > wide);
    if (long && clear && x > wide && x < width - wide)
      write(text, x, -half + tick.tall + 2.2, letters.number, 'detail');
  }
  // Title and figure above the brow line, the advice below it, over the numbers of the ruler; all in the widest free
  // stretch between the lines across.
  const title = count > 1 ? `${strip.name}, part ${k + 1} of ${count}` : strip.name;
  const stops = [0, ...here.map(({ x }) => x), width].sort((p, q) => p - q);
  let free = { from: 0, to: 0 };
  for (let i = 1; i < stops.length; i++)
    if (stops[i]! - stops[i - 1]! > free.to - free.from + onEnd)
      free = { from: stops[i - 1]!, to: stops[i]! };
  [title, ...strip.words].forEach((text, i) => {
    const height = fitted(
      font,
      text,
      free.to - free.from - 2 * wordRim,
      i === 0 ? letters.word : letters.number,
    );
    write(text, (free.from + free.to) / 2, wordLines[i]!, height, i === 0 ? 'name' : 'detail');
  });
  return {
    panel: {
      id,
      name: title,
      pieces: [],
      quantity: 1,
      mirrored: false,
      thickness: 0,
      loops: [],
      folds: [],
      outlines: { inside: [rect], traced: [rect], outside: [rect] },
    },
    lines,
    lettering,
    notches: [],
  };
}

/** The height at which a text fits a length, no taller than asked. */
const fitted = (font: LetterShapes, text: string, room: Mm, height: Mm): Mm =>
  Math.min(height, (height * room) / Math.max(1e-9, font.widthOf(text, height)));
