import { describe, expect, it } from 'vitest';
import type { Pattern, Piece, Seam, Seams } from '../../src/model';
import { foldPattern } from '../../src/shell';

/** A rectangle as a piece of one face; edges `id.0` (bottom), `.1` (right), `.2` (top), `.3` (left). */
function rectangle(id: string, width: number, height: number, at: number): Piece {
  const ring = [
    { x: at, y: 0 },
    { x: at + width, y: 0 },
    { x: at + width, y: height },
    { x: at, y: height },
  ];
  return {
    id,
    name: id.toUpperCase(),
    outline: ring.map((p, i) => ({ id: `${id}.${i}`, points: [p, ring[(i + 1) % 4]!], curved: false })),
    holes: [],
    folds: [],
    faces: [
      {
        id: `${id}.f`,
        polygon: ring,
        sides: ring.map((_, i) => ({ kind: 'edge' as const, id: `${id}.${i}`, forward: true })),
        holes: [],
      },
    ],
    tabs: [],
  };
}

const pattern = (pieces: readonly Piece[]): Pattern => ({
  size: { kind: 'mm' } as never,
  pieces,
  groups: [],
  roleOfLine: {},
  labels: [],
  unread: [],
  issues: [],
});

const seam = (a: string, b: string, more: Partial<Seam> = {}): Seam => ({
  id: `${a}~${b}`,
  number: 1,
  a: { piece: a[0]!, edge: a },
  b: { piece: b[0]!, edge: b },
  direction: 'opposed',
  evidence: 'person',
  confidence: 1,
  lengthA: 0,
  lengthB: 0,
  ...more,
});

const of = (list: readonly Seam[]): Seams => ({ seams: list, runs: [], open: [], issues: [] });
const degrees = (rad: number) => (rad * 180) / Math.PI;

/** A box 100 × 60 × 40 whose long wall is one rectangle in front and two (30 and 70 wide) behind. */
const pieces = [
  rectangle('b', 100, 60, 0), // bottom, front edge b.0
  rectangle('f', 100, 40, 200), // front wall
  rectangle('r', 60, 40, 400), // right wall
  rectangle('l', 60, 40, 500), // left wall
  rectangle('p', 30, 40, 600), // back wall, next to the right wall
  rectangle('q', 70, 40, 700), // back wall, next to the left wall
];
const walls = [
  seam('f.0', 'b.0'),
  seam('r.0', 'b.1'),
  seam('l.0', 'b.3'),
  seam('p.0', 'b.2', { partB: [0, 30] }),
  seam('q.0', 'b.2', { partB: [30.2, 100] }),
  seam('f.3', 'r.1'),
  seam('r.3', 'p.1'),
  seam('p.3', 'q.1'),
  seam('q.3', 'l.1'),
  seam('l.3', 'f.1'),
];

describe('one long edge against several short ones', () => {
  it('folds to a box whose back wall is in two parts', async () => {
    const shell = await foldPattern(pattern(pieces), of(walls));
    expect(shell.leftOut).toEqual([]);
    expect(shell.quality).toBe('good');
    expect(Object.keys(shell.bends).sort()).toEqual(walls.map((s) => s.id).sort());
    for (const s of walls) expect(degrees(shell.bends[s.id]!)).toBeCloseTo(s.id === 'p.3~q.1' ? 0 : 90, 1);
  });

  it('leaves out a seam on a stretch that is taken already', async () => {
    const shell = await foldPattern(
      pattern([...pieces, rectangle('x', 30, 40, 900)]),
      of([...walls, seam('x.0', 'b.2', { partB: [20, 50], confidence: 0.3 })]),
    );
    expect(shell.leftOut).toEqual(['x.0~b.2']);
  });

  it('leaves the rest of a long edge open', async () => {
    const shell = await foldPattern(pattern([pieces[0]!, pieces[4]!]), of([walls[3]!]));
    expect(shell.leftOut).toEqual([]);
    expect(shell.components.length).toBe(1);
    expect(shell.flexes).toBe(1);
  });
});
