/** Which edge a number belongs to, and what is a name instead. */
import { describe, expect, it } from 'vitest';
import type { Pattern } from '../../src/model';
import { codes, readSketch } from './sketch';

const label = (x: number, y: number, text: string, turn = 0, size = 3) =>
  `<text transform="translate(${x} ${y}) rotate(${turn})" y="${0.35 * size}" style="font-size:${size}px">${text}</text>`;
/** Two squares of 40 mm side by side. */
const pair =
  '<path d="M20 20H60V60H20Z"/><path d="M80 20H120V60H80Z"/><path class="f" d="M20 40H60"/><path class="f" d="M80 40H120"/>';

/** Middle of the edge that each text is bound to, y down. */
const bound = (p: Pattern) =>
  Object.fromEntries(
    p.labels.map((l) => {
      const e = p.pieces.flatMap((q) => [...q.outline, ...q.holes.flat()]).find((x) => x.id === l.edge)!;
      const [a, b] = [e.points[0]!, e.points[e.points.length - 1]!];
      return [`${l.text}@${Math.round((a.x + b.x) / 2)},${Math.round(-(a.y + b.y) / 2)}`, true];
    }),
  );

describe('numbers at edges', () => {
  it('inside, outside, or across the line', () => {
    for (const off of [2.5, -2.5, 0]) {
      const p = readSketch(
        pair +
          label(58 + (2 - off), 30, '1', 90).replace('58', '58') +
          label(80 + off, 30, '1', -90) +
          label(40, 20 + off, '2') +
          label(100, 20 + off, '2') +
          label(40, 60 - off, '3') +
          label(100, 60 - off, '3'),
      );
      expect(Object.keys(bound(p)).sort()).toEqual([
        '1@60,30',
        '1@80,30',
        '2@100,20',
        '2@40,20',
        '3@100,60',
        '3@40,60',
      ]);
      expect(codes(p)).toEqual([]);
    }
  });

  it('level text beside upright edges', () => {
    const p = readSketch(
      pair + label(56.5, 30, '1') + label(83.5, 30, '1') + label(40, 23, '2') + label(100, 23, '2'),
    );
    expect(Object.keys(bound(p)).sort()).toEqual(['1@60,30', '1@80,30', '2@100,20', '2@40,20']);
  });

  it('crowded texts each find their own edge', () => {
    // A comb of short edges, numbers larger than the edges are long and shifted the same way.
    const xs = [0, 1, 2, 3, 4, 5];
    const comb = `<path d="M20 20${xs.map((i) => `L${26 + 6 * i} ${i % 2 ? 20 : 17}`).join('')}L56 60L20 60Z"/>`;
    const other = comb
      .replace('M20 20', 'M20 120')
      .replaceAll(/L(\d+) (17|20)/g, (_, x, y) => `L${x} ${Number(y) + 100}`)
      .replace('L56 60L20 60', 'L56 160L20 160');
    const at = (dy: number) =>
      xs.map((i) => label(23.8 + 6 * i, 21.6 + dy, `${i + 1}`, i % 2 ? 26 : -26, 3)).join('');
    const p = readSketch(comb + other + at(0) + at(100));
    expect(p.labels).toHaveLength(12);
    expect(Object.keys(bound(p)).sort()).toEqual(
      [0, 100].flatMap((dy) => xs.map((i) => `${i + 1}@${23 + 6 * i},${Math.round(-(-(18.5 + dy)))}`)).sort(),
    );
  });

  it('far from every edge they are reported', () => {
    const p = readSketch(
      pair + label(40, 23, '1') + label(100, 23, '1') + label(180, 150, '2') + label(200, 150, '2'),
    );
    expect(p.labels.map((l) => l.text)).toEqual(['1', '1']);
    expect(p.issues.find((i) => i.code === 'numbers-unbound')!.message).toContain('2 numbers');
  });

  it('carry their place and the text they come from', () => {
    const p = readSketch(pair + label(40, 23, '7') + label(100, 23, '7'));
    for (const l of p.labels) {
      expect(l.size).toBeCloseTo(3, 6);
      expect(l.at.y).toBeCloseTo(-23, 0);
      expect(l.source).not.toBe('');
    }
  });
});

describe('names', () => {
  it('are the texts in the middle, larger than the numbers', () => {
    const p = readSketch(
      pair +
        label(40, 23, '1') +
        label(100, 23, '1') +
        label(40, 48, 'L1', 0, 6) +
        label(100, 48, 'R1', 0, 6),
    );
    expect(p.pieces.map((q) => q.name)).toEqual(['L1', 'R1']);
    expect(p.labels).toHaveLength(2);
  });

  it('a lone code on each piece is a name, not a number', () => {
    const p = readSketch(pair + label(40, 23, 'A') + label(100, 23, 'B'));
    expect(p.labels).toEqual([]);
    expect(p.pieces.map((q) => q.name)).toEqual(['A', 'B']);
  });

  it('letters in reading order where nothing is printed; a note on every piece is no name', () => {
    const many = [0, 1, 2].flatMap((row) =>
      [0, 1, 2].map(
        (col) =>
          `<path d="M${20 + 90 * col} ${20 + 60 * row + 5 * col}h40v40h-40z"/>${label(40 + 90 * col, 40 + 60 * row, 'cut 2')}`,
      ),
    );
    const p = readSketch(`${many.join('')}<path class="f" d="M40 20V60"/>`);
    expect(p.pieces.map((q) => q.name)).toEqual(['A', 'B', 'C', 'D', 'E', 'F', 'G', 'H', 'I']);
    expect(p.pieces[1]!.outline[0]!.points[0]!.x).toBe(110);
  });

  it('equal names are told apart', () => {
    const p = readSketch(pair + label(40, 50, 'Cheek', 0, 5) + label(100, 50, 'Cheek', 0, 5));
    expect(p.pieces.map((q) => q.name)).toEqual(['Cheek', 'Cheek 2']);
  });
});
