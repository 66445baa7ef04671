/** Shapes for stencils from SVG files, read by the project's own reader; parts with outlines in the saved project. */
import * as v from 'valibot';
import { describe, expect, it } from 'vitest';
import { closedShape, readDrawing } from '../../src/drawing';
import { boxOf, ringArea } from '../../src/math';
import { extraPart } from '../../src/project/extraFields';

const read = (body: string) => {
  const svg = `<svg xmlns="http://www.w3.org/2000/svg" width="100mm" height="100mm" viewBox="0 0 100 100">${body}</svg>`;
  const drawing = readDrawing({ name: 'gull.svg', svg }, { file: 0, size: { kind: 'ask' } });
  if (!drawing.ok) throw new Error(drawing.issues[0]?.message);
  return closedShape(drawing.value, 'gull.svg');
};

describe('a shape from a file', () => {
  it('is all closed lines about their middle, at the size of the file', () => {
    const shape = read(
      '<rect x="10" y="20" width="40" height="20"/><circle cx="30" cy="30" r="5"/><path d="M0 0L9 9" fill="none" stroke="black"/>',
    );
    if (!shape.ok) throw new Error('not read');
    expect(shape.value.rings).toHaveLength(2);
    expect(shape.value.open).toBe(1);
    const box = boxOf(shape.value.rings.flat());
    expect([box.minX, box.maxX, box.minY, box.maxY].map((n) => Math.round(n * 1e6) / 1e6)).toEqual([
      -20, 20, -10, 10,
    ]);
    const areas = shape.value.rings.map((r) => Math.abs(ringArea(r))).sort((a, b) => b - a);
    expect(areas[0]).toBeCloseTo(800, 6);
    // A circle of 5 mm within 0.05 mm of its chords.
    expect(Math.abs(areas[1]! - 25 * Math.PI)).toBeLessThan(1.1);
  });

  it('is refused with a code and a way out where nothing is closed, or too much is', () => {
    const open = read('<path d="M0 0L50 50" fill="none" stroke="black"/>');
    expect(open.ok ? null : open.issues[0]!.code).toBe('shape-without-rings');
    expect(open.ok ? '' : open.issues[0]!.remedy).toContain('closed lines');
    const points = Array.from(
      { length: 4001 },
      (_, i) => `${50 + 40 * Math.cos(i / 637)},${50 + 40 * Math.sin(i / 637)}`,
    );
    const fine = read(`<polygon points="${points.join(' ')}"/>`);
    expect(fine.ok ? null : fine.issues[0]!.code).toBe('shape-too-fine');
    expect(readDrawing({ name: 'x.svg', svg: 'not a drawing' }, { file: 0, size: { kind: 'ask' } }).ok).toBe(
      false,
    );
  });
});

describe('a saved part with an outline', () => {
  const at = { face: 'f', x: 0.5, y: 0.5 };
  const shape = {
    kind: 'shape',
    within: 'shell',
    rings: [
      [
        { x: 0, y: 0 },
        { x: 1, y: 0 },
        { x: 0, y: 1 },
      ],
    ],
    at,
    turn: 0,
    width: 80,
  };
  const stencil = {
    id: 'x1',
    name: 'Gull',
    thickness: null,
    kind: 'stencil',
    outline: shape,
    side: 'outside',
    way: 'mask',
    border: 20,
  };
  const layer = {
    id: 'x2',
    name: 'L',
    thickness: null,
    kind: 'layer',
    faces: [],
    side: 'inside',
    margin: 0,
    outline: { kind: 'drawn', within: 'panel', curved: true, points: [at, at, at] },
  };
  const visor = {
    id: 'x3',
    name: 'V',
    thickness: 2,
    kind: 'visor',
    edges: ['e'],
    rim: 'part',
    side: 'outside',
    margin: 8,
    eyes: null,
  };

  it('is read as it was written; a line of two points is not one', () => {
    for (const part of [stencil, layer, visor])
      expect(v.parse(extraPart, JSON.parse(JSON.stringify(part)))).toEqual(part);
    const short = { ...layer, outline: { ...layer.outline, points: [at, at] } };
    expect(v.safeParse(extraPart, short).success).toBe(false);
    expect(v.safeParse(extraPart, { ...stencil, outline: { ...shape, width: 0 } }).success).toBe(false);
  });
});
