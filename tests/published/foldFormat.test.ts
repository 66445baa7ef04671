/**
 * Reading against the examples and rules that the FOLD format publishes. Source: FOLD specification, version 1.2
 * (file doc/spec.md of the format's own repository) and its folder of examples, MIT licence; `cubeNet` and `diagonal`
 * are the geometry of its cube-cp.fold and diagonal-cp.fold, names of people left out.
 */
import { describe, expect, it } from 'vitest';
import { readDrawing } from '../../src/drawing';
import { type Drawing, defaultDecisions, type ReadingDecisions } from '../../src/model';
import { readPattern } from '../../src/reading';

const cubeNet = {
  file_spec: 1,
  frame_title: '3D Cube',
  frame_classes: ['foldedForm'],
  frame_attributes: ['3D'],
  vertices_coords: [
    [0, 0, 0],
    [1, 0, 0],
    [1, 1, 0],
    [0, 1, 0],
    [0, 2, 0],
    [1, 2, 0],
    [-1, 1, 0],
    [-1, 0, 0],
    [0, -1, 0],
    [0, -2, 0],
    [1, -2, 0],
    [1, -1, 0],
    [2, 0, 0],
    [2, 1, 0],
  ],
  faces_vertices: [
    [0, 1, 2, 3],
    [3, 2, 5, 4],
    [1, 12, 13, 2],
    [8, 11, 1, 0],
    [9, 10, 11, 8],
    [7, 0, 3, 6],
  ],
  edges_vertices: [
    [0, 1],
    [1, 2],
    [2, 3],
    [3, 0],
    [3, 4],
    [4, 5],
    [5, 2],
    [2, 13],
    [13, 12],
    [12, 1],
    [0, 7],
    [7, 6],
    [6, 3],
    [0, 8],
    [1, 11],
    [8, 11],
    [8, 9],
    [9, 10],
    [10, 11],
  ],
  edges_assignment: [...'VVVVBBBBBBBBBBBVBBB'],
  edges_foldAngle: [90, 90, 90, 90, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 90, 0, 0, 0],
};

const diagonal = {
  file_spec: 1.1,
  file_classes: ['singleModel'],
  frame_classes: ['creasePattern'],
  vertices_coords: [
    [0, 0],
    [1, 0],
    [1, 1],
    [0, 1],
  ],
  edges_vertices: [
    [0, 1],
    [1, 2],
    [2, 3],
    [3, 0],
    [3, 1],
  ],
  edges_assignment: ['B', 'B', 'B', 'B', 'V'],
  'cpedit:page': { xMin: 0, yMin: 0, xMax: 1, yMax: 1 },
  faces_vertices: [
    [0, 1, 3],
    [1, 2, 3],
  ],
};

type Size = ReadingDecisions['size'];
const ask = { kind: 'ask' } as const;

function drawn(file: object, size: Size = ask): Drawing {
  const outcome = readDrawing({ name: 'x.fold', svg: JSON.stringify(file) }, { file: 0, size });
  if (!outcome.ok) throw new Error(outcome.issues.map((i) => i.message).join(' '));
  return outcome.value;
}
const patternOf = (file: object, size: Size = ask) =>
  readPattern(drawn(file, size), defaultDecisions.reading);

describe('the published examples', () => {
  it('cube net: one piece of six squares, five valleys of 90°', () => {
    const pattern = patternOf({ ...cubeNet, frame_unit: 'cm' });
    expect(pattern.pieces).toHaveLength(1);
    const { faces, folds, outline } = pattern.pieces[0]!;
    expect(faces).toHaveLength(6);
    expect(outline).toHaveLength(14);
    expect(folds.map((f) => f.role)).toEqual(Array(5).fill('valley'));
    // "The fold angle is positive for valley folds": here a valley is concave, so negative.
    for (const f of folds) expect(f.givenBend).toBeCloseTo(-Math.PI / 2, 12);
  });

  it('diagonal: two triangles and a valley without an angle; the size is asked for', () => {
    const drawing = drawn(diagonal);
    expect(drawing.size.from.kind).toBe('none');
    expect(drawing.issues.map((i) => i.code)).toEqual(['size-unknown']);
    const answered = patternOf(diagonal, { kind: 'knownLength', line: '0:1:0', length: 120 });
    expect(answered.size.from.kind).toBe('knownLength');
    const { faces, folds, outline } = answered.pieces[0]!;
    expect([faces.length, outline.length]).toEqual([2, 4]);
    expect(folds.map((f) => [f.role, f.givenBend])).toEqual([['valley', undefined]]);
    expect(Math.hypot(folds[0]!.points[0]!.x - folds[0]!.points[1]!.x, 120)).toBeCloseTo(120 * Math.SQRT2, 9);
  });
});

describe('the rules of the specification', () => {
  const square = {
    ...diagonal,
    frame_unit: 'mm',
    vertices_coords: [
      [0, 0],
      [90, 0],
      [90, 90],
      [0, 90],
    ],
  };

  it.each([
    // "in": inches (25.4 mm); "pt": points (1/72 in); "m", "cm", "mm", "um", "nm".
    ['in', 25.4],
    ['pt', 25.4 / 72],
    ['m', 1000],
    ['cm', 10],
    ['mm', 1],
    ['um', 0.001],
    ['nm', 0.000001],
  ])('frame_unit %s is %d mm', (frame_unit, mm) => {
    const { lines, size } = drawn({ ...square, frame_unit });
    expect(size.from.kind).toBe('physical');
    const [a] = lines;
    expect((a!.segments[0]!.to.x - a!.start.x) / mm).toBeCloseTo(90, 9);
  });

  it.each(['unit', 'furlong', undefined])('frame_unit %s has no length, so the size is asked for', (unit) => {
    const { frame_unit: _, ...rest } = square;
    const { size, issues } = drawn(unit === undefined ? rest : { ...rest, frame_unit: unit });
    expect(size.from.kind).toBe('none');
    expect(issues.map((i) => i.code)).toEqual(['size-unknown']);
  });

  const role = (letter: string, foldAngle?: number) => {
    const angles = foldAngle === undefined ? {} : { edges_foldAngle: [0, 0, 0, 0, foldAngle] };
    const pattern = patternOf({ ...square, edges_assignment: ['B', 'B', 'B', 'B', letter], ...angles });
    return {
      pieces: pattern.pieces.length,
      fold: pattern.pieces[0]!.folds.map((f) => [f.role, f.givenBend === undefined ? null : f.givenBend])[0],
    };
  };

  it('edges_assignment: mountain, valley, flat and unassigned creases are folds', () => {
    expect(role('M')).toEqual({ pieces: 1, fold: ['mountain', null] });
    expect(role('V')).toEqual({ pieces: 1, fold: ['valley', null] });
    expect(role('F')).toEqual({ pieces: 1, fold: ['unknown', 0] });
    expect(role('U')).toEqual({ pieces: 1, fold: ['unknown', null] });
  });

  it('edges_assignment: a cut parts two pieces, a join none', () => {
    expect(role('C')).toEqual({ pieces: 2, fold: undefined });
    expect(role('J')).toEqual({ pieces: 1, fold: undefined });
  });

  it('edges_foldAngle: negative for mountains, positive for valleys, within ±180°', () => {
    expect(role('M', -60)).toEqual({ pieces: 1, fold: ['mountain', Math.PI / 3] });
    expect(role('V', 45)).toEqual({ pieces: 1, fold: ['valley', -Math.PI / 4] });
    // An angle that contradicts the letter, or lies outside the range, is not used.
    expect(role('M', 60)).toEqual({ pieces: 1, fold: ['mountain', null] });
    expect(role('V', 200)).toEqual({ pieces: 1, fold: ['valley', null] });
    expect(role('U', -30)).toEqual({ pieces: 1, fold: ['mountain', Math.PI / 6] });
  });

  it('faces are counter-clockwise: a figure with clockwise ones is turned over', () => {
    const turned = square.faces_vertices.map((f) => [...f].reverse());
    const drawing = drawn({ ...square, faces_vertices: turned });
    expect(drawing.issues.map((i) => i.code)).toEqual(['fold-turned-over']);
    // From (0, 90) to (90, 0) as written falls to the right; turned over it rises.
    const fold = drawing.lines[4]!;
    const to = fold.segments[0]!.to;
    expect([to.x - fold.start.x, to.y - fold.start.y]).toEqual([90, 90]);
  });

  it('frames: the flat crease pattern is found, and a child inherits what it does not state', () => {
    const folded = {
      frame_classes: ['foldedForm'],
      vertices_coords: [
        [0, 0, 0],
        [9, 0, 0],
        [9, 9, 5],
        [0, 9, 1],
      ],
    };
    const { vertices_coords, frame_classes, ...structure } = square;
    const inFrame = drawn({
      ...structure,
      ...folded,
      file_frames: [{ frame_parent: 0, frame_inherit: true, frame_classes, vertices_coords }],
    });
    expect(inFrame.lines).toHaveLength(5);
    expect(inFrame.lines[0]!.id).toBe('0:1.0:0');
    expect(inFrame.lines.map((l) => l.style.assigned)).toEqual([...Array(4).fill('outline'), 'valley']);
  });

  it('frames that inherit from each other come to an end', () => {
    const looped = { frame_parent: 2, frame_inherit: true };
    const file = { ...square, file_frames: [looped, { ...looped, frame_parent: 1 }] };
    expect(drawn(file).lines).toHaveLength(5);
  });

  it('multiModel: several crease patterns stand side by side', () => {
    const both = drawn({ ...square, file_classes: ['multiModel'], file_frames: [{ ...square }] });
    expect(both.lines).toHaveLength(10);
    expect(readPattern(both, defaultDecisions.reading).pieces).toHaveLength(2);
    const steps = drawn({ ...square, file_classes: ['diagrams'], file_frames: [{ ...square }] });
    expect(steps.lines).toHaveLength(5);
    expect(steps.issues.map((i) => i.code)).toEqual(['fold-frames-left']);
  });

  it('edges may be left out: they follow from the faces', () => {
    const { edges_vertices: _, edges_assignment: __, ...faces } = square;
    const pattern = readPattern(drawn(faces), defaultDecisions.reading);
    expect(pattern.pieces.map((p) => [p.faces.length, p.outline.length, p.folds.length])).toEqual([
      [2, 4, 1],
    ]);
  });

  it('assignments may be left out: a side of one face is a border', () => {
    const { edges_assignment: _, ...plain } = square;
    const pattern = readPattern(drawn(plain), defaultDecisions.reading);
    expect(pattern.pieces[0]!.folds.map((f) => f.role)).toEqual(['unknown']);
  });
});
