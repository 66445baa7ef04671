/**
 * Single-line lettering for plotters and engravers: capitals, digits and signs as a pen draws them, one stroke after
 * the other. Our own shapes on a grid of 4 × 6; small letters are drawn as capitals, accents stand above.
 */
import { type Point, rotate } from '../math';
import type { Lettering } from '../model';

/** Strokes of a letter, apart by "/"; a point is two digits, x 0–4 and y 0–8, baseline 0, capital height 6. */
const shapes: Readonly<Record<string, string>> = {
  ' ': '',
  A: '00 04 26 44 40/02 42',
  B: '00 06 36 45 44 33 03/33 42 41 30 00',
  C: '45 36 16 05 01 10 30 41',
  D: '00 06 26 44 42 20 00',
  E: '46 06 00 40/03 33',
  F: '46 06 00/03 33',
  G: '45 36 16 05 01 10 30 41 43 23',
  H: '00 06/40 46/03 43',
  I: '10 30/20 26/16 36',
  J: '46 41 30 10 01',
  K: '00 06/46 02/13 40',
  L: '06 00 40',
  M: '00 06 23 46 40',
  N: '00 06 40 46',
  O: '10 01 05 16 36 45 41 30 10',
  P: '00 06 36 45 44 33 03',
  Q: '10 01 05 16 36 45 41 30 10/22 40',
  R: '00 06 36 45 44 33 03/23 40',
  S: '45 36 16 05 04 13 33 42 41 30 10 01',
  T: '20 26/06 46',
  U: '06 01 10 30 41 46',
  V: '06 20 46',
  W: '06 10 23 30 46',
  X: '00 46/06 40',
  Y: '06 23 46/23 20',
  Z: '06 46 00 40',
  Æ: '46 26 00/23 43/02 12/26 20 40',
  Ø: '10 01 05 16 36 45 41 30 10/00 46',
  Ł: '06 00 40/02 24',
  // A slash tells zero from O.
  0: '10 01 05 16 36 45 41 30 10/12 34',
  1: '14 26 20/10 30',
  2: '05 16 36 45 44 00 40',
  3: '05 16 36 45 44 33 42 41 30 10 01/13 33',
  4: '30 36 02 42',
  5: '46 06 03 33 42 41 30 10 01',
  6: '45 36 16 05 01 10 30 41 42 33 13 02',
  7: '06 46 20',
  8: '13 04 05 16 36 45 44 33 42 41 30 10 01 02 13 33',
  9: '01 10 30 41 45 36 16 05 04 13 33 44',
  '.': '20 21',
  ',': '21 10',
  ':': '21 22/24 25',
  ';': '22 10/24 25',
  '-': '13 33',
  '–': '03 43',
  '−': '03 43',
  '+': '03 43/21 25',
  '×': '11 35/15 31',
  '=': '02 42/04 44',
  '/': '00 46',
  '(': '36 25 21 30',
  ')': '16 25 21 10',
  '%': '00 46/06 16 15 05 06/31 41 40 30 31',
  '·': '23 24',
  '•': '23 24',
  '°': '14 15 26 35 34 23 14',
  "'": '26 24',
  '’': '26 24',
  '"': '16 14/36 34',
  '#': '10 16/30 36/02 42/04 44',
  '&': '40 04 05 16 25 24 02 01 10 20 42',
  '*': '21 25/02 44/04 42',
  '!': '26 22/20 21',
  '?': '05 16 36 45 44 23 22/20 21',
  _: '00 40',
};

/** Combining accents, above the letter. */
const accents: Readonly<Record<string, string>> = {
  '\u0300': '18 27',
  '\u0301': '27 38',
  '\u0302': '17 28 37',
  '\u0303': '07 18 37 48',
  '\u0304': '17 37',
  '\u0308': '17 18/37 38',
  '\u030a': '17 18 38 37 17',
  '\u030c': '18 27 38',
};

const letterWidth = 4;
const advance = 6;
const capital = 6;

type Stroke = readonly Point[];

const strokesOf = (shape: string): Stroke[] =>
  shape === ''
    ? []
    : shape
        .split('/')
        .map((stroke) => stroke.split(' ').map((pair) => ({ x: Number(pair[0]), y: Number(pair[1]) })));

/** Strokes of the text on the grid, from x = 0; null when the alphabet lacks a letter of it. */
function lineOf(text: string): { strokes: Stroke[]; width: number } | null {
  const strokes: Stroke[] = [];
  let pen = -advance;
  for (const character of text.replaceAll('ß', 'ss').toUpperCase().normalize('NFD')) {
    const accent = accents[character];
    if (accent === undefined) pen += advance;
    const shape = accent ?? shapes[character];
    if (shape === undefined) return null;
    for (const stroke of strokesOf(shape)) strokes.push(stroke.map((p) => ({ x: p.x + pen, y: p.y })));
  }
  return { strokes, width: Math.max(0, pen) + letterWidth };
}

/**
 * A placed lettering as open strokes, in the same place, no wider than its outlines are.
 * @returns null when the alphabet lacks one of its letters: then its outlines have to do.
 */
export function strokeLettering(lettering: Lettering): Stroke[] | null {
  const { text, at, angle, height, rings, use } = lettering;
  const back = (p: Point): Point => rotate({ x: p.x - at.x, y: p.y - at.y }, -angle);
  const forth = (p: Point): Point => {
    const turned = rotate(p, angle);
    return { x: at.x + turned.x, y: at.y + turned.y };
  };
  if (use === 'up') {
    const half = 0.48 * height;
    const wing = 0.2 * height;
    const neck = half - 0.36 * height;
    const arrow: Stroke[] = [
      [
        { x: 0, y: -half },
        { x: 0, y: half },
      ],
      [
        { x: -wing, y: neck },
        { x: 0, y: half },
        { x: wing, y: neck },
      ],
    ];
    return arrow.map((stroke) => stroke.map(forth));
  }
  const line = lineOf(text);
  if (!line) return null;
  const local = rings.map((ring) => ring.map(back));
  const reach = local.flat().reduce((most, p) => Math.max(most, Math.abs(p.x)), 0);
  const scale = height / capital;
  const squeeze = reach > 0 ? Math.min(1, (2 * reach) / (line.width * scale)) : 1;
  const strokes = line.strokes.map((stroke) =>
    stroke.map((p) => forth({ x: (p.x - line.width / 2) * scale * squeeze, y: p.y * scale - height / 2 })),
  );
  // The bar under a number that reads as another one upside down: a ring wholly below the line.
  for (const ring of local) {
    if (use !== 'seamNumber' || ring.some((p) => p.y > -0.55 * height)) continue;
    const xs = ring.map((p) => p.x);
    const y = ring.reduce((sum, p) => sum + p.y, 0) / ring.length;
    strokes.push([forth({ x: Math.min(...xs), y }), forth({ x: Math.max(...xs), y })]);
  }
  return strokes;
}
