import svgpath from 'svgpath';
import { describe, expect, it } from 'vitest';
import { flattenLine, lineLength } from '../../src/drawing';
import type { Segment } from '../../src/model';
import { codes, corners, issueOf, lineById, read } from './support';

const path = (d: string) => read(`<path id="p" d="${d}"/>`);
const cornersOf = (d: string): string[] => path(d).lines.map(corners);

describe('path data', () => {
  it('reads every command in both cases', () => {
    expect(cornersOf('M1 2L3 4H5V6l1 1h-2v-3')).toEqual(['1,2 3,4 5,4 5,6 6,7 4,7 4,4']);
    expect(cornersOf('m1 2 3 4 5 6')).toEqual(['1,2 4,6 9,12']);
    expect(cornersOf('M1 2 3 4 m5 5 1 0')).toEqual(['1,2 3,4', '8,9 9,9']);
    expect(cornersOf('M10 10h10v10zl-5 0')).toEqual(['10,10 20,10 20,20 10,10', '10,10 5,10']);
  });

  it('closes with a stretch back to the start, unless the end is there already', () => {
    const open = path('M0 0 H10 V10 Z').lines[0]!;
    expect(open.closed).toBe(true);
    expect(corners(open)).toBe('0,0 10,0 10,10 0,0');
    expect(corners(path('M0 0 H10 V10 H0 V0 Z').lines[0]!)).toBe('0,0 10,0 10,10 0,10 0,0');
    // Rounding of relative commands leaves no stretch of its own.
    const steps = Array.from({ length: 10 }, () => 'l.1 0').join('');
    const ring = path(`M0 0${steps}l0 1l-1 0l0-1z`).lines[0]!;
    expect(ring.segments).toHaveLength(13);
    expect(ring.segments.at(-1)!.to).toEqual(ring.start);
  });

  it('keeps cubics and raises quadratics to cubics without change', () => {
    const [cubic] = path('M0 0C10 0 20 10 30 30').lines[0]!.segments as [Segment];
    expect(cubic).toEqual({
      kind: 'cubic',
      c1: { x: 10, y: 0 },
      c2: { x: 20, y: -10 },
      to: { x: 30, y: -30 },
    });
    const [quadratic] = path('M0 0Q15 30 30 0').lines[0]!.segments as [Segment];
    if (quadratic.kind !== 'cubic') throw new Error();
    // The middle of a quadratic: a quarter of both ends and half of the control point.
    const at = (a: number, b: number, c: number, d: number) => (a + 3 * b + 3 * c + d) / 8;
    expect(at(0, quadratic.c1.x, quadratic.c2.x, 30)).toBeCloseTo(15, 12);
    expect(at(0, quadratic.c1.y, quadratic.c2.y, 0)).toBeCloseTo(-15, 12);
  });

  it.each([
    'M10-5.5.5.25L20 10',
    'm30 20a5 5 0 1110 0a5 5 0 01-10 0',
    'M1e1 4E1 L2.5e+1 4.0e1 L300e-1 5e1',
    'M10 60c10-10 20-10 30 0s20 10 30 0 20-10 30 0',
    'M10 80q15-20 30 0t30 0 30 0t30 5T200 90',
    'M0 0 1 1 2 0zm5 5h1v1zM9 9',
    'M10 85T20 85T30 90S40 80 50 85C1 2 3 4 5 6S7 8 9 10',
    'M90 110A15 8 30 1 1 110 120A5 5 0 0 0 120 110L130 110',
    'M.5.5-.5-.5+1+1',
  ])('agrees with another reader of path data: %s', (d) => {
    const ours = path(d).lines.flatMap((l) => flattenLine(l, 0.0001));
    // The other reader makes arcs of quarter turns, good to 3e-4 of the radius; its points must lie on our lines.
    const theirs: { x: number; y: number }[] = [];
    svgpath(d)
      .abs()
      .unshort()
      .iterate((s, _, x, y) => {
        if (s[0] === 'M' || s[0] === 'L') theirs.push({ x: s[1], y: s[2] });
        else if (s[0] === 'H') theirs.push({ x: s[1], y });
        else if (s[0] === 'V') theirs.push({ x, y: s[1] });
        else if (s[0] === 'C') theirs.push({ x: s[5], y: s[6] });
        else if (s[0] === 'Q') theirs.push({ x: s[3], y: s[4] });
        else if (s[0] === 'A') theirs.push({ x: s[6], y: s[7] });
      });
    expect(theirs.length).toBeGreaterThan(2);
    const lone = d.endsWith('M9 9') ? theirs.length - 1 : theirs.length;
    for (const p of theirs.slice(0, lone)) {
      const nearest = Math.min(...ours.map((q) => Math.hypot(p.x - q.x, p.y + q.y)));
      expect(nearest).toBeLessThan(1e-9);
    }
  });

  it('accepts numbers with leading zeros and with a point at the end', () => {
    expect(cornersOf('M007 00.50L1. 2.')).toEqual(['7,0.5 1,2']);
  });

  it('reads digits exactly as the language does', () => {
    for (const written of [
      '0.1',
      '123456.789012',
      '0.30000000000000004',
      '1234567890123456789',
      '.000123',
      '-7.25',
    ]) {
      expect(path(`M${written} 0H1`).lines[0]!.start.x).toBeCloseTo(Number(written), 12);
      expect(Object.is(path(`M${written} 0H1`).lines[0]!.start.x, Number(written))).toBe(true);
    }
  });
});

describe('path data with errors', () => {
  it.each([
    ['M10 10 L20 20 L30 oops', 18, '10,10 20,20'],
    ['M40 10 L50 20 60', 16, '40,10 50,20'],
    ['M10 40 L20 40 A5 5 0 2 1 30 40', 21, '10,40 20,40'],
    ['M40 40 L50 40 L60,,40', 18, '40,40 50,40'],
    ['M70 40 L80 40 C90 30 100', 24, '70,40 80,40'],
    ['M90 10 L100 20 R110 10 120 20', 15, '90,10 100,20'],
    ['M1 1 L2 2,', 10, '1,1 2,2'],
    ['M1 1 L2 2 1e999 3', 10, '1,1 2,2'],
  ])('%s keeps what comes before', (d, at, kept) => {
    const drawing = path(d);
    expect(drawing.lines.map(corners)).toEqual([kept]);
    const issue = issueOf(drawing, 'path-data-bad');
    expect(issue.message).toContain(`from character ${at + 1} on`);
    expect(issue.message).toContain('“p”');
    expect(issue.place.source).toMatchObject({ line: 1 });
  });

  it('draws nothing of data without a move', () => {
    const drawing = path('L10 10 20 20');
    expect(drawing.lines).toEqual([]);
    expect(codes(drawing)).toContain('path-data-bad');
  });

  it('is quiet about empty data, lone moves and the word none', () => {
    const drawing = read(
      '<path d=""/><path/><path d="M1 1"/><path d="none"/><path d="M1 1 z"/><path id="p" d="M0 0h1"/>',
    );
    expect(drawing.lines).toHaveLength(1);
    expect(codes(drawing)).toEqual([]);
  });

  it('keeps the good points of a polygon', () => {
    const drawing = read('<polygon id="a" points="1,1 9,1 9,9 x,5"/><polyline id="b" points="1 1 2 2 3"/>');
    expect(corners(lineById(drawing, 'a'))).toBe('1,1 9,1 9,9 1,1');
    expect(corners(lineById(drawing, 'b'))).toBe('1,1 2,2');
    expect(codes(drawing)).toEqual(['points-bad', 'points-bad']);
  });

  it('tells twenty of them and counts the rest', () => {
    const drawing = read('<path d="M0 0h1x"/>'.repeat(30));
    expect(codes(drawing)).toHaveLength(21);
    expect(drawing.issues.at(-1)!.message).toContain('10 more');
    expect(drawing.lines).toHaveLength(30);
  });
});

describe('arcs', () => {
  /** Distance of a line's points from the ellipse with these half axes about a centre, in the ellipse's own axes. */
  const radialError = (line: Parameters<typeof flattenLine>[0], cx: number, cy: number, r: number): number =>
    Math.max(...flattenLine(line, 1e-5).map((p) => Math.abs(Math.hypot(p.x - cx, p.y + cy) - r)));

  it.each([1, 10, 50, 100])('circles of radius %s mm stay within 0.0005 mm, and cubics are few', (r) => {
    const drawing = read(`<circle id="c" cx="100" cy="50" r="${r}"/>`);
    const line = lineById(drawing, 'c');
    expect(radialError(line, 100, 50, r)).toBeLessThan(0.0005);
    expect(line.segments.length).toBeLessThanOrEqual(r < 2 ? 4 : 12);
    expect(Math.abs(lineLength(line) - 2 * Math.PI * r)).toBeLessThan(2 * Math.PI * 0.0005);
  });

  it('hold the same bound when a transform enlarges them', () => {
    const drawing = read('<circle id="c" r="1" transform="translate(100 50) scale(400)"/>');
    expect(radialError(lineById(drawing, 'c'), 100, 50, 400)).toBeLessThan(0.0005);
  });

  it('take the side and size that the flags say', () => {
    const bulge = (flags: string) => {
      const line = path(`M0 0A10 10 0 ${flags} 10 0`).lines[0]!;
      const ys = flattenLine(line, 0.001).map((p) => -p.y);
      return { top: Math.min(...ys), bottom: Math.max(...ys) };
    };
    const h = 10 - Math.sqrt(75);
    expect(bulge('0 1').top).toBeCloseTo(-h, 2);
    expect(bulge('0 0').bottom).toBeCloseTo(h, 2);
    expect(bulge('1 1').top).toBeCloseTo(-(20 - h), 2);
    expect(bulge('1 0').bottom).toBeCloseTo(20 - h, 2);
  });

  it('grow when they are too small, and become lines without a radius', () => {
    const grown = path('M0 50A1 1 0 0 1 20 50').lines[0]!;
    expect(Math.abs(lineLength(grown) - 10 * Math.PI)).toBeLessThan(Math.PI * 0.0005);
    expect(cornersOf('M0 0A0 5 0 0 1 10 10')).toEqual(['0,0 10,10']);
    expect(cornersOf('M0 0A5 5 0 0 1 0 0H3')).toEqual(['0,0 3,0']);
    expect(corners(path('M0 0A1e-200 1e200 0 0 1 5 0').lines[0]!)).toMatch(/ 5,0$/);
  });
});
