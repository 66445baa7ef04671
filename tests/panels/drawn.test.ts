/** Lines drawn on panels: what they divide, and that the shell stays what it was. */
import { describe, expect, it } from 'vitest';
import { distance, ringArea } from '../../src/math';
import { drawnBy, type PanelEdit, type Pattern, type Recut } from '../../src/model';
import { facePoint, recutPattern, tryEdit } from '../../src/panels';
import { bollardPattern, openShell, shellPattern, solid } from '../support/harbourWatch';
import { lineOver, type Made, madeFrom, withHole } from './support';

const members: Record<string, Made> = {
  bollard: madeFrom(bollardPattern()),
  'shell of 160': madeFrom(
    shellPattern(openShell({ seed: 4, faces: 160, symmetric: false, net: 'mixed', jitter: 0 }), { seed: 4 }),
  ),
  cube: madeFrom(shellPattern(solid('cube'), { maxBend: 2, maxFaces: 6 })),
};

const recut = (made: Made, edits: readonly PanelEdit[]) =>
  recutPattern(made.pattern, made.seams, made.shell, { edits });

const areaOf = (pattern: Pattern) =>
  pattern.pieces.reduce((sum, p) => sum + p.faces.reduce((n, f) => n + ringArea(f.polygon), 0), 0);

/** Every side of every face is as long in space as it is flat, and every flat face is plane. */
function keepsShape(made: Made, cut: Recut) {
  const before = worstStretch(made.shell, made.shell.vertices);
  expect(worstStretch(cut.shell!, cut.shell!.vertices)).toBeLessThan(before + 1e-6);
  expect(cut.shell!.vertices.slice(0, made.shell.vertices.length)).toEqual(made.shell.vertices);
  expect(cut.shell!.vertices.length).toBe(made.shell.vertices.length + cut.added.length);
  for (const mean of cut.added) expect(mean.reduce((n, m) => n + m.weight, 0)).toBeCloseTo(1, 9);
  const area = (shell: NonNullable<Recut['shell']>) =>
    shell.faces.reduce((sum, f) => sum + Math.abs(ringArea(f.flat)), 0);
  expect(area(cut.shell!)).toBeCloseTo(area(made.shell), 3);
}

function worstStretch(shell: NonNullable<Recut['shell']>, places: Made['shell']['vertices']) {
  let worst = 0;
  for (const { flat, vertices } of shell.faces)
    flat.forEach((p, i) => {
      const j = (i + 1) % flat.length;
      const [a, b] = [places[vertices[i]!]!, places[vertices[j]!]!];
      const length = Math.hypot(a.x - b.x, a.y - b.y, a.z - b.z);
      worst = Math.max(worst, Math.abs(length - distance(p, flat[j]!)));
    });
  return worst;
}

describe.each(Object.entries(members))('a line across a panel: %s', (_, made) => {
  it.each([
    ['straight', {}],
    ['bent once', { bulge: 0.15 }],
    ['a curve', { bulge: 0.15, curved: true }],
  ])('%s: one panel more, with a seam of two equal sides, on the same shell', (_name, how) => {
    let cuts = 0;
    made.pattern.pieces.slice(0, 2).forEach((_piece, k) => {
      for (const ends of [
        [0.07, 0.55],
        [0.0, 0.5],
      ] as const) {
        const edit = lineOver(made, [], k, ends, how);
        const cut = recut(made, [edit]);
        if (cut.stuck.length > 0) {
          // Said, and nothing changed.
          expect(cut.issues.map((i) => i.code)).toEqual(['panel-line-lost']);
          expect(cut.pattern).toBe(made.pattern);
          continue;
        }
        cuts++;
        expect(cut.pattern.pieces.length).toBeGreaterThan(made.pattern.pieces.length);
        expect(areaOf(cut.pattern)).toBeCloseTo(areaOf(made.pattern), 4);
        keepsShape(made, cut);
        const own = cut.seams.seams.filter((s) => drawnBy(s.id) === edit.id);
        for (const s of own) {
          expect(s.lengthA).toBeCloseTo(s.lengthB, 9);
          expect(cut.shell!.bends[s.id]).toBe(0);
        }
      }
    });
    expect(cuts).toBe(4);
  });
});

describe('slits and stuck lines', () => {
  const { bollard } = members as { readonly bollard: Made };

  it('a slit stays in one panel, glued to itself along a seam of two equal sides, and opens it there', () => {
    const slit = lineOver(bollard, [], 6, [0.07, 0.55], { way: 'slit', bulge: 0.01 });
    const cut = recut(bollard, [slit]);
    expect(cut.stuck).toEqual([]);
    expect(cut.pattern.pieces.length).toBe(bollard.pattern.pieces.length);
    keepsShape(bollard, cut);
    const own = cut.seams.seams.filter((s) => drawnBy(s.id) === slit.id);
    expect(own.length).toBeGreaterThan(0);
    for (const s of own) {
      expect(s.a.piece).toBe(s.b.piece);
      expect(s.lengthA).toBeCloseTo(s.lengthB, 9);
    }
  });

  it('a line on a face that is gone is told with a way out, and the rest still applies', () => {
    const line = lineOver(bollard, [], 0, [0.07, 0.55]);
    const fold = bollard.pattern.pieces[1]!.folds[0]!.id;
    const lost = { ...line, points: line.points.map((p) => ({ ...p, face: 'nowhere' })) };
    const cut = recut(bollard, [lost, { kind: 'cut', id: 'e2', lines: [fold] }]);
    expect(cut.stuck).toEqual([line.id]);
    expect(cut.issues[0]).toMatchObject({ code: 'panel-line-lost', severity: 'warning' });
    expect(cut.issues[0]!.remedy).not.toBe('');
    expect(cut.pattern).toEqual(recut(bollard, [{ kind: 'cut', id: 'e2', lines: [fold] }]).pattern);
  });

  it('a second line crosses the first, and either can be taken out', () => {
    const first = lineOver(bollard, [], 0, [0.07, 0.55]);
    const second = lineOver(bollard, [first], 0, [0.2, 0.7]);
    const both = recut(bollard, [first, second]);
    expect(both.stuck).toEqual([]);
    expect(both.pattern.pieces.length).toBeGreaterThan(recut(bollard, [first]).pattern.pieces.length);
    keepsShape(bollard, both);
    const alone = recut(bollard, [second]);
    expect(alone.stuck).toEqual([]);
    keepsShape(bollard, alone);
  });

  it('works without a shell', () => {
    const line = lineOver(bollard, [], 0, [0.07, 0.55]);
    const flat = recutPattern(bollard.pattern, bollard.seams, null, { edits: [line] });
    expect(flat.pattern).toEqual(recut(bollard, [line]).pattern);
  });
});

describe('faces with holes, and what a line would do', () => {
  const cube = withHole(members.cube!, 0, 0.3);
  const face = cube.pattern.pieces[0]!.faces.find((f) => f.holes.length > 0)!;
  const hole = face.holes[0]!;
  const sameCount = (edits: readonly PanelEdit[]) => recut(cube, edits).pattern.pieces.length;
  /** From one side of the holed face to the opposite one, `t` of the way along both. */
  const across = (t: number): PanelEdit => {
    const ring = face.polygon;
    const on = (i: number, u: number) => {
      const [a, b] = [ring[i]!, ring[(i + 1) % 4]!];
      return { x: a.x + (b.x - a.x) * u, y: a.y + (b.y - a.y) * u };
    };
    const now = recut(cube, []);
    const points = [on(0, t), on(2, 1 - t)].map(
      (p) => facePoint(cube.pattern, now, cube.pattern.pieces[0]!.id, p)!,
    );
    return { kind: 'draw', id: 'e1', way: 'across', curved: false, points };
  };

  it('a line through a hole parts its rim, one beside it leaves it whole', () => {
    const through = recut(cube, [across(0.5)]);
    expect(through.issues).toEqual([]);
    expect(areaOf(through.pattern)).toBeCloseTo(areaOf(cube.pattern) - Math.abs(ringArea(hole)), 6);
    expect(through.pattern.pieces.flatMap((p) => p.holes)).toEqual([]);
    const beside = recut(cube, [across(0.1)]);
    expect(beside.issues).toEqual([]);
    expect(beside.pattern.pieces.flatMap((p) => p.holes).length).toBe(1);
    const [split] = through.seams.seams.filter((s) => drawnBy(s.id) === 'e1');
    expect(split!.lengthA).toBeCloseTo(split!.lengthB, 9);
    keepsShape(cube, beside);
  });

  it('is told before it is cut: panels before and after, or why not', () => {
    const edit = across(0.5);
    const tried = tryEdit(cube.pattern, cube.seams, [], edit);
    expect(tried).toEqual({ before: cube.pattern.pieces.length, after: sameCount([edit]), issue: null });
    expect(tried.after).toBeGreaterThan(tried.before);
    const lost = {
      ...edit,
      points: [
        { face: 'nowhere', x: 0, y: 0 },
        { face: 'nowhere', x: 1, y: 1 },
      ],
    } as PanelEdit;
    expect(tryEdit(cube.pattern, cube.seams, [], lost)).toMatchObject({
      after: cube.pattern.pieces.length,
      issue: { code: 'panel-line-lost' },
    });
  });
});
