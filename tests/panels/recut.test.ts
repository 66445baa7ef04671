/** Splitting and joining: what comes out is a pattern like any other, with its seams and shell. */
import { describe, expect, it } from 'vitest';
import { polylineLength, ringArea } from '../../src/math';
import { cutSeamId, joinedFoldId, type Pattern, type Recut } from '../../src/model';
import { recutPattern } from '../../src/panels';
import { glueFaces } from '../../src/shell';
import { bollardPattern, openShell, shellPattern, solid } from '../support/harbourWatch';
import { foldsOf, type Made, madeFrom } from './support';

const bollard = madeFrom(bollardPattern());
const shell160 = madeFrom(
  shellPattern(openShell({ seed: 4, faces: 160, symmetric: false, net: 'mixed', jitter: 0 }), { seed: 4 }),
);
const cube = madeFrom(shellPattern(solid('cube'), { maxBend: 2, maxFaces: 6 }));

const cut = (made: Made, lines: readonly string[]) =>
  recutPattern(made.pattern, made.seams, made.shell, { edits: [{ kind: 'cut', id: 'e1', lines }] });
const area = (pattern: Pattern) =>
  pattern.pieces.reduce(
    (sum, p) =>
      sum +
      [p.outline, ...p.holes].reduce(
        (s, loop) => s + ringArea(loop.flatMap((e) => e.points.slice(0, -1))),
        0,
      ),
    0,
  );
const edgesOf = (pattern: Pattern) =>
  new Map(
    pattern.pieces.flatMap((p) => [...p.outline, ...p.holes.flat()].map((e) => [e.id, { piece: p.id, e }])),
  );

/** What every recut pattern must hold. */
function isSound(made: Made, recut: Recut) {
  const edges = edgesOf(recut.pattern);
  const ids = recut.pattern.pieces.map((p) => p.id);
  expect(new Set(ids).size).toBe(ids.length);
  for (const piece of recut.pattern.pieces) {
    const loop = piece.outline;
    loop.forEach((edge, i) => {
      const next = loop[(i + 1) % loop.length]!.points[0]!;
      const end = edge.points.at(-1)!;
      expect(Math.hypot(end.x - next.x, end.y - next.y)).toBeLessThan(1e-6);
    });
    const sides = piece.faces.flatMap((f) => f.sides);
    for (const fold of piece.folds)
      expect(sides.filter((s) => s.kind === 'fold' && s.id === fold.id).length).toBe(2);
    for (const edge of loop)
      expect(sides.filter((s) => s.kind === 'edge' && s.id === edge.id).length).toBe(1);
  }
  for (const seam of recut.seams.seams)
    for (const side of [seam.a, seam.b]) expect(edges.get(side.edge)?.piece).toBe(side.piece);
  const inRuns = recut.seams.runs.flatMap((r) => r.seams);
  expect([...inRuns].sort()).toEqual(recut.seams.seams.map((s) => s.id).sort());
  expect(new Set(recut.seams.runs.map((r) => r.number)).size).toBe(recut.seams.runs.length);
  // Every face of the shell is still there with its own corners, under its panel.
  const before = new Map(made.shell.faces.map((f) => [f.face, [...f.vertices].sort((a, b) => a - b)]));
  expect(recut.shell!.faces.length).toBe(made.shell.faces.length);
  for (const face of recut.shell!.faces) {
    expect([...face.vertices].sort((a, b) => a - b)).toEqual(before.get(face.face));
    expect(recut.panels.find((p) => p.id === face.piece)?.faces).toContain(face.face);
  }
  // Gluing the panels again gives the rings that the shell has.
  const glued = glueFaces(recut.pattern, recut.seams);
  expect(glued.faces.length).toBe(made.shell.faces.length);
  glued.faces.forEach((f, i) => {
    expect(recut.shell!.faces[i]!.vertices.length).toBe(f.vertices.length);
  });
  expect(glued.leftOut).toEqual([]);
}

it('gives the very objects back without edits, and where edits undo each other', () => {
  const none = recutPattern(bollard.pattern, bollard.seams, bollard.shell, { edits: [] });
  expect(none.pattern).toBe(bollard.pattern);
  expect(none.seams).toBe(bollard.seams);
  expect(none.shell).toBe(bollard.shell);
  const folds = foldsOf(bollard.pattern);
  const back = recutPattern(bollard.pattern, bollard.seams, bollard.shell, {
    edits: [
      { kind: 'cut', id: 'e1', lines: folds },
      { kind: 'join', id: 'e2', lines: folds.map(cutSeamId) },
    ],
  });
  expect(back.pattern).toBe(bollard.pattern);
  expect(back.seams).toBe(bollard.seams);
});

describe.each([
  ['bollard', bollard],
  ['shell of 160', shell160],
  ['cube', cube],
] as const)('split: %s', (_, made) => {
  const folds = foldsOf(made.pattern);

  it('into single faces: area stays, each cut is a seam of two equal sides with the bend of its fold', () => {
    const recut = cut(made, folds);
    isSound(made, recut);
    expect(recut.pattern.pieces.length).toBe(made.shell.faces.length);
    expect(area(recut.pattern)).toBeCloseTo(area(made.pattern), 6);
    const edges = edgesOf(recut.pattern);
    for (const fold of folds) {
      const seam = recut.seams.seams.find((s) => s.id === cutSeamId(fold))!;
      const [a, b] = [edges.get(seam.a.edge)!.e, edges.get(seam.b.edge)!.e];
      expect(polylineLength(a.points)).toBeCloseTo(polylineLength(b.points), 6);
      expect(recut.shell!.bends[seam.id]).toBe(made.shell.bends[fold]);
    }
  });

  it('along every third fold: pieces that no cut touches stay the same objects', () => {
    const some = folds.filter((_, i) => i % 3 === 0);
    const recut = cut(made, some);
    isSound(made, recut);
    const touched = new Set(
      made.pattern.pieces.filter((p) => p.folds.some((f) => some.includes(f.id))).map((p) => p.id),
    );
    for (const piece of made.pattern.pieces)
      if (!touched.has(piece.id)) expect(recut.pattern.pieces).toContain(piece);
    expect(recut.panels.flatMap((p) => p.faces).sort()).toEqual(made.shell.faces.map((f) => f.face).sort());
  });
});

it('joins two faces of a cube across a seam: the seam becomes a fold, the outline one loop', () => {
  const seam = cube.seams.seams.find((s) => s.a.piece !== s.b.piece)!;
  const recut = recutPattern(cube.pattern, cube.seams, cube.shell, {
    edits: [{ kind: 'join', id: 'e1', lines: [seam.id] }],
  });
  isSound(cube, recut);
  expect(recut.pattern.pieces.length).toBe(cube.pattern.pieces.length - 1);
  const joined = recut.pattern.pieces.find((p) => p.folds.some((f) => f.id === joinedFoldId(seam.id)))!;
  expect(joined.holes).toEqual([]);
  expect(recut.shell!.bends[joinedFoldId(seam.id)]).toBe(cube.shell.bends[seam.id]);
  expect(area(recut.pattern)).toBeCloseTo(area(cube.pattern), 6);
  const origin = recut.panels.find((p) => p.id === joined.id)!;
  expect(origin.pieces).toHaveLength(2);
  expect(origin.misfit).toBeLessThan(1e-6);
});

it('a fold that does not reach across becomes a slit: one panel, glued to itself', () => {
  const piece = shell160.pattern.pieces.find((p) =>
    p.folds.some((f) => {
      const ends = [f.points[0]!, f.points.at(-1)!];
      const onOutline = (q: { x: number; y: number }) =>
        p.outline.some((e) => Math.hypot(e.points[0]!.x - q.x, e.points[0]!.y - q.y) < 1e-6);
      return ends.filter(onOutline).length === 1;
    }),
  );
  // Pieces given by makers have no inner corner, so one is made: two fans joined round a corner.
  if (piece) throw new Error('then a slit can be made without joining first');
  const ring = ringOfFaces(shell160);
  const joined = recutPattern(shell160.pattern, shell160.seams, shell160.shell, {
    edits: [{ kind: 'join', id: 'e1', lines: ring.seams }],
  });
  isSound(shell160, joined);
  const slit = recutPattern(shell160.pattern, shell160.seams, shell160.shell, {
    edits: [
      { kind: 'join', id: 'e1', lines: ring.seams },
      { kind: 'cut', id: 'e2', lines: [ring.seams[0]!] },
    ],
  });
  isSound(shell160, slit);
  expect(slit.pattern.pieces.length).toBe(joined.pattern.pieces.length);
  const seam = slit.seams.seams.find((s) => s.id === ring.seams[0])!;
  expect(seam.a.piece).toBe(seam.b.piece);
});

it('an edit whose fold is gone is told with its way out, and the rest still applies', () => {
  const folds = foldsOf(bollard.pattern);
  const recut = recutPattern(bollard.pattern, bollard.seams, bollard.shell, {
    edits: [
      { kind: 'cut', id: 'e1', lines: ['nowhere'] },
      { kind: 'cut', id: 'e2', lines: [folds[0]!] },
    ],
  });
  expect(recut.stuck).toEqual(['e1']);
  expect(recut.issues).toMatchObject([{ code: 'panel-edit-lost', place: { ids: ['e1', 'nowhere'] } }]);
  expect(recut.issues[0]!.remedy).toContain('Take this edit out');
  expect(recut.pattern.pieces.length).toBe(bollard.pattern.pieces.length + 1);
});

it('says so when joined pieces would lie on each other, and keeps seams where no outline would be left', () => {
  const join = (lines: readonly string[]) =>
    recutPattern(cube.pattern, cube.seams, cube.shell, { edits: [{ kind: 'join', id: 'e1', lines }] });
  const seams = cube.seams.seams.map((s) => s.id);
  const closed = join(seams);
  expect(closed.issues.map((i) => i.code)).toEqual(['panel-closed']);
  expect(closed.pattern).toBe(cube.pattern);
  // One seam short of closed: all six faces hang together every way, and no flat sheet holds them so.
  expect(join(seams.slice(1)).issues.map((i) => i.code)).toContain('panel-overlaps');
});

/** Seams round one inner vertex of the shell where at least three pieces meet, all of which can be joined. */
function ringOfFaces(made: Made): { seams: string[] } {
  const glued = glueFaces(made.pattern, made.seams);
  const at = new Map<number, Set<string>>();
  const faces = new Map<number, number>();
  glued.whole.forEach((f) => {
    f.vertices.forEach((v, i) => {
      faces.set(v, (faces.get(v) ?? 0) + 1);
      for (const id of [f.seamIds[i], f.seamIds[(i + f.vertices.length - 1) % f.vertices.length]])
        if (id) at.set(v, (at.get(v) ?? new Set()).add(id));
    });
  });
  for (const [v, seams] of at) {
    const open = glued.whole.some((f) =>
      f.vertices.some((w, i) => {
        const n = f.vertices.length;
        return w === v && (!f.seamIds[i] || !f.seamIds[(i + n - 1) % n]) && isBorder(made, f, i);
      }),
    );
    if (!open && seams.size === 3) return { seams: [...seams] };
  }
  throw new Error('no vertex with three seams');
}

/** Whether a side before or after a corner is an open edge of the pattern. */
function isBorder(
  made: Made,
  face: { sideIds: readonly string[]; seamIds: readonly (string | null)[] },
  i: number,
) {
  const n = face.sideIds.length;
  const folds = new Set(foldsOf(made.pattern));
  return [i, (i + n - 1) % n].some((k) => !face.seamIds[k] && !folds.has(face.sideIds[k]!));
}
