/** One half of a shell and its mirror image: pieces, seams, the rim, and the shell of the whole. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { unwatched } from '../../src/base';
import { distance, polylineLength, ringArea } from '../../src/math';
import { defaultDecisions, nothingKnown, type Pattern, type SeamDecisions } from '../../src/model';
import {
  completeHalf,
  halfDecisions,
  isMirrorId,
  mirrorId,
  mirrorPiece,
  proposeRim,
  withMirrorImage,
} from '../../src/panels';
import { seamIdOf } from '../../src/seams';
import { foldPattern } from '../../src/shell';
import '../support/lawSeed';
import { bollardPattern, openShell, shellPattern } from '../support/harbourWatch';
import { type Made, madeFrom } from './support';

const full = openShell({ seed: 5, faces: 90, symmetric: true, net: 'mixed', jitter: 0 });
const used = full.faces.filter((f) => f.every((v) => full.vertices[v]!.x >= -1e-9));
const half = madeFrom(shellPattern({ ...full, name: 'half', faces: used }, { seed: 2 }));

/** Edges with both ends in the mirror plane. */
function rimOf({ pattern, shell }: Made): string[] {
  const at = new Map<string, number>();
  for (const face of shell.faces)
    face.flat.forEach((p, i) => {
      at.set(`${face.piece} ${p.x.toFixed(6)} ${p.y.toFixed(6)}`, face.vertices[i]!);
    });
  return pattern.pieces.flatMap((piece) =>
    piece.outline.flatMap((e) => {
      const ends = [e.points[0]!, e.points.at(-1)!].map(
        (p) => shell.vertices[at.get(`${piece.id} ${p.x.toFixed(6)} ${p.y.toFixed(6)}`)!]!,
      );
      return ends.every((p) => Math.abs(p.x) < 1e-6) ? [e.id] : [];
    }),
  );
}

const rim = rimOf(half);
const decisions: SeamDecisions = { ...defaultDecisions.seams, half: { rim } };
const whole = withMirrorImage(half.pattern);

describe('a half pattern', () => {
  it('proposes the rim that lies in the mirror plane, and no other edge', () => {
    expect(rim.length).toBeGreaterThan(4);
    const found = proposeRim(half.shell, half.pattern, half.seams)!;
    expect([...found.edges].sort()).toEqual([...rim].sort());
    expect(found.off).toBeLessThan(1e-6);
  });

  it('has every piece and seam twice, and a seam along the middle, with equal sides everywhere', () => {
    expect(whole.pieces.slice(0, half.pattern.pieces.length)).toEqual(half.pattern.pieces);
    const seams = completeHalf(whole, half.seams, decisions, seamIdOf);
    expect(seams.seams.length).toBe(2 * half.seams.seams.length + rim.length);
    expect(new Set(seams.seams.map((s) => s.id)).size).toBe(seams.seams.length);
    expect(new Set(seams.runs.map((r) => r.number)).size).toBe(seams.runs.length);
    expect(seams.runs.flatMap((r) => r.seams).sort()).toEqual(seams.seams.map((s) => s.id).sort());
    const lengths = new Map(
      whole.pieces.flatMap((p) => p.outline.map((e) => [e.id, polylineLength(e.points)])),
    );
    for (const s of seams.seams) expect(lengths.get(s.a.edge)).toBeCloseTo(lengths.get(s.b.edge)!, 6);
    const middle = seams.seams.filter((s) => isMirrorId(s.a.edge) !== isMirrorId(s.b.edge));
    expect(middle.map((s) => s.a.edge).sort()).toEqual([...rim].sort());
  });

  it('folds up as one symmetric shell as wide as the whole it is half of', async () => {
    const seams = completeHalf(whole, half.seams, decisions, seamIdOf);
    const shell = await foldPattern(whole, seams, nothingKnown, unwatched);
    expect(shell.components.length).toBe(1);
    expect(shell.symmetry).not.toBeNull();
    expect(shell.quality).toBe('good');
    const extent = (all: readonly { x: number; y: number; z: number }[], pick: 'x' | 'y' | 'z') =>
      Math.max(...all.map((p) => p[pick])) - Math.min(...all.map((p) => p[pick]));
    const wanted = (['x', 'y', 'z'] as const).map((k) => extent(full.vertices, k)).sort((a, b) => a - b);
    const got = (['x', 'y', 'z'] as const).map((k) => extent(shell.vertices, k)).sort((a, b) => a - b);
    wanted.forEach((w, i) => {
      expect(Math.abs(got[i]! - w)).toBeLessThan(0.03 * w);
    });
  });

  it('takes what is decided about an image as decided about the half, and pairs made across the middle as they are', () => {
    const [p, q] = [half.seams.seams[0]!, half.seams.seams[1]!];
    const id = seamIdOf(mirrorId(p.a.edge), mirrorId(p.b.edge));
    const own = halfDecisions(
      {
        ...decisions,
        rejected: [id],
        borders: [mirrorId(q.a.edge)],
        made: [{ a: mirrorId(p.a.edge), b: mirrorId(p.b.edge), direction: 'opposed', partA: [0.1, 0.4] }],
      },
      seamIdOf,
    );
    expect(own.rejected).toContain(seamIdOf(p.a.edge, p.b.edge));
    expect(own.borders).toEqual(expect.arrayContaining([q.a.edge, ...rim]));
    expect(own.made).toEqual([{ a: p.a.edge, b: p.b.edge, direction: 'opposed', partA: [0.6, 0.9] }]);
    const open = { ...half.seams, seams: half.seams.seams.slice(1), runs: half.seams.runs.slice(1) };
    const across = { a: p.a.edge, b: mirrorId(p.b.edge), direction: 'opposed' as const };
    const seams = completeHalf(whole, open, { ...decisions, made: [across] }, seamIdOf);
    expect(seams.seams.map((s) => s.id)).toContain(seamIdOf(across.a, across.b));
    const without = completeHalf(
      whole,
      open,
      { ...decisions, rejected: [seamIdOf(rim[0]!, mirrorId(rim[0]!))] },
      seamIdOf,
    );
    expect(without.seams.some((s) => s.a.edge === rim[0])).toBe(false);
  });
});

describe('turning over', () => {
  const patterns: readonly Pattern[] = [half.pattern, madeFrom(bollardPattern()).pattern];
  it('twice is the piece itself; once keeps areas, lengths and what lies left of every side', () => {
    fc.assert(
      fc.property(
        fc.constantFrom(...patterns),
        fc.nat(),
        fc.integer({ min: -500, max: 500 }),
        (pattern, k, line) => {
          const piece = pattern.pieces[k % pattern.pieces.length]!;
          const over = (p: { x: number; y: number }) => ({ x: 2 * line - p.x, y: p.y });
          const image = mirrorPiece(piece, over);
          expect(image.faces.reduce((n, f) => n + ringArea(f.polygon), 0)).toBeCloseTo(
            piece.faces.reduce((n, f) => n + ringArea(f.polygon), 0),
            6,
          );
          const lines = new Map([...image.outline, ...image.folds].map((l) => [l.id, l.points]));
          for (const face of image.faces) {
            const ring = face.sides.flatMap(({ id, forward }) => {
              const points = lines.get(id)!;
              return (forward ? points : [...points].reverse()).slice(0, -1);
            });
            expect(ring.length).toBe(face.polygon.length);
            for (const [i, p] of ring.entries()) expect(distance(p, face.polygon[i]!)).toBeLessThan(1e-9);
          }
          const twice = mirrorPiece(image, over);
          expect(twice.id).toBe(piece.id);
          expect(twice.name).toBe(piece.name);
          const flat = (p: typeof piece) =>
            [...p.outline, ...p.folds].flatMap((l) => l.points.flatMap((q) => [q.x, q.y]));
          flat(twice).forEach((x, i) => {
            expect(x).toBeCloseTo(flat(piece)[i]!, 9);
          });
          expect(twice.faces.map((f) => f.sides)).toEqual(piece.faces.map((f) => f.sides));
        },
      ),
      { numRuns: 20 },
    );
  });
});
