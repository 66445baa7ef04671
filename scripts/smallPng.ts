/**
 * Makes a screenshot small: at most 256 colours by median cut, one byte a pixel, packed as tightly as zlib can. Screens
 * of flat colours and soft letter rims look the same; shaded pictures lose steps that the eye does not see.
 */
import { deflateSync } from 'node:zlib';

/** Red, green, blue of a pixel as one number. */
type Colour = number;

const channel = (colour: Colour, c: number) => (colour >> (16 - 8 * c)) & 255;

/** @param rgba four bytes a pixel, row by row; opacity is left out. */
export function smallPng(width: number, height: number, rgba: Uint8Array): Buffer {
  const counts = new Map<Colour, number>();
  const colours = new Uint32Array(width * height);
  for (let i = 0; i < colours.length; i++) {
    const colour = (rgba[4 * i]! << 16) | (rgba[4 * i + 1]! << 8) | rgba[4 * i + 2]!;
    colours[i] = colour;
    counts.set(colour, (counts.get(colour) ?? 0) + 1);
  }
  const boxes = medianCut([...counts.keys()], counts, 256);
  const palette = boxes.map((box) => meanOf(box, counts));
  const indexOf = new Map(boxes.flatMap((box, i) => box.map((colour) => [colour, i] as const)));
  const rows = Buffer.alloc((width + 1) * height);
  for (let y = 0; y < height; y++)
    for (let x = 0; x < width; x++) rows[y * (width + 1) + 1 + x] = indexOf.get(colours[y * width + x]!)!;
  const head = Buffer.alloc(13);
  head.writeUInt32BE(width, 0);
  head.writeUInt32BE(height, 4);
  // Eight bits a pixel, by palette, no interlacing.
  head.set([8, 3, 0, 0, 0], 8);
  return Buffer.concat([
    Buffer.from([137, 80, 78, 71, 13, 10, 26, 10]),
    chunk('IHDR', head),
    chunk('PLTE', Buffer.from(palette.flatMap((colour) => [0, 1, 2].map((c) => channel(colour, c))))),
    chunk('IDAT', deflateSync(rows, { level: 9, memLevel: 9 })),
    chunk('IEND', Buffer.alloc(0)),
  ]);
}

/** Splits the box with the widest spread of well-used colours until there are enough boxes. */
function medianCut(all: Colour[], counts: ReadonlyMap<Colour, number>, most: number): Colour[][] {
  const measured = (box: Colour[]) => {
    const spans = [0, 1, 2].map((c) => {
      const values = box.map((colour) => channel(colour, c));
      return values.reduce((a, b) => Math.max(a, b), 0) - values.reduce((a, b) => Math.min(a, b), 255);
    });
    const span = Math.max(...spans);
    const weight = box.reduce((sum, colour) => sum + counts.get(colour)!, 0);
    return { box, along: spans.indexOf(span), worth: span * Math.sqrt(weight) };
  };
  const boxes = [measured(all)];
  while (boxes.length < most) {
    boxes.sort((a, b) => b.worth - a.worth);
    const widest = boxes[0]!;
    if (widest.worth === 0) break;
    const sorted = widest.box.sort((a, b) => channel(a, widest.along) - channel(b, widest.along));
    const whole = sorted.reduce((sum, colour) => sum + counts.get(colour)!, 0);
    let at = 0;
    let passed = 0;
    do passed += counts.get(sorted[at++]!)!;
    while (at < sorted.length - 1 && 2 * passed < whole);
    boxes.splice(0, 1, measured(sorted.slice(0, at)), measured(sorted.slice(at)));
  }
  return boxes.map(({ box }) => box);
}

/** The mean of a box by use, so that a common colour stays itself. */
function meanOf(box: readonly Colour[], counts: ReadonlyMap<Colour, number>): Colour {
  const sums = [0, 0, 0];
  let weight = 0;
  for (const colour of box) {
    const n = counts.get(colour)!;
    weight += n;
    for (let c = 0; c < 3; c++) sums[c]! += n * channel(colour, c);
  }
  const [r, g, b] = sums.map((sum) => Math.round(sum / weight)) as [number, number, number];
  return (r << 16) | (g << 8) | b;
}

function chunk(name: string, data: Buffer): Buffer {
  const body = Buffer.concat([Buffer.from(name, 'latin1'), data]);
  const out = Buffer.alloc(body.length + 8);
  out.writeUInt32BE(data.length, 0);
  body.copy(out, 4);
  out.writeUInt32BE(crc(body), body.length + 4);
  return out;
}

/** CRC-32 as PNG asks for it (polynomial 0xEDB88320, reflected). */
function crc(data: Buffer): number {
  let sum = 0xffffffff;
  for (const byte of data) {
    sum ^= byte;
    for (let bit = 0; bit < 8; bit++) sum = sum & 1 ? (sum >>> 1) ^ 0xedb88320 : sum >>> 1;
  }
  return ~sum >>> 0;
}
