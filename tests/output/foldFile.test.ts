/** The FOLD file: valid by the published rules, the same shell in numbers, and the same pattern when read back. */
import { beforeAll, describe, expect, it } from 'vitest';
import { readDrawing } from '../../src/drawing';
import { distance, ringArea } from '../../src/math';
import { defaultDecisions, type Pattern, type Seams, type Shell } from '../../src/model';
import { makeFold } from '../../src/output';
import { readPattern } from '../../src/reading';
import { findSeams } from '../../src/seams';
import { foldPattern } from '../../src/shell';
import { seamsOfTruth } from '../foam/truthSeams';
import { brokenRules, foldFrames } from '../support/foldRules';
import {
  bollardPattern,
  drawPattern,
  gannetPattern,
  keelPattern,
  openShell,
  patternFromTruth,
  shellPattern,
  solid,
  type Truth,
} from '../support/harbourWatch';

const meta = { title: 'Test', trustDoubtful: false };

interface Case {
  readonly pattern: Pattern;
  readonly seams: Seams;
  readonly shell: Shell;
  readonly text: string;
}

async function caseOf(flat: Truth): Promise<Case> {
  const { truth } = drawPattern(flat, { manner: 'clean' });
  const pattern = patternFromTruth(truth);
  const seams = seamsOfTruth(truth);
  const shell = await foldPattern(pattern, seams);
  return { pattern, seams, shell, text: makeFold(pattern, seams, shell, meta) };
}

const cases: readonly (readonly [string, () => Truth])[] = [
  ['cube', () => shellPattern(solid('cube'), { maxBend: 3, maxFaces: 6, maxSize: 1000 })],
  ['icosahedron', () => shellPattern(solid('icosahedron'), { maxBend: 3, maxFaces: 4, maxSize: 1000 })],
  [
    'open shell',
    () => shellPattern(openShell({ seed: 4, faces: 60, symmetric: false, net: 'quads', jitter: 0 })),
  ],
  ['Bollard pauldron', bollardPattern],
  ['Keel bracer', keelPattern],
];

const places = (coords: number[][]) => coords.map(([x, y, z]) => ({ x: x!, y: y!, z: z ?? 0 }));
const apart = (p: { x: number; y: number; z: number }, q: { x: number; y: number; z: number }) =>
  Math.hypot(p.x - q.x, p.y - q.y, p.z - q.z);

function readBack(text: string): Pattern {
  const drawing = readDrawing({ name: 'x.fold', svg: text }, { file: 0, size: { kind: 'ask' } });
  if (!drawing.ok) throw new Error(drawing.issues.map((i) => i.message).join(' '));
  expect(drawing.value.issues).toEqual([]);
  return readPattern(drawing.value, { ...defaultDecisions.reading, stripTabs: false });
}

describe.each(cases)('%s as a FOLD file', (_, make) => {
  let made: Case;
  beforeAll(async () => {
    made = await caseOf(make());
  });

  it('keeps the published rules, and twice is the same', () => {
    const { pattern, seams, shell, text } = made;
    expect(brokenRules(text)).toEqual([]);
    expect(makeFold(pattern, seams, shell, meta)).toBe(text);
    expect(brokenRules(makeFold(pattern, seams, null, meta))).toEqual([]);
  });

  it('holds every face, flat and folded alike, and seams that close', () => {
    const { pattern, shell, text } = made;
    const [flat, folded, glued] = foldFrames(text);
    expect(flat!.faces_vertices).toHaveLength(pattern.pieces.reduce((n, p) => n + p.faces.length, 0));
    const [p, q] = [places(flat!.vertices_coords), places(folded!.vertices_coords)];
    // The shell has chords of equal stretches that turn 15° on average, here up to twice that where a free curve is
    // tightest: shorter by 1 − sin(15°)/15° = 1.14 %. Straight lines lose nothing.
    const lines = pattern.pieces.flatMap((x) => [...x.outline, ...x.folds]);
    const chords = lines.some((l) => l.points.length > 2) ? 0.0114 : 0;
    for (const [a, b] of flat!.edges_vertices) {
      const length = apart(p[a]!, p[b]!);
      expect(Math.abs(length - apart(q[a]!, q[b]!))).toBeLessThan(
        shell.residual.max + chords * length + 1e-5,
      );
    }
    const mates = flat!['edges_girthwise:mate'] as (number | null)[];
    expect(mates.some((m) => m !== null)).toBe(true);
    mates.forEach((mate, e) => {
      if (mate === null) return;
      expect(mates[mate]).toBe(e);
      const [a, b] = flat!.edges_vertices[e]!;
      const [c, d] = flat!.edges_vertices[mate]!;
      const straight = apart(q[a]!, q[c]!) + apart(q[b]!, q[d]!);
      const crossed = apart(q[a]!, q[d]!) + apart(q[b]!, q[c]!);
      expect(Math.min(straight, crossed)).toBeLessThan(1e-5);
    });
    expect(glued!.vertices_coords).toHaveLength(shell.vertices.length);
    expect(glued!.faces_vertices).toHaveLength(shell.faces.length);
  });

  it('has the angles of the shell with the sign of the format', () => {
    const { pattern, shell, text } = made;
    const [flat] = foldFrames(text);
    if (shell.quality !== 'good') {
      expect(flat!.edges_foldAngle).toBeUndefined();
      return;
    }
    const places2 = flat!.vertices_coords;
    let checked = 0;
    for (const fold of pattern.pieces.flatMap((p) => p.folds)) {
      const [a, b] = [fold.points[0]!, fold.points.at(-1)!];
      const at = (p: { x: number; y: number }, c: number[]) => distance(p, { x: c[0]!, y: c[1]! }) < 1e-5;
      const e = flat!.edges_vertices.findIndex(([u, v]) => at(a, places2[u]!) && at(b, places2[v]!));
      if (e < 0) continue;
      checked++;
      const bend = shell.bends[fold.id]!;
      // Almost flat against its drawn direction: letter and angle must agree, so the angle is zero.
      const against = fold.role !== 'unknown' && bend > 0 !== (fold.role === 'mountain');
      const wanted = against && !shell.wrongSigns.includes(fold.id) ? 0 : (bend * 180) / Math.PI;
      if (against) expect(Math.abs(bend)).toBeLessThan((3 * Math.PI) / 180);
      expect(-flat!.edges_foldAngle![e]!).toBeCloseTo(wanted, 3);
    }
    expect(checked).toBeGreaterThan(0);
  });

  it('reads back as the same pieces, faces, folds, bends and seams', () => {
    const { pattern, seams, shell, text } = made;
    const back = readBack(text);
    const shape = (p: Pattern) =>
      p.pieces
        .map((x) => [x.faces.length, x.folds.length])
        .sort()
        .join(' ');
    expect(shape(back)).toBe(shape(pattern));
    const wanted = new Map(
      pattern.pieces.flatMap((p) => p.folds).map((f) => [Math.round(1e3 * (shell.bends[f.id] ?? 0)), f]),
    );
    if (shell.quality === 'good')
      for (const fold of back.pieces.flatMap((p) => p.folds))
        if (fold.givenBend !== undefined)
          expect([-1, 0, 1].some((d) => wanted.has(Math.round(1e3 * fold.givenBend!) + d))).toBe(true);
    const again = findSeams(back, defaultDecisions.seams);
    const [flat] = foldFrames(text);
    const pairs = (flat!['edges_girthwise:mate'] as (number | null)[]).filter((m) => m !== null).length / 2;
    expect(pairs).toBeGreaterThanOrEqual(seams.seams.length - shell.leftOut.length);
    expect(again.seams).toHaveLength(pairs);
    expect(again.seams.every((s) => s.evidence === 'number')).toBe(true);
  });
});

describe('what a FOLD file tells of special patterns', () => {
  it('a cube: closed, twelve mountains of 90° when glued', async () => {
    const { text } = await caseOf(cases[0]![1]());
    const glued = foldFrames(text)[2]!;
    expect(glued.edges_assignment).toEqual(Array(12).fill('M'));
    for (const angle of glued.edges_foldAngle!) expect(angle).toBeCloseTo(-90, 4);
  });

  it('a doubtful shell gives no angles to the creases unless it is trusted', async () => {
    const { pattern, seams, shell } = await caseOf(cases[0]![1]());
    const doubtful: Shell = { ...shell, quality: 'doubtful' };
    const [flat, folded] = foldFrames(makeFold(pattern, seams, doubtful, meta));
    expect(flat!.edges_foldAngle).toBeUndefined();
    expect(folded!['girthwise:quality']).toBe('doubtful');
    const [trusted] = foldFrames(makeFold(pattern, seams, doubtful, { ...meta, trustDoubtful: true }));
    expect(trusted!.edges_foldAngle).toBeDefined();
  });

  it('a hole inside a face is joined to its ring', () => {
    const svg = `<svg xmlns="http://www.w3.org/2000/svg" width="100mm" height="100mm" viewBox="0 0 100 100" fill="none" stroke="black" stroke-width=".3"><path d="M10 10H70V80H10Z"/><circle cx="40" cy="40" r="9"/><path d="M25 60H50V70H25Z"/></svg>`;
    const drawing = readDrawing({ name: 'h.svg', svg }, { file: 0, size: { kind: 'ask' } });
    if (!drawing.ok) throw new Error('unreadable');
    const pattern = readPattern(drawing.value, defaultDecisions.reading);
    expect(pattern.pieces.map((p) => p.holes.length)).toEqual([2]);
    const text = makeFold(pattern, { seams: [], runs: [], open: [], issues: [] }, null, meta);
    expect(brokenRules(text)).toEqual([]);
    const [flat] = foldFrames(text);
    expect(flat!.edges_assignment.filter((a) => a === 'J')).toHaveLength(2);
    expect(flat!.frame_attributes).toContain('joins');
    const area = flat!.faces_vertices[0]!.reduce((sum, v, i, ring) => {
      const [p, q] = [flat!.vertices_coords[v]!, flat!.vertices_coords[ring[(i + 1) % ring.length]!]!];
      return sum + (p[0]! * q[1]! - q[0]! * p[1]!) / 2;
    }, 0);
    // The circle as reading flattened it, within 0.02 mm: steps along its corners cut off a little more.
    const holes = pattern.pieces[0]!.holes.map((h) => ringArea(h.flatMap((e) => e.points.slice(0, -1))));
    expect(Math.abs(area - (4200 + holes[0]! + holes[1]!))).toBeLessThan(0.5);
    expect(readBack(text).pieces.map((p) => p.holes.length)).toEqual([2]);
  });

  it('a long edge against two short ones is cut where they meet', async () => {
    const svg = `<svg xmlns="http://www.w3.org/2000/svg" width="200mm" height="100mm" viewBox="0 0 200 100" fill="none" stroke="black" stroke-width=".3"><path d="M10 50H70V80H10Z"/><path d="M80 50H110V80H80Z"/><path d="M120 50H150V80H120Z"/></svg>`;
    const drawing = readDrawing({ name: 't.svg', svg }, { file: 0, size: { kind: 'ask' } });
    if (!drawing.ok) throw new Error('unreadable');
    const pattern = readPattern(drawing.value, defaultDecisions.reading);
    const [long, one, other] = [...pattern.pieces].sort(
      (p, q) => p.outline[0]!.points[0]!.x - q.outline[0]!.points[0]!.x,
    );
    const level = (p: typeof long, y: number) => ({
      piece: p!.id,
      edge: p!.outline.find((e) => e.points.every((q) => Math.abs(q.y - y) < 1e-6))!.id,
    });
    // The long edge runs from right to left along its top; each short one along its bottom.
    const seam = (id: string, b: ReturnType<typeof level>, partA: readonly [number, number]) => ({
      id,
      number: 1,
      a: level(long, -50),
      b,
      partA,
      direction: 'opposed' as const,
      evidence: 'person' as const,
      confidence: 1,
      lengthA: 30,
      lengthB: 30,
    });
    const seams: Seams = {
      seams: [seam('s1', level(one, -80), [30, 60]), seam('s2', level(other, -80), [0, 30])],
      runs: [],
      open: [],
      issues: [],
    };
    const shell = await foldPattern(pattern, seams);
    expect(shell.leftOut).toEqual([]);
    for (const given of [shell, null]) {
      const text = makeFold(pattern, seams, given, meta);
      expect(brokenRules(text)).toEqual([]);
      const [flat] = foldFrames(text);
      expect(flat!.edges_vertices).toHaveLength(13);
      const mates = flat!['edges_girthwise:mate'] as (number | null)[];
      expect(mates.filter((m) => m !== null)).toHaveLength(4);
    }
    const [flat, folded] = foldFrames(makeFold(pattern, seams, shell, meta));
    const mates = flat!['edges_girthwise:mate'] as (number | null)[];
    const q = places(folded!.vertices_coords);
    mates.forEach((mate, e) => {
      if (mate === null) return;
      const [[a, b], [c, d]] = [flat!.edges_vertices[e]!, flat!.edges_vertices[mate]!];
      expect(apart(q[a]!, q[d]!) + apart(q[b]!, q[c]!)).toBeLessThan(1e-5);
    });
  });

  it('a fold that ends inside its face stays', () => {
    const svg = `<svg xmlns="http://www.w3.org/2000/svg" width="100mm" height="100mm" viewBox="0 0 100 100" fill="none" stroke="black" stroke-width=".3"><path d="M10 10H70V80H10Z"/><path id="valley" stroke-dasharray="3 1" d="M10 40H40"/></svg>`;
    const drawing = readDrawing({ name: 'h.svg', svg }, { file: 0, size: { kind: 'ask' } });
    if (!drawing.ok) throw new Error('unreadable');
    const pattern = readPattern(drawing.value, defaultDecisions.reading);
    const folds = pattern.pieces[0]!.folds.length;
    const text = makeFold(pattern, { seams: [], runs: [], open: [], issues: [] }, null, meta);
    expect(brokenRules(text)).toEqual([]);
    expect(foldFrames(text)[0]!.edges_assignment.filter((a) => a !== 'B')).toHaveLength(folds);
  });

  it.each(['clean', 'loose', 'inch', 'plain'] as const)(
    'a pattern read from a %s drawing, with its shell',
    async (manner) => {
      const { svg } = drawPattern(bollardPattern(), {
        manner,
        numbers: 'edges',
        tabs: manner === 'inch',
        seed: 5,
      });
      const size = manner === 'loose' ? { kind: 'perInch' as const, value: 96 } : { kind: 'ask' as const };
      const drawing = readDrawing({ name: 'b.svg', svg }, { file: 0, size });
      if (!drawing.ok) throw new Error('unreadable');
      const pattern = readPattern(drawing.value, defaultDecisions.reading);
      const seams = findSeams(pattern, defaultDecisions.seams);
      expect(seams.seams.length).toBeGreaterThan(10);
      const shell = await foldPattern(pattern, seams);
      const text = makeFold(pattern, seams, shell, { ...meta, trustDoubtful: true });
      expect(brokenRules(text)).toEqual([]);
      const frames = foldFrames(text);
      expect(frames).toHaveLength(3);
      const back = readBack(text);
      expect(back.pieces.map((p) => p.faces.length).sort()).toEqual(
        pattern.pieces.map((p) => p.faces.length).sort(),
      );
      expect(findSeams(back, defaultDecisions.seams).seams.length).toBe(
        seams.seams.length - shell.leftOut.length,
      );
    },
  );

  it('the helm, as drawn and read: valid without a shell', () => {
    const { svg } = drawPattern(gannetPattern(), { manner: 'clean', numbers: 'edges' });
    const drawing = readDrawing({ name: 'g.svg', svg }, { file: 0, size: { kind: 'ask' } });
    if (!drawing.ok) throw new Error('unreadable');
    const pattern = readPattern(drawing.value, defaultDecisions.reading);
    const seams = findSeams(pattern, defaultDecisions.seams);
    const text = makeFold(pattern, seams, null, meta);
    expect(brokenRules(text)).toEqual([]);
    const back = readBack(text);
    expect(back.pieces.map((p) => p.faces.length).sort()).toEqual(
      pattern.pieces.map((p) => p.faces.length).sort(),
    );
    expect(findSeams(back, defaultDecisions.seams).seams).toHaveLength(seams.seams.length);
  });
});
