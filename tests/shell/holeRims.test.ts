import { describe, expect, it } from 'vitest';
import { point } from '../../src/math';
import type { Edge, Piece } from '../../src/model';
import { recutPattern } from '../../src/panels';
import { foldPattern, shellSides, volumeOf } from '../../src/shell';
import { cutRoundHole } from '../../src/shell/holeFaces';
import { boss, clockwise, pattern, plate, type Ring, seamsOf, square } from '../support/plates';

const degrees = (rad: number) => (rad * 180) / Math.PI;

describe('a seam on the rim of a hole inside one face', () => {
  it('folds a boss onto a plate: right angles all round, in at the rim and out at the lid', async () => {
    const one = boss('w', 'ph0', 40, 200);
    const pieces = [plate('p', square(0, 0, 100), [clockwise(square(30, 30, 40))]), ...one.pieces];
    const seams = seamsOf(pieces, one.pairs);
    const shell = await foldPattern(pattern(pieces), seams);
    expect(shell.leftOut).toEqual([]);
    expect(shell.issues.map((i) => i.code)).toEqual([]);
    expect(shell.quality).toBe('good');
    expect(shell.components.length).toBe(1);
    expect(shell.components[0]!.openings).toBe(1);
    expect(shell.vertices.length).toBe(12);
    expect(Object.keys(shell.bends).sort()).toEqual(seams.seams.map((s) => s.id).sort());
    for (const [a, b] of one.pairs) {
      const bend = degrees(shell.bends[`${a}~${b}`]!) * Math.sign(shell.bends[one.pairs[1]!.join('~')]!);
      expect(bend).toBeCloseTo(b.startsWith('ph0') ? -90 : 90, 3);
    }
    // The plate is in one plane, 40 mm from the lid, and nothing is seen along the bridges.
    const cornersOf = (piece: string) =>
      shell.faces.filter((f) => f.piece === piece).flatMap((f) => f.vertices.map((v) => shell.vertices[v]!));
    const [o, x, y] = cornersOf('wt') as [Corner, Corner, Corner];
    const apart = cornersOf('p').map((c) => Math.abs(distanceToPlane(c, o, x, y)));
    expect(apart.length).toBe(12);
    for (const d of apart) expect(d).toBeCloseTo(40, 4);
    const kinds = shellSides(shell, pattern(pieces), seams).map((s) => s.kind);
    expect(kinds.filter((k) => k === 'ruling').length).toBe(4);
    expect(kinds.filter((k) => k === 'seam').length).toBe(2 * one.pairs.length);
    expect(kinds.filter((k) => k === 'open').length).toBe(4);
  });

  it('keeps rim and seams when panels are joined', async () => {
    const one = boss('w', 'ph0', 40, 200);
    const pieces = [plate('p', square(0, 0, 100), [clockwise(square(30, 30, 40))]), ...one.pieces];
    const seams = seamsOf(pieces, one.pairs);
    const shell = await foldPattern(pattern(pieces), seams);
    const join = (pair: readonly string[]) =>
      recutPattern(pattern(pieces), seams, shell, {
        edits: [{ kind: 'join', id: 'e1', lines: [pair.join('~')] }],
      });
    const lid = join(one.pairs[2]!);
    expect(lid.issues).toEqual([]);
    expect(lid.pattern.pieces.length).toBe(pieces.length - 1);
    expect(lid.pattern.pieces.find((p) => p.id === 'p')!.holes.length).toBe(1);
    expect(lid.seams.seams.length).toBe(seams.seams.length - 1);
    expect(lid.shell!.faces.length).toBe(shell.faces.length);
  });

  it('takes two holes of one face', async () => {
    const [one, two] = [boss('w', 'ph0', 40, 400), boss('v', 'ph1', 30, 800)];
    const holes = [clockwise(square(20, 30, 40)), clockwise(square(110, 20, 30))];
    const outline = [point(0, 0), point(170, 0), point(170, 100), point(0, 100)];
    const pieces = [plate('p', outline, holes), ...one.pieces, ...two.pieces];
    const pairs = [...one.pairs, ...two.pairs];
    const shell = await foldPattern(pattern(pieces), seamsOf(pieces, pairs));
    expect(shell.leftOut).toEqual([]);
    expect(shell.components.length).toBe(1);
    expect(shell.residual.max).toBeLessThan(1e-3);
    expect(shell.faces.filter((f) => f.piece === 'p').map((f) => f.part)).toEqual([0, 1, 2]);
    for (const [a, b] of pairs) expect(Math.abs(degrees(shell.bends[`${a}~${b}`]!))).toBeCloseTo(90, 2);
  });

  it('closes a box that has a boss: its volume is that of both', async () => {
    const one = boss('w', 'ph0', 40, 200);
    const sides = [0, 1, 2, 3].map((i) => plate(`s${i}`, square(200 + 120 * i, 700, 100)));
    const pieces = [
      plate('p', square(0, 0, 100), [clockwise(square(30, 30, 40))]),
      plate('u', square(0, 700, 100)),
      ...sides,
      ...one.pieces,
    ];
    // Walls hang below the plate: their edge 0 at its outline, edge 2 at the underside.
    const pairs = [0, 1, 2, 3].flatMap((i): [string, string][] => [
      [`s${i}.0`, `p.${i}`],
      [`s${i}.1`, `s${(i + 3) % 4}.3`],
      [`s${i}.2`, `u.${(4 - i) % 4}`],
    ]);
    const shell = await foldPattern(pattern(pieces), seamsOf(pieces, [...one.pairs, ...pairs]));
    expect(shell.leftOut).toEqual([]);
    expect(shell.components[0]!.openings).toBe(0);
    expect(shell.residual.max).toBeLessThan(1e-3);
    // Whether the boss stands out or in is not in the lengths.
    const out = shell.bends[one.pairs[1]!.join('~')]! > 0 ? 1 : -1;
    for (const [id, bend] of Object.entries(shell.bends))
      expect(degrees(bend)).toBeCloseTo(/^w/.test(id) ? (id.includes('ph0') ? -90 : 90) * out : 90, 2);
    expect(Math.abs(volumeOf(shell)) / 1000).toBeCloseTo(1000 + 64 * out, 1);
  });

  it('stands a round boss on a plate', async () => {
    const [radius, height] = [30, 40];
    const arc = (cx: number, cy: number, from: number, to: number): Ring =>
      Array.from({ length: 25 }, (_, i) => {
        const a = from + ((to - from) * i) / 24;
        return point(cx + radius * Math.cos(a), cy + radius * Math.sin(a));
      });
    const curve = (id: string, points: Ring): Edge => ({ id, points, curved: true });
    const bare = plate('p', square(0, 0, 120));
    const rim = [curve('r0', arc(60, 60, 2 * Math.PI, Math.PI)), curve('r1', arc(60, 60, Math.PI, 0))];
    const hole = rim.flatMap((e) => e.points.slice(1));
    const faces = [{ ...bare.faces[0]!, holes: [hole] }];
    const lidEdges = [curve('t0', arc(60, 400, 0, Math.PI)), curve('t1', arc(60, 400, Math.PI, 2 * Math.PI))];
    const lid: Piece = {
      ...plate('t', square(0, 340, 120)),
      outline: lidEdges,
      faces: [
        {
          id: 't.f',
          polygon: lidEdges.flatMap((e) => e.points.slice(1)),
          sides: lidEdges.map((e) => ({ kind: 'edge' as const, id: e.id, forward: true })),
          holes: [],
        },
      ],
    };
    const length = Math.PI * radius;
    const wall = (id: string, y: number) =>
      plate(id, [point(0, y), point(length, y), point(length, y + height), point(0, y + height)]);
    const pieces = [{ ...bare, holes: [rim], faces }, lid, wall('w', 600), wall('v', 700)];
    const seams = seamsOf(pieces, [
      ['w.0', 'r1'],
      ['v.0', 'r0'],
      ['w.1', 'v.3'],
      ['v.1', 'w.3'],
      ['w.2', 't0'],
      ['v.2', 't1'],
    ]);
    const shell = await foldPattern(pattern(pieces), seams);
    expect(shell.leftOut).toEqual([]);
    expect(shell.components.length).toBe(1);
    expect(shell.components[0]!.openings).toBe(1);
    // A chord of the rim is 0.022 mm shorter than the stretch of the straight wall that is sewn to it.
    expect(shell.residual.max).toBeLessThan(0.02);
    const out = Math.sign(shell.bends['w.2~t0']!);
    for (const id of ['w.2~t0', 'v.2~t1']) expect(degrees(shell.bends[id]!) * out).toBeCloseTo(90, 0);
    for (const id of ['w.0~r1', 'v.0~r0']) expect(degrees(shell.bends[id]!) * out).toBeCloseTo(-90, -1);
    // The wall is as high as it is drawn, all round the lid.
    const lidPlane = shell.faces
      .filter((f) => f.piece === 't')
      .flatMap((f) => f.vertices.map((v) => shell.vertices[v]!));
    const rimCorners = shell.faces
      .filter((f) => f.piece === 'w' || f.piece === 'v')
      .flatMap((f) => f.vertices.map((v) => shell.vertices[v]!));
    const apart = rimCorners.map((c) =>
      Math.abs(distanceToPlane(c, lidPlane[0]!, lidPlane[8]!, lidPlane[16]!)),
    );
    expect(Math.max(...apart)).toBeCloseTo(height, 1);
  });

  it('counts the free motions of a plate with a boss', async () => {
    const one = boss('w', 'ph0', 40, 200);
    const pieces = [plate('p', square(0, 0, 100), [clockwise(square(30, 30, 40))]), ...one.pieces];
    const alone = await foldPattern(pattern(pieces), seamsOf(pieces, one.pairs));
    expect(alone.flexes).toBe(0);
    // A flap on one side of the plate turns about it: one motion, with the boss and without.
    const flap = plate('q', square(0, 900, 100));
    const hinged = seamsOf([...pieces, flap], [...one.pairs, ['p.0', 'q.2']]);
    expect((await foldPattern(pattern([...pieces, flap]), hinged)).flexes).toBe(1);
  });

  it('leaves a hole without seams as it is', async () => {
    const shell = await foldPattern(
      pattern([plate('p', square(0, 0, 100), [clockwise(square(30, 30, 40))])]),
      seamsOf([], []),
    );
    expect(shell.faces.length).toBe(1);
    expect(shell.vertices.length).toBe(4);
  });
});

describe('bridges between a hole and the ring round it', () => {
  it('cross neither another hole nor each other, and do not lie on one line', () => {
    const [outer, hole, other] = [
      square(0, 0, 100),
      clockwise(square(10, 40, 20)),
      clockwise(square(40, 5, 50)),
    ];
    const cut = cutRoundHole(outer, hole, [other])!;
    const ends = ([0, 1] as const).map((k) => [outer[cut.outer[k]]!, hole[cut.hole[k]]!] as const);
    for (const [p, q] of ends)
      for (let t = 0.01; t < 1; t += 0.01) {
        const at = point(p.x + (q.x - p.x) * t, p.y + (q.y - p.y) * t);
        const inOther = at.x > 40 && at.x < 90 && at.y > 5 && at.y < 55;
        const inHole = at.x > 10 && at.x < 30 && at.y > 40 && at.y < 60;
        expect(inOther || inHole).toBe(false);
      }
    expect(cut.outer[0]).not.toBe(cut.outer[1]);
    expect(cut.hole[0]).not.toBe(cut.hole[1]);
  });

  it('are not laid where another ring lies between', () => {
    expect(cutRoundHole(square(0, 0, 100), clockwise(square(40, 40, 20)), [square(30, 30, 40)])).toBeNull();
  });
});

interface Corner {
  readonly x: number;
  readonly y: number;
  readonly z: number;
}

function distanceToPlane(p: Corner, o: Corner, a: Corner, b: Corner): number {
  const [ux, uy, uz] = [a.x - o.x, a.y - o.y, a.z - o.z];
  const [vx, vy, vz] = [b.x - o.x, b.y - o.y, b.z - o.z];
  const [nx, ny, nz] = [uy * vz - uz * vy, uz * vx - ux * vz, ux * vy - uy * vx];
  return ((p.x - o.x) * nx + (p.y - o.y) * ny + (p.z - o.z) * nz) / Math.hypot(nx, ny, nz);
}
