/** Plates with holes and what is sewn to their rims, as patterns made by hand. */
import { type Point, point } from '../../src/math';
import type { Edge, Pattern, Piece, Seam, Seams } from '../../src/model';

export type Ring = readonly Point[];

export const square = (x: number, y: number, size: number): Ring => [
  point(x, y),
  point(x + size, y),
  point(x + size, y + size),
  point(x, y + size),
];
export const clockwise = (ring: Ring): Ring => [...ring].reverse();

export const edgesOf = (id: string, ring: Ring): Edge[] =>
  ring.map((p, i) => ({ id: `${id}.${i}`, points: [p, ring[(i + 1) % ring.length]!], curved: false }));

/** A piece of one face; edges `id.0` … round the outline, `idh0.0` … round its first hole. */
export function plate(id: string, outline: Ring, holes: readonly Ring[] = []): Piece {
  return {
    id,
    name: id.toUpperCase(),
    outline: edgesOf(id, outline),
    holes: holes.map((hole, h) => edgesOf(`${id}h${h}`, hole)),
    folds: [],
    faces: [
      {
        id: `${id}.f`,
        polygon: outline,
        sides: outline.map((_, i) => ({ kind: 'edge' as const, id: `${id}.${i}`, forward: true })),
        holes,
      },
    ],
    tabs: [],
  };
}

export const pattern = (pieces: readonly Piece[]): Pattern => ({
  size: { kind: 'mm' } as never,
  pieces,
  groups: [],
  roleOfLine: {},
  labels: [],
  unread: [],
  issues: [],
});

export function seamsOf(pieces: readonly Piece[], pairs: readonly (readonly [string, string])[]): Seams {
  const pieceOf = new Map(
    pieces.flatMap((p) => [...p.outline, ...p.holes.flat()].map((e) => [e.id, p.id] as const)),
  );
  const seams = pairs.map(
    ([a, b], i): Seam => ({
      id: `${a}~${b}`,
      number: i + 1,
      a: { piece: pieceOf.get(a)!, edge: a },
      b: { piece: pieceOf.get(b)!, edge: b },
      direction: 'opposed',
      evidence: 'person',
      confidence: 1,
      lengthA: 0,
      lengthB: 0,
    }),
  );
  return { seams, runs: [], open: [], issues: [] };
}

/** Four walls and a lid on the rim of a hole; a wall's edge 0 stands on the rim, edge 2 is under the lid. */
export function boss(name: string, rim: string, size: number, at: number) {
  const wall = (i: number) => `${name}${i}`;
  return {
    pieces: [
      ...[0, 1, 2, 3].map((i) => plate(wall(i), square(at + 60 * i, 300, size))),
      plate(`${name}t`, square(at, 500, size)),
    ],
    // The rim runs clockwise: its next edge is at a wall's start.
    pairs: [0, 1, 2, 3].flatMap((i): [string, string][] => [
      [`${wall(i)}.0`, `${rim}.${i}`],
      [`${wall(i)}.3`, `${wall((i + 1) % 4)}.1`],
      [`${wall(i)}.2`, `${name}t.${(4 - i) % 4}`],
    ]),
  };
}
