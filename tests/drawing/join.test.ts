import { describe, expect, it } from 'vitest';
import { type DrawingOptions, joinDrawings } from '../../src/drawing';
import { codes, corners, page, readFile } from './support';

const file = (
  n: number,
  content: string,
  size: Parameters<typeof readFile>[1] = { file: n, size: { kind: 'ask' } },
) => readFile(page(content), { ...size, file: n });
const px = (n: number, content: string, size: DrawingOptions['size'] = { kind: 'ask' }) =>
  readFile(`<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 96 48" stroke="black">${content}</svg>`, {
    file: n,
    size,
  });

describe('joining drawings', () => {
  it('places pages side by side, 20 mm apart, top edges in line', () => {
    const joined = joinDrawings([
      file(0, '<path d="M1 2h3"/><text fill="black" x="1" y="2">a</text>'),
      file(1, '<path d="M5 6c1 1 2 2 3 3"/><text fill="black" x="7" y="8">b</text>'),
      px(2, '<path d="M0 0h96" stroke-width="2"/>', { kind: 'perInch', value: 96 }),
    ]);
    expect(joined.lines.map((l) => l.id)).toEqual(['0:1:0', '1:1:0', '2:1:0']);
    expect(joined.lines.map(corners)).toEqual(['1,2 4,2', '225,6 228,9', '440,0 465.4,0']);
    expect(joined.texts.map((t) => [t.at.x, t.at.y])).toEqual([
      [1, -2],
      [227, -8],
    ]);
    expect(joined.size.width).toBeCloseTo(200 + 20 + 200 + 20 + 25.4, 9);
    expect(joined.size.height).toBe(100);
    expect(joined.size.from).toEqual({ kind: 'perInch', value: 96 });
    expect(joined.lines[2]!.style.strokeWidth).toBeCloseTo((2 * 25.4) / 96, 9);
  });

  it('makes room for what sticks out of a page', () => {
    const joined = joinDrawings([file(0, '<path d="M0 0h250"/>'), file(1, '<path d="M-30 0h5"/>')]);
    expect(joined.lines.map(corners)).toEqual(['0,0 250,0', '270,0 275,0']);
    expect(joined.size.width).toBeCloseTo(270 + 30 + 200, 9);
  });

  it('is the drawing itself for one, and misuse for none', () => {
    const one = file(0, '<path d="M0 0h1"/>');
    expect(joinDrawings([one])).toBe(one);
    expect(() => joinDrawings([])).toThrow(/at least one/);
  });

  it('leaves the size open while one part is open', () => {
    const joined = joinDrawings([file(0, '<path d="M0 0h1"/>'), px(1, '<path d="M0 0h1"/>')]);
    expect(joined.size.from).toEqual({ kind: 'none' });
    expect(codes(joined)).toEqual(['size-unknown']);
  });

  it('gives the scale of a known length to the files without a size, and says so', () => {
    const known = { kind: 'knownLength', line: '0:1:0', length: 50.8 } as const;
    const joined = joinDrawings([
      px(0, '<path d="M0 0h96"/>', known),
      px(
        1,
        '<path d="M0 0h96" stroke-width="3" stroke-dasharray="2"/><text fill="red" font-size="9">1</text>',
        known,
      ),
      file(2, '<path d="M0 0h96"/>', { file: 2, size: known }),
    ]);
    expect(joined.lines.map(corners)).toEqual(['0,0 50.8,0', '70.8,0 121.6,0', '141.6,0 237.6,0']);
    expect(joined.lines[1]!.style.strokeWidth).toBeCloseTo((3 * 50.8) / 96, 9);
    expect(joined.lines[1]!.style.dash[0]).toBeCloseTo((2 * 50.8) / 96, 9);
    expect(joined.texts[0]!.size).toBeCloseTo((9 * 50.8) / 96, 9);
    expect(joined.size.from.kind).toBe('knownLength');
    expect(codes(joined)).toEqual(['size-shared']);
  });
});
