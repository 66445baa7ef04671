/** Lines drawn across faces that bend between curved edges: cut along the rulings that the shell was folded with. */
import fc from 'fast-check';
import { beforeAll, describe, expect, it } from 'vitest';
import { distance, type Point, point, ringArea } from '../../src/math';
import {
  type DrawnEdit,
  drawnBy,
  isUnseenFold,
  type PanelEdit,
  type Piece,
  type Shell,
} from '../../src/model';
import { facePoint, recutPattern, tryEdit } from '../../src/panels';
import { foldPattern, shellSides } from '../../src/shell';
import '../support/lawSeed';
import { pattern, plate, seamsOf } from '../support/plates';

const [inner, outer, angle] = [60, 130, 1.6];

/** A wall of a cone: a sheet between two arcs, in two halves, its straight sides sewn to each other. */
function cone() {
  const arc = (r: number, from: number, to: number): Point[] =>
    Array.from({ length: 17 }, (_, i) => {
      const a = from + ((to - from) * i) / 16;
      return point(r * Math.cos(a), r * Math.sin(a));
    });
  const sheet = (id: string, turn: number): Piece => {
    const low = arc(outer, turn, turn + angle);
    const high = arc(inner, turn + angle, turn);
    const outline = [
      { id: `${id}0`, points: low, curved: true },
      { id: `${id}1`, points: [low.at(-1)!, high[0]!], curved: false },
      { id: `${id}2`, points: high, curved: true },
      { id: `${id}3`, points: [high.at(-1)!, low[0]!], curved: false },
    ];
    const bare = plate(
      id,
      outline.flatMap((e) => e.points.slice(1)),
    );
    const sides = outline.map((e) => ({ kind: 'edge' as const, id: e.id, forward: true }));
    return { ...bare, outline, faces: [{ ...bare.faces[0]!, sides }] };
  };
  const pieces = [sheet('a', 0), sheet('b', 0.3)];
  return {
    drawn: pattern(pieces),
    seams: seamsOf(pieces, [
      ['a1', 'b3'],
      ['a3', 'b1'],
    ]),
  };
}

const { drawn, seams } = cone();
let shell: Shell;
beforeAll(async () => {
  shell = await foldPattern(drawn, seams);
});

const recut = (edits: readonly PanelEdit[]) => recutPattern(drawn, seams, shell, { edits });

/** From a place on the outer arc of the first half to one on the inner arc; both 0 to 1. */
function line(s: number, t: number, more: Partial<DrawnEdit> = {}): DrawnEdit {
  const at = (r: number, part: number) => point(r * Math.cos(part * angle), r * Math.sin(part * angle));
  const ends = [at(outer, s), at(inner, t)].map((p) => facePoint(drawn, recut([]), 'a', p)!);
  return { kind: 'draw', id: 'e1', way: 'across', curved: false, points: ends, ...more };
}

const areaOf = (faces: Shell['faces']) => faces.reduce((sum, f) => sum + Math.abs(ringArea(f.flat)), 0);

/** The most that a side of a face is longer or shorter in space than it lies flat. */
function stretch({ faces, vertices }: Shell): number {
  const worst = faces.flatMap(({ flat, vertices: own }) =>
    flat.map((p, i) => {
      const j = (i + 1) % flat.length;
      const [a, b] = [vertices[own[i]!]!, vertices[own[j]!]!];
      return Math.abs(Math.hypot(a.x - b.x, a.y - b.y, a.z - b.z) - distance(p, flat[j]!));
    }),
  );
  return Math.max(...worst);
}

/** How far an arc of the cone leaves its stretches. */
const bulge = 0.5;

describe('a face that bends between curved edges', () => {
  it('law: a line across it cuts it in two along a seam of equal sides, and the shell stays as it is', () => {
    const part = fc.double({ min: 0.04, max: 0.96, noNaN: true });
    let cuts = 0;
    fc.assert(
      fc.property(part, fc.double({ min: -0.5, max: 0.5, noNaN: true }), (s, askew) => {
        const edit = line(s, Math.max(0.04, Math.min(0.96, s + askew)));
        const cut = recut([edit]);
        if (cut.stuck.length > 0) {
          // Beside a corner nothing would be cut off: said, and nothing is changed.
          expect([cut.issues.map((i) => i.code), cut.pattern]).toEqual([['panel-line-lost'], drawn]);
          return;
        }
        cuts++;
        expect([cut.issues, cut.pattern.pieces.length]).toEqual([[], 3]);
        expect(areaOf(cut.shell!.faces)).toBeCloseTo(areaOf(shell.faces), -1);
        expect(stretch(cut.shell!)).toBeLessThan(stretch(shell) + bulge);
        expect(cut.shell!.vertices.slice(0, shell.vertices.length)).toEqual(shell.vertices);
        // Where it runs along a ruling that is cut.
        const own = cut.seams.seams.filter((x) => x.id.startsWith('cut:'));
        expect(own.length).toBeGreaterThan(0);
        for (const x of own) {
          expect(x.lengthA).toBeCloseTo(x.lengthB, 9);
          expect(x.a.piece).not.toBe(x.b.piece);
        }
        // Numbered as one line, so that both sides are marked alike.
        expect(cut.seams.runs.filter((r) => r.seams.some((x) => x.startsWith('cut:'))).length).toBe(1);
        // The other sides of the seams have the same corners.
        for (const x of cut.seams.seams) expect(Math.abs(x.lengthA - x.lengthB)).toBeLessThan(1e-6);
        const joined: PanelEdit = {
          ...{ kind: 'join', id: 'e2' },
          lines: own.map((x) => x.id.replace(/^cut:/, '')),
        };
        expect(recut([edit, joined]).pattern).toBe(drawn);
      }),
      { numRuns: 5 },
    );
    expect(cuts).toBeGreaterThan(2);
  });

  it('a line along the face crosses every ruling, and its bends come from the shell', () => {
    const at = (part: number) => point(95 * Math.cos(part * angle), 95 * Math.sin(part * angle));
    const points = [0, 0.25, 0.5, 0.75, 1].map((p) => facePoint(drawn, recut([]), 'a', at(p))!);
    const edit: DrawnEdit = { kind: 'draw', id: 'e1', way: 'across', curved: true, points };
    expect(tryEdit(drawn, seams, [], edit)).toEqual({ before: 2, after: 3, issue: null });
    const cut = recut([edit]);
    expect(cut.issues).toEqual([]);
    const strips = shell.faces.filter((f) => f.piece === 'a').length;
    expect(cut.seams.seams.filter((x) => drawnBy(x.id) === 'e1').length).toBe(strips);
    const rulings = cut.pattern.pieces.flatMap((p) => p.folds).filter((f) => f.id.startsWith('ruling:'));
    expect(rulings.length).toBeGreaterThan(2 * (strips - 1) - 1);
    // A cone bends alike at every ruling.
    const bends = rulings.map((f) => cut.shell!.bends[f.id]!);
    expect(Math.min(...bends.map(Math.abs))).toBeGreaterThan(0.05);
    expect(rulings.every((f) => f.plain && isUnseenFold(f.id))).toBe(true);
    const kinds = new Set(
      shellSides(cut.shell!, cut.pattern, cut.seams).flatMap((x) =>
        x.id.startsWith('ruling:') ? [x.kind] : [],
      ),
    );
    expect([...kinds]).toEqual(['ruling']);
  });

  it('a slit in it stays in one panel', () => {
    const cut = recut([{ ...line(0.3, 0.35), way: 'slit' }]);
    expect([cut.issues, cut.pattern.pieces.length]).toEqual([[], 2]);
    for (const x of cut.seams.seams.filter((s) => drawnBy(s.id) === 'e1')) expect(x.a.piece).toBe(x.b.piece);
  });
});
