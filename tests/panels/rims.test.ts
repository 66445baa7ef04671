/** Joins across the rim of a hole inside one face: what fills the hole becomes one panel with what is round it. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { unwatched } from '../../src/base';
import { distance, type Point, point, ringArea } from '../../src/math';
import { isUnseenFold, joinedFoldId, type PanelEdit, type Piece } from '../../src/model';
import { planJoin, proposePanels, recutPattern, tryEdit } from '../../src/panels';
import { foldPattern } from '../../src/shell';
import '../support/lawSeed';
import { boss, clockwise, pattern, plate, type Ring, seamsOf, square } from '../support/plates';

const limits = { bend: 0.66, spread: 0.6, misfit: 1, dart: 12, reach: 350 };

const areaOf = (pieces: readonly Piece[]) =>
  pieces.reduce(
    (sum, p) =>
      sum +
      [p.outline, ...p.holes].reduce((n, loop) => n + ringArea(loop.flatMap((e) => e.points.slice(1))), 0),
    0,
  );

/** A ring turned about the origin and moved. */
const laid = (ring: Ring, turn: number, x: number, y: number): Ring =>
  ring.map((p) =>
    point(x + p.x * Math.cos(turn) - p.y * Math.sin(turn), y + p.x * Math.sin(turn) + p.y * Math.cos(turn)),
  );

/** A plate with a hole and the plug that was cut from it, drawn elsewhere; edge i of the plug was cut along a rim edge. */
function plugged(outline: Ring, hole: Ring, turn: number) {
  const n = hole.length;
  const plug = plate('q', laid(hole, turn, 500, 300));
  const pieces = [plate('p', outline, [clockwise(hole)]), plug];
  const pairs = hole.map((_, i): [string, string] => [`q.${i}`, `ph0.${(2 * n - 2 - i) % n}`]);
  return { pieces, seams: seamsOf(pieces, pairs), lines: pairs.map((p) => p.join('~')) };
}

const joined = (lines: readonly string[]): PanelEdit => ({ kind: 'join', id: 'e1', lines });

describe('a piece sewn to the rim of a hole', () => {
  const flat = plugged(square(0, 0, 100), square(30, 30, 40), 0.7);

  it('fills the hole once it is joined, on the shell as well', async () => {
    const { pieces, seams, lines } = flat;
    const shell = await foldPattern(pattern(pieces), seams);
    const plan = planJoin(pattern(pieces), seams, { edits: [], limits }, lines);
    expect(plan).toMatchObject({ before: 2, after: 1, forced: false, upright: null });
    expect([...plan.close].sort()).toEqual([...lines].sort());
    const proposed = await proposePanels(
      pattern(pieces),
      seams,
      shell,
      { edits: [], limits },
      'joins',
      unwatched,
    );
    expect(proposed.ok && proposed.value.after.panels).toBe(1);
    const cut = recutPattern(pattern(pieces), seams, shell, { edits: [joined(lines)] });
    expect([cut.issues, cut.stuck]).toEqual([[], []]);
    const [panel] = cut.pattern.pieces;
    expect(cut.pattern.pieces.length).toBe(1);
    expect(panel!.holes).toEqual([]);
    expect(panel!.outline.map((e) => e.id).sort()).toEqual(pieces[0]!.outline.map((e) => e.id));
    expect(cut.seams.seams).toEqual([]);
    expect(areaOf(cut.pattern.pieces)).toBeCloseTo(100 * 100, 6);
    // All faces are on the shell, each side as long there as it lies flat; bridges bend nothing and are not printed.
    const faces = panel!.faces.map((f) => f.id);
    expect(new Set(cut.shell!.faces.map((f) => f.face))).toEqual(new Set(faces));
    for (const { flat: ring, vertices } of cut.shell!.faces)
      ring.forEach((p, i) => {
        const j = (i + 1) % ring.length;
        const [a, b] = [cut.shell!.vertices[vertices[i]!]!, cut.shell!.vertices[vertices[j]!]!];
        expect(Math.hypot(a.x - b.x, a.y - b.y, a.z - b.z)).toBeCloseTo(distance(p, ring[j]!), 3);
      });
    const bridges = panel!.folds.filter((f) => !f.id.startsWith('join:'));
    expect(bridges.map((f) => [f.plain, isUnseenFold(f.id), cut.shell!.bends[f.id]])).toEqual([
      [true, true, 0],
      [true, true, 0],
    ]);
  });

  it('leaves what is not joined open: a hole beside it, a rim joined in part', () => {
    const [one, two] = [square(20, 30, 40), square(110, 20, 30)];
    const outline = [point(0, 0), point(170, 0), point(170, 100), point(0, 100)];
    const plugs = [plate('q', laid(one, 1, 400, 0)), plate('r', laid(two, 2, 400, 200))];
    const pieces = [plate('p', outline, [clockwise(one), clockwise(two)]), ...plugs];
    const pairs = [one, two].flatMap((_, k) =>
      [0, 1, 2, 3].map((i): [string, string] => [`${'qr'[k]}.${i}`, `ph${k}.${(6 - i) % 4}`]),
    );
    const lines = pairs.map((p) => p.join('~'));
    const cut = recutPattern(pattern(pieces), seamsOf(pieces, pairs), null, {
      edits: [joined(lines.slice(4, 7))],
    });
    expect(cut.issues).toEqual([]);
    expect(cut.pattern.pieces.map((p) => [p.id, p.holes.length])).toEqual([
      ['p', 2],
      ['q', 0],
    ]);
    // The side that stayed open is a slit of two equal sides.
    expect(areaOf(cut.pattern.pieces)).toBeCloseTo(170 * 100, 6);
    expect(cut.seams.seams.map((s) => s.id).sort()).toEqual([...lines.slice(0, 4), lines[7]!].sort());
  });

  it('says that a boss stands up, before it is joined and after; one wall folds into the hole', () => {
    const one = boss('w', 'ph0', 40, 200);
    const pieces = [plate('p', square(0, 0, 100), [clockwise(square(30, 30, 40))]), ...one.pieces];
    const seams = seamsOf(pieces, one.pairs);
    const rim = one.pairs.filter(([, b]) => b.startsWith('ph0')).map((p) => p.join('~'));
    const wall = recutPattern(pattern(pieces), seams, null, { edits: [joined(rim.slice(0, 1))] });
    expect([wall.issues, wall.pattern.pieces.length]).toEqual([[], pieces.length - 1]);
    const all = recutPattern(pattern(pieces), seams, null, { edits: [joined(rim)] });
    expect(all.stuck).toEqual(['e1']);
    expect(all.issues.map((i) => i.code)).toEqual(['panel-edit-on-rim']);
    expect(all.issues[0]!.message).toContain('stands up');
    expect(all.issues[0]!.remedy).not.toBe('');
    expect(all.pattern.pieces.map((p) => p.id)).toEqual(pieces.map((p) => p.id));
    expect(all.seams.seams.length).toBe(seams.seams.length);
    expect(tryEdit(pattern(pieces), seams, [], joined(rim)).issue).toEqual(all.issues[0]);
    expect(planJoin(pattern(pieces), seams, { edits: [], limits }, rim).upright).toMatchObject({
      overlap: true,
    });
  });

  it('a round plug fills a round hole; a wall round it stands up', () => {
    const arc = (x: number, y: number, from: number, to: number): Point[] =>
      Array.from({ length: 25 }, (_, i) => {
        const a = from + ((to - from) * i) / 24;
        return point(x + 30 * Math.cos(a), y + 30 * Math.sin(a));
      });
    const round = (id: string, x: number, y: number, way: 1 | -1) =>
      [0, way * Math.PI].map((from, k) => ({
        ...{ id: `${id}${k}`, curved: true, points: arc(x, y, from, from + way * Math.PI) },
      }));
    const bare = plate('p', square(0, 0, 120));
    const rim = round('r', 60, 60, -1);
    const lid = round('t', 300, 60, 1);
    const ring = (loop: typeof rim) => loop.flatMap((e) => e.points.slice(1));
    const plug = plate('t', ring(lid));
    const pieces: Piece[] = [
      { ...bare, holes: [rim], faces: [{ ...bare.faces[0]!, holes: [ring(rim)] }] },
      {
        ...plug,
        outline: lid,
        faces: [{ ...plug.faces[0]!, sides: lid.map(({ id }) => ({ kind: 'edge', id, forward: true })) }],
      },
    ];
    const pairs: [string, string][] = [
      ['t0', 'r1'],
      ['t1', 'r0'],
    ];
    const seams = seamsOf(pieces, pairs);
    const cut = recutPattern(pattern(pieces), seams, null, {
      edits: [joined(pairs.map((p) => p.join('~')))],
    });
    expect(cut.issues).toEqual([]);
    expect(cut.pattern.pieces.map((p) => p.holes.length)).toEqual([0]);
    expect(areaOf(cut.pattern.pieces)).toBeCloseTo(120 * 120, 6);
    const strip = (id: string, y: number) =>
      plate(id, [
        point(200, y),
        point(200 + 30 * Math.PI, y),
        point(200 + 30 * Math.PI, y + 10),
        point(200, y + 10),
      ]);
    const walls = [pieces[0]!, strip('v', 200), strip('w', 300)];
    const sewn: [string, string][] = [
      ['v.0', 'r1'],
      ['w.0', 'r0'],
    ];
    const stands = recutPattern(pattern(walls), seamsOf(walls, sewn), null, {
      edits: [joined(sewn.map((p) => p.join('~')))],
    });
    expect(stands.issues.map((i) => i.code)).toEqual(['panel-edit-on-rim']);
    expect(stands.pattern.pieces.length).toBe(3);
  });

  it('law: any plug joined all round makes the plate whole; joined and cut again is the identity', () => {
    fc.assert(
      fc.property(
        fc.array(fc.double({ min: 0.3, max: 1, noNaN: true }), { minLength: 3, maxLength: 9 }),
        fc.double({ min: -3, max: 3, noNaN: true }),
        fc.double({ min: -3, max: 3, noNaN: true }),
        fc.nat({ max: 8 }),
        (radii, start, turn, open) => {
          const hole = radii.map((r, i) => {
            const a = start + (2 * Math.PI * i) / radii.length;
            return point(50 + 45 * r * Math.cos(a), 50 + 45 * r * Math.sin(a));
          });
          const { pieces, seams, lines } = plugged(square(0, 0, 100), hole, turn);
          const drawn = pattern(pieces);
          const whole = recutPattern(drawn, seams, null, { edits: [joined(lines)] });
          expect([whole.issues, whole.pattern.pieces.length]).toEqual([[], 1]);
          expect(whole.pattern.pieces[0]!.holes).toEqual([]);
          expect(areaOf(whole.pattern.pieces)).toBeCloseTo(100 * 100, 5);
          expect(whole.panels[0]!.misfit).toBeLessThan(1e-6);
          const back: PanelEdit = { kind: 'cut', id: 'e2', lines: lines.map(joinedFoldId) };
          const again = recutPattern(drawn, seams, null, { edits: [joined(lines), back] });
          expect([again.pattern === drawn, again.seams === seams, again.issues]).toEqual([true, true, []]);
          // All but one: that one is a slit whose sides are as long as each other.
          const left = lines[open % lines.length]!;
          const part = recutPattern(drawn, seams, null, { edits: [joined(lines.filter((l) => l !== left))] });
          expect([part.issues, part.pattern.pieces.length]).toEqual([[], 1]);
          expect(areaOf(part.pattern.pieces)).toBeCloseTo(100 * 100, 5);
          expect(part.seams.seams.map((s) => s.id)).toEqual([left]);
        },
      ),
      { numRuns: 8 },
    );
  });
});
