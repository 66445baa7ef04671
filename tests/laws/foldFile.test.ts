/** Laws of FOLD files: damage ends in a finding, order and copies do not matter, a pattern survives writing and reading. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { readDrawing } from '../../src/drawing';
import { ringArea } from '../../src/math';
import { type Drawing, defaultDecisions, type Pattern, type Piece, type Seams } from '../../src/model';
import { makeFold } from '../../src/output';
import { readPattern } from '../../src/reading';
import { foldPattern } from '../../src/shell';
import { seamsOfTruth } from '../foam/truthSeams';
import { brokenRules, foldFrames } from '../support/foldRules';
import { drawPattern, openShell, patternFromTruth, shellPattern, solid } from '../support/harbourWatch';

const { truth } = drawPattern(shellPattern(solid('cube'), { maxBend: 3, maxFaces: 2, maxSize: 1000 }), {
  manner: 'clean',
});
const cube = patternFromTruth(truth);
const cubeSeams = seamsOfTruth(truth);
const meta = { title: 'Cube', trustDoubtful: false };
const text = makeFold(cube, cubeSeams, null, meta);

const outcome = (svg: string) => readDrawing({ name: 'law.fold', svg }, { file: 0, size: { kind: 'ask' } });
function drawn(svg: string): Drawing {
  const read = outcome(svg);
  if (!read.ok) throw new Error(read.issues.map((i) => i.message).join());
  return read.value;
}
const read = (svg: string): Pattern => readPattern(drawn(svg), defaultDecisions.reading);

describe('reading', () => {
  it('ends in a drawing or in a finding, whatever the damage', () => {
    const place = fc.integer({ min: 1, max: text.length - 1 });
    const damage = fc.oneof(
      place.map((at) => text.slice(0, at)),
      fc
        .tuple(place, fc.constantFrom('', '[', '}', '"', ',', '-1', '1e999', 'null', 'x', '\\', '\u0000'))
        .map(([at, sign]) => text.slice(0, at) + sign + text.slice(at + 1)),
    );
    let refused = 0;
    fc.assert(
      fc.property(damage, (broken) => {
        const result = outcome(broken);
        if (!result.ok) {
          refused++;
          expect(result.issues[0]!.message).not.toBe('');
          expect(result.issues[0]!.remedy).not.toBe('');
          return;
        }
        for (const line of result.value.lines)
          for (const p of [line.start, line.segments[0]!.to]) expect(Number.isFinite(p.x + p.y)).toBe(true);
        readPattern(result.value, defaultDecisions.reading);
      }),
      { numRuns: 150 },
    );
    expect(refused).toBeGreaterThan(50);
  });

  it('does not depend on the order of the edges or of their ends', () => {
    const sum = (p: Pattern) => p.pieces.map((x) => [x.id, x.faces.length, x.folds.length, x.outline.length]);
    const wanted = sum(read(text));
    const file = JSON.parse(text) as Record<string, unknown[]>;
    const count = file.edges_vertices!.length;
    const order = fc.shuffledSubarray([...Array(count).keys()], { minLength: count });
    fc.assert(
      fc.property(order, fc.array(fc.boolean(), { minLength: count, maxLength: count }), (edges, turned) => {
        const ends = edges.map((e, i) => {
          const pair = file.edges_vertices![e] as number[];
          return turned[i] ? [...pair].reverse() : pair;
        });
        const changed = JSON.stringify({
          file_spec: 1.2,
          frame_unit: 'mm',
          vertices_coords: file.vertices_coords,
          edges_vertices: ends,
          edges_assignment: edges.map((e) => file.edges_assignment![e]),
          faces_vertices: file.faces_vertices,
        });
        expect(sum(read(changed))).toEqual(wanted);
      }),
      { numRuns: 12 },
    );
  });
});

describe('read(write(pattern))', () => {
  it('keeps pieces, faces, folds with direction and areas of generated shells', () => {
    const shells = fc.record({
      seed: fc.integer({ min: 200, max: 260 }),
      net: fc.constantFrom('quads' as const, 'triangles' as const, 'mixed' as const),
      symmetric: fc.boolean(),
    });
    fc.assert(
      fc.property(shells, (options) => {
        const flat = shellPattern(openShell({ ...options, faces: 50, jitter: 0 }), { seed: options.seed });
        const pattern = patternFromTruth(drawPattern(flat, { manner: 'clean' }).truth);
        const written = makeFold(pattern, { seams: [], runs: [], open: [], issues: [] }, null, meta);
        expect(brokenRules(written)).toEqual([]);
        const back = readPattern(drawn(written), { ...defaultDecisions.reading, stripTabs: false });
        const shape = (p: Pattern) =>
          p.pieces
            .map((x) => {
              const roles = x.folds.map((f) => f.role).sort();
              const area = x.faces.reduce((sum, f) => sum + ringArea(f.polygon), 0);
              return `${x.faces.length} ${roles.join()} ${area.toFixed(2)}`;
            })
            .sort();
        expect(shape(back)).toEqual(shape(pattern));
      }),
      { numRuns: 8 },
    );
  });
});

/** A piece as seen from its other side: x mirrored, rings the other way round. */
function turnedOver(piece: Piece): Piece {
  const axis = Math.max(...piece.outline.flatMap((e) => e.points.map((p) => p.x)));
  const low = Math.min(...piece.outline.flatMap((e) => e.points.map((p) => p.x)));
  const flip = (p: { x: number; y: number }) => ({ x: axis + low - p.x, y: p.y });
  const edges = (ring: Piece['outline']) =>
    [...ring].reverse().map((e) => ({ ...e, points: [...e.points].reverse().map(flip) }));
  return {
    ...piece,
    outline: edges(piece.outline),
    folds: piece.folds.map((f) => ({
      ...f,
      points: f.points.map(flip),
      left: f.right,
      right: f.left,
      // Drawn as seen from inside, a mountain shows as a valley.
      role: f.role === 'mountain' ? 'valley' : f.role === 'valley' ? 'mountain' : 'unknown',
    })),
    faces: piece.faces.map((f) => ({
      ...f,
      polygon: [...f.polygon].reverse().map(flip),
      sides: [...f.sides].reverse().map((s) => (s.kind === 'edge' ? s : { ...s, forward: !s.forward })),
    })),
  };
}

it('a piece drawn from inside shows the other side of its angles, and the folded shell is the same', async () => {
  const odd = cube.pieces[0]!;
  const pattern: Pattern = { ...cube, pieces: cube.pieces.map((p) => (p === odd ? turnedOver(p) : p)) };
  const seams: Seams = {
    ...cubeSeams,
    seams: cubeSeams.seams.map((s) => ({
      ...s,
      direction: (s.a.piece === odd.id) !== (s.b.piece === odd.id) ? 'along' : 'opposed',
    })),
  };
  const shell = await foldPattern(pattern, seams);
  expect(shell.quality).toBe('good');
  const written = makeFold(pattern, seams, shell, meta);
  expect(brokenRules(written)).toEqual([]);
  const [flat, folded, glued] = foldFrames(written);
  expect(glued!.edges_assignment).toEqual(Array(12).fill('M'));
  const pieces = flat!['faces_girthwise:piece'] as number[];
  let turned = 0;
  flat!.edges_assignment.forEach((letter, e) => {
    if (letter === 'B') return;
    const own = pieces[flat!.edges_faces[e]![0]!] === 0;
    if (own) turned++;
    expect([letter, Math.round(flat!.edges_foldAngle![e]!)]).toEqual(own ? ['V', 90] : ['M', -90]);
  });
  expect(turned).toBeGreaterThan(0);
  const mates = flat!['edges_girthwise:mate'] as (number | null)[];
  expect(mates.filter((m) => m !== null)).toHaveLength(2 * seams.seams.length);
  mates.forEach((mate, e) => {
    const ends = (edge: number) =>
      flat!.edges_vertices[edge]!.map((v) =>
        folded!.vertices_coords[v]!.map((c) => Math.round(c * 1e3)).join(),
      )
        .sort()
        .join(' ');
    if (mate !== null) expect(ends(mate)).toBe(ends(e));
  });
});
